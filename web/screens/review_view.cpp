#include "web/screens/review_view.hpp"

#include "core/rehearse/review_words.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/bars.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

ReviewView::ReviewView(const desk::Desk& desk)
    : TeachView({.id = "review",
                 .title = "Review of sessions",
                 .files = "log files",
                 .reading = "Reading logs",
                 .intro = "Any number of exported logs. They hold no identity, and the names of the files are not kept."},
                [this](std::string_view text) { return review_.add_file(text); }),
      desk_(desk) {}

std::optional<sheet::Document> ReviewView::document() const {
    if (!any())
        return std::nullopt;
    return review_sheet(review_, floor_, files().left_out());
}

void ReviewView::forget() {
    files().clear();
    review_ = Review();
    here_ = 0;
    group_ = -1;
    told_sessions_ = -1;
    message_.clear();
}

void ReviewView::save() { platform::save_file("review.csv", review_csv(review_, floor_), "text/csv"); }

void ReviewView::tell() {
    // While much is read, now and then is enough.
    if (told_sessions_ == review_.sessions() || (files().busy() && review_.sessions() - told_sessions_ < 500 && told_sessions_ > 0))
        return;
    told_ = told_of(review_, floor_);
    told_sessions_ = review_.sessions();
    if (group_ >= static_cast<int>(told_.groups.size()))
        group_ = -1;
}

const ToldGroup& ReviewView::shown() const {
    if (told_.groups.size() == 1)
        return told_.groups[0];
    return group_ < 0 ? told_.all : told_.groups[static_cast<std::size_t>(group_)];
}

void ReviewView::add_sessions_here() {
    int damaged = 0;
    for (const auto& c : desk_.cases()) {
        if (c->read_only() || c->log.empty())
            ++damaged;
        else if (review_.add(c->log))
            ++here_;
    }
    message_ = joined({std::to_string(here_), here_ == 1 ? " session" : " sessions", " of this machine counted",
                       damaged > 0 ? joined({"; ", std::to_string(damaged), " cannot be read"}) : std::string(), "."});
}

float ReviewView::other_source(Ui& ui, Box box) {
    const auto count = desk_.cases().size();
    const std::string here = joined({"The sessions of this machine (", std::to_string(count), ")"});
    if (ui::button(ui, "review.here", box.cut_top(ui.px(ui::row_px)), here, ui::Look::plain, count > 0 && here_ == 0))
        add_sessions_here();
    return ui.px(ui::row_px + ui::gap_px);
}

float ReviewView::told(Ui& ui, Box box) {
    return message_.empty() ? 0 : ui::paragraph(ui, "review.message", box, message_, Face::small) + ui.px(ui::gap_px);
}

float ReviewView::parts(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    tell();
    ui::subheading(ui, "review.floor", box.cut_top(ui.line_height(Face::small), ui.px(4)), "Counts below this are not told");
    const Box row = box.cut_top(ui.px(ui::row_px), gap);
    constexpr std::int32_t floors[] = {5, 10, 20};
    for (int i = 0; i < 3; ++i) {
        const std::string label = std::to_string(floors[i]);
        if (ui::choice(ui, ui.id("review.floor.", floors[i]), row.cell(3, 1, i, 0, gap), label, floor_ == floors[i])) {
            floor_ = floors[i];
            told_sessions_ = -1;
        }
    }
    tell();
    if (told_.groups.size() < 2)
        return box.y - top;
    ui::subheading(ui, "review.groups", box.cut_top(ui.line_height(Face::small), ui.px(4)), "Component and protocol");
    for (int i = -1; i < static_cast<int>(told_.groups.size()); ++i) {
        const ToldGroup& g = i < 0 ? told_.all : told_.groups[static_cast<std::size_t>(i)];
        const std::string_view id = i < 0 ? std::string_view("review.group.all") : ui.id("review.group.", i);
        if (ui::choice(ui, id, box.cut_top(ui.px(ui::row_px), gap), group_text(g), group_ == i)) {
            group_ = i;
            ui.scroll_to_top("review.figures");
        }
    }
    return box.y - top;
}

float ReviewView::reasons(Ui& ui, Box box, std::string_view id, std::string_view title, const ToldReasons& told, bool pauses) {
    const float top = box.y;
    if (!told.told || told.list.empty())
        return 0;
    ui::subheading(ui, ui.keep(joined({id, ".title"})), box.cut_top(ui.line_height(Face::small), ui.px(6)), title);
    std::vector<ui::BarRow> rows;
    std::int64_t longest = 1;
    for (const ToldReason& r : told.list) {
        const std::string_view reason = !r.reason ? std::string_view("other reasons")
                                        : pauses  ? name(static_cast<PauseReason>(*r.reason))
                                                  : name(static_cast<ReturnReason>(*r.reason));
        rows.push_back({reason, ui.keep(joined({std::to_string(r.by.times), ", ", average_minutes(r.by), " min on average"})),
                        r.by.times, 0});
        longest = std::max<std::int64_t>(longest, r.by.times);
    }
    box.cut_top(ui::bars(ui, id, box, rows, longest), ui.px(18));
    return box.y - top;
}

float ReviewView::figures(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(12);
    if (review_.sessions() == 0) {
        ui.announce("Review of sessions. Nothing is read yet.");
        return 0;
    }
    if (told_.groups.empty()) {
        box.cut_top(ui::paragraph(ui, "review.none", box,
                                  joined({"No component under a protocol has at least ", std::to_string(floor_),
                                          " units: nothing is told."}),
                                  Face::title),
                    gap);
        return box.y - top;
    }
    const ToldGroup& g = shown();
    const std::string about = joined({group_text(g), ": ", std::to_string(g.units), " units"});
    box.cut_top(ui::paragraph(ui, "review.about", box, about, Face::title), ui.px(2));
    box.cut_top(ui::paragraph(ui, "review.sessions", box,
                              joined({"Sessions read: ", sessions_text(told_), ". Floor: ", floor_text(told_), "."}), Face::small, true),
                gap);
    ui.announce(about);
    std::vector<ui::BarRow> rows;
    for (int i = 0; i < measure_count; ++i) {
        const auto measure = static_cast<Measure>(i);
        const ToldTally& t = g.tally(measure);
        const bool counted = (t.how == Telling::parts || t.how == Telling::of_all) && t.of > 0;
        rows.push_back({name(measure), ui.keep(told_text(t, measure, floor_)),
                        counted ? std::int64_t{t.yes} * 1000 / t.of : t.how == Telling::all_alike && t.always ? 1000 : 0,
                        counted || t.how == Telling::all_alike ? 1000 : 0});
    }
    box.cut_top(ui::bars(ui, "review.measure", box, rows, 1000), ui.px(18));
    std::string gone = joined({"Pauses: ", g.pauses.told ? std::to_string(g.pauses.all.times) : not_told_text(floor_), ". "});
    if (g.returned)
        gone += joined({"Returned: ", std::to_string(*g.returned), ". Discarded: ", std::to_string(*g.discarded), "."});
    else
        gone += joined({"Returned or discarded: ", g.gone.told ? std::to_string(g.gone.all.times) : not_told_text(floor_), "."});
    box.cut_top(ui::paragraph(ui, "review.counts", box, gone), ui.px(18));
    for (int i = 0; i < spread_count; ++i) {
        const auto spread = static_cast<Spread>(i);
        const auto& bins = g.spreads[static_cast<std::size_t>(i)];
        if (bins.empty())
            continue;
        ui::subheading(ui, ui.id("review.spread.", i, ".title"), box.cut_top(ui.line_height(Face::small), ui.px(6)),
                       spread_text(told_, g, spread));
        rows.clear();
        std::int64_t longest = 1;
        for (const ToldBin& bin : bins) {
            rows.push_back({ui.keep(bin_text(spread, bin)), ui.keep(std::to_string(bin.times)), bin.times, 0});
            longest = std::max<std::int64_t>(longest, bin.times);
        }
        box.cut_top(ui::bars(ui, ui.id("review.spread.", i), box, rows, longest), ui.px(18));
    }
    box.cut_top(reasons(ui, box, "review.paused", "Pauses by reason", g.pauses, true), 0);
    box.cut_top(reasons(ui, box, "review.gone", "Returned or discarded by reason; minutes from issue", g.gone, false), 0);
    box.cut_top(ui::paragraph(ui, "review.note", box, review_sentence(), Face::small, true), gap);
    return box.y - top;
}

} // namespace hangtime::screens
