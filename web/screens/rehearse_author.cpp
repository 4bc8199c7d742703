#include "web/screens/rehearse_author.hpp"

#include "core/rehearse/debrief.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/words.hpp"
#include "web/platform/platform.hpp"
#include "web/screens/practice_header.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr std::string_view part_ids[] = {"author.frame", "author.person", "author.happenings", "author.scored"};
constexpr std::string_view part_labels[] = {"The case", "The person", "What happens", "What is scored"};
constexpr std::int64_t longest_min = bounds::span.count / 60 - 1;

std::string numbered(std::string_view id, std::size_t n) { return joined({id, std::to_string(n)}); }

facts::Issued* bag_of(Happening& h) {
    return h.record ? std::get_if<facts::Issued>(&h.record->facts) : nullptr;
}

template <class E>
std::vector<std::string> names(int count) {
    std::vector<std::string> out;
    for (int i = 0; i < count; ++i)
        out.emplace_back(name(static_cast<E>(i)));
    return out;
}

} // namespace

RehearseAuthor::Wishes RehearseAuthor::take_wishes() {
    Wishes w;
    std::swap(w, wishes_);
    return w;
}

void RehearseAuthor::open(Scenario scenario) {
    scenario_ = std::move(scenario);
    happens_.assign(scenario_.happenings.size(), true);
    scored_.assign(scenario_.scored.size(), true);
    part_ = Part::frame;
    message_.clear();
    load();
    check();
}

Scenario RehearseAuthor::edited() const {
    Scenario out = scenario_;
    const auto without = [](auto& list, const std::vector<bool>& kept) {
        std::size_t i = 0;
        std::erase_if(list, [&](const auto&) { return !kept[i++]; });
    };
    without(out.happenings, happens_);
    without(out.scored, scored_);
    return out;
}

void RehearseAuthor::check() {
    error_.reset();
    checked_.reset();
    Result<rehearse::Shared> read = library_.check(edited());
    if (read.ok())
        checked_ = read.value();
    else
        error_ = read.error();
}

// Where it is in the file, and what of the case that is: "happens[0]" tells nobody who is not looking at the file.
std::string RehearseAuthor::error_text() const {
    const std::string text = joined({error_->where, ": ", error_->problem, "; accepted: ", error_->accepted, "."});
    const Scenario s = edited();
    const auto place = [&](std::string_view list) -> std::optional<std::size_t> {
        if (!error_->where.starts_with(list) || error_->where.size() <= list.size() || error_->where[list.size()] != '[')
            return std::nullopt;
        std::size_t n = 0;
        for (std::size_t i = list.size() + 1; i < error_->where.size() && error_->where[i] != ']'; ++i)
            n = n * 10 + static_cast<std::size_t>(error_->where[i] - '0');
        return n;
    };
    if (const auto n = place("happens"); n && *n < s.happenings.size())
        return joined({"\xE2\x80\x9C", happening_text(s.happenings[*n]), "\xE2\x80\x9D. ", text});
    if (const auto n = place("scored"); n && *n < s.scored.size())
        return joined({"\xE2\x80\x9C", scored_text(s.scored[*n]), "\xE2\x80\x9D. ", text});
    return text;
}

// --- what is asked for ----------------------------------------------------------------------------------

void RehearseAuthor::load_frame() {
    form_.number("author.number", "Number", "", 2, 0, 1, 99, "1 to 99", scenario_.number);
    form_.number("author.seed", "Seed", "", 3, 0, 0, 999, "0 to 999", scenario_.seed);
    form_.choice("author.level", "Level", names<Level>(3), static_cast<int>(scenario_.level));
    const LocalTime begins = scenario_.wall.local(scenario_.begins);
    form_.number("author.begins_h", "Begins, hour", "o'clock", 2, 0, 0, 23, "0 to 23", begins.hour);
    form_.number("author.begins_min", "Begins, minute", "min", 2, 0, 0, 59, "0 to 59", begins.minute);
    form_.number("author.lasts", "Lasts", "min", 4, 0, 1, longest_min, "a minute to five days", scenario_.lasts.count / 60);
    for (std::size_t i = 0; i < scenario_.happenings.size(); ++i)
        if (const facts::Issued* bag = bag_of(scenario_.happenings[i]))
            form_.number(numbered("author.bag.", i), joined({"Bag: ", lower_first(name(bag->component))}), "mL", 4, 0, 1, 1000,
                         "1 to 1000 mL", bag->bag.units / ml(1).units);
}

void RehearseAuthor::load_person() {
    const Recipient& r = scenario_.recipient;
    form_.number("author.weight", "Weight", "kg", 3, 1, 3, 5000, "0.3 to 500 kg",
                 r.weight.grams > 0 ? std::optional<std::int64_t>(r.weight.grams / 100) : std::nullopt);
    form_.number("author.gauge", "Cannula", "gauge", 2, 0, 14, 30, "14 to 30",
                 r.gauge > 0 ? std::optional<std::int64_t>(r.gauge) : std::nullopt);
    std::vector<std::string> ages = names<AgeGroup>(code_count<AgeGroup>());
    ages.emplace_back("Not said");
    form_.choice("author.age", "Age", std::move(ages), r.age ? static_cast<int>(*r.age) : code_count<AgeGroup>());
    form_.choice("author.risk", "Risk of overload", names<Answer>(3), static_cast<int>(r.overload_risk));
    form_.choice("author.can_report", "Can say how they feel", names<Answer>(3), static_cast<int>(r.can_report));
}

// Of each what it waits for is given, and how long, how much or how far can be changed.
void RehearseAuthor::load_happenings() {
    for (std::size_t i = 0; i < scenario_.happenings.size(); ++i) {
        const Happening& h = scenario_.happenings[i];
        const std::string label = happening_text(h), id = numbered("author.when.", i);
        const std::string later = h.when.wait > Seconds{} ? joined({", and ", span_text(h.when.wait), " later"}) : std::string();
        switch (h.when.how) {
        case Trigger::How::since:
            form_.number(id, label, joined({"min ", waits_for_text(scenario_, h.when)}), 4, 0, 0, longest_min, "0 to five days, in minutes",
                         h.when.wait.count / 60);
            break;
        case Trigger::How::given:
            form_.number(id, label, joined({"mL have run", later}), 4, 0, 1, 1000, "1 to 1000 mL", h.when.given.units / ml(1).units);
            break;
        case Trigger::How::match_step:
            form_.number(id, label, joined({"steps of the match are done", later}), 2, 0, 1, most_match_steps,
                         joined({"1 to ", std::to_string(most_match_steps)}), h.when.step);
            break;
        }
        form_.last().whole_row = true;
        form_.number(numbered("author.vary.", i), "Moved by a seed, up to", "min", 2, 0, 0, 60, "0 to 60 min", h.when.vary.count / 60);
        form_.choice(numbered("author.happens.", i), "Does it happen?", {"It happens", "Left out"}, happens_[i] ? 0 : 1);
    }
}

void RehearseAuthor::load_scored() {
    for (std::size_t i = 0; i < scenario_.scored.size(); ++i)
        form_.number(numbered("author.points.", i), scored_text(scenario_.scored[i]), "points", 2, 0, 0, 10, "0 to 10; 0 leaves it out",
                     scored_[i] ? scenario_.scored[i].points : 0);
}

void RehearseAuthor::load() {
    form_.clear();
    switch (part_) {
    case Part::frame: load_frame(); break;
    case Part::person: load_person(); break;
    case Part::happenings: load_happenings(); break;
    case Part::scored: load_scored(); break;
    }
}

// --- what was entered -----------------------------------------------------------------------------------

void RehearseAuthor::store_frame() {
    scenario_.number = static_cast<std::int32_t>(form_.number("author.number").value_or(scenario_.number));
    scenario_.seed = static_cast<std::int32_t>(form_.number("author.seed").value_or(scenario_.seed));
    scenario_.level = static_cast<Level>(std::max(0, form_.chosen("author.level")));
    LocalTime begins = scenario_.wall.local(scenario_.begins);
    begins.hour = static_cast<int>(form_.number("author.begins_h").value_or(begins.hour));
    begins.minute = static_cast<int>(form_.number("author.begins_min").value_or(begins.minute));
    begins.second = 0;
    if (const auto at = scenario_.wall.resolve(begins).first)
        scenario_.begins = *at;
    if (const auto lasts = form_.number("author.lasts"))
        scenario_.lasts = minutes(*lasts);
    for (std::size_t i = 0; i < scenario_.happenings.size(); ++i)
        if (facts::Issued* bag = bag_of(scenario_.happenings[i]))
            if (const auto volume = form_.number(numbered("author.bag.", i)))
                bag->bag = ml(*volume);
}

void RehearseAuthor::store_person() {
    Recipient& r = scenario_.recipient;
    if (const auto weight = form_.number("author.weight"))
        r.weight.grams = static_cast<decltype(r.weight.grams)>(*weight * 100);
    if (const auto gauge = form_.number("author.gauge"))
        r.gauge = static_cast<decltype(r.gauge)>(*gauge);
    if (const int age = form_.chosen("author.age"); age >= 0)
        r.age = age < code_count<AgeGroup>() ? std::optional(static_cast<AgeGroup>(age)) : std::nullopt;
    r.overload_risk = static_cast<Answer>(std::max(0, form_.chosen("author.risk")));
    r.can_report = static_cast<Answer>(std::max(0, form_.chosen("author.can_report")));
}

void RehearseAuthor::store_happenings() {
    for (std::size_t i = 0; i < scenario_.happenings.size(); ++i) {
        Trigger& when = scenario_.happenings[i].when;
        if (const auto n = form_.number(numbered("author.when.", i)))
            switch (when.how) {
            case Trigger::How::since: when.wait = minutes(*n); break;
            case Trigger::How::given:
                if (*n != when.given.units / ml(1).units)
                    when.given = ml(*n);
                break;
            case Trigger::How::match_step: when.step = static_cast<std::int32_t>(*n); break;
            }
        if (const auto vary = form_.number(numbered("author.vary.", i)))
            when.vary = minutes(*vary);
        happens_[i] = form_.chosen(numbered("author.happens.", i)) != 1;
    }
}

void RehearseAuthor::store_scored() {
    for (std::size_t i = 0; i < scenario_.scored.size(); ++i)
        if (const auto points = form_.number(numbered("author.points.", i))) {
            scored_[i] = *points > 0;
            if (*points > 0)
                scenario_.scored[i].points = static_cast<std::int32_t>(*points);
        }
}

void RehearseAuthor::store() {
    switch (part_) {
    case Part::frame: store_frame(); break;
    case Part::person: store_person(); break;
    case Part::happenings: store_happenings(); break;
    case Part::scored: store_scored(); break;
    }
    check();
}

void RehearseAuthor::build(Ui& ui, Box area) {
    ui.set_editing(form_.editing());
    const float gap = ui.px(ui::gap_px);
    const PracticeHeader head = practice_header(ui, area.cut_top(ui.px(48), ui.px(8)), "Rehearse", scenario_.title, false);
    wishes_.back = wishes_.back || head.back;
    wishes_.night = wishes_.night || head.night;
    form_.tell_time(scenario_.begins, scenario_.wall, DayClock(scenario_.wall, scenario_.begins));
    const Box tabs = area.cut_top(ui.px(ui::row_px), ui.px(10));
    for (int i = 0; i < part_count; ++i)
        if (ui::tab(ui, part_ids[i], tabs.cell(part_count, 1, i, 0, gap), part_labels[i], part_ == static_cast<Part>(i)) &&
            part_ != static_cast<Part>(i)) {
            store();
            part_ = static_cast<Part>(i);
            load();
            ui.scroll_to_top("author");
            ui.change_screen();
            return;
        }
    Box foot = area.cut_bottom(ui.px(56), ui.px(12));
    const bool fine = checked_ != nullptr && form_.complete();
    const Box save = foot.cut_right(foot.w * 0.45f, gap);
    const bool play = ui::button(ui, "author.play", foot, "Begin it", ui::Look::primary, fine);
    const bool keep = ui::button(ui, "author.save", save, "Save as a file", ui::Look::plain, fine);

    const bool beside = area.w >= ui.px(860) && area.w > area.h;
    Box dock{};
    if (beside) {
        dock = area;
        dock.cut_left(area.w * 0.56f);
        area.w = area.w * 0.56f - ui.px(24);
    } else if (form_.editing()) {
        dock = area.cut_bottom(std::min(area.h * 0.62f, form_.dock_height(ui, area.w)), ui.px(12));
    }
    const Box in = ui.begin_scroll("author", area);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    if (!message_.empty())
        rest.cut_top(ui::caution(ui, "author.message", rest, "", message_), ui.px(12));
    if (error_)
        rest.cut_top(ui::caution(ui, "author.error", rest, "It cannot be played",
                                 error_text()),
                     ui.px(12));
    else
        rest.cut_top(ui::paragraph(ui, "author.fine", rest, "Checked: it can be played.", Face::body, true), ui.px(10));
    if (part_ >= Part::happenings)
        rest.cut_top(ui::paragraph(ui, "author.when", rest,
                                   part_ == Part::happenings
                                       ? "When each thing happens. What it waits for, texts and signs are changed in the file."
                                       : "Points of each item. With 0 points it is left out. Rules and what counts are changed in the file.",
                                   Face::small, true),
                     gap);
    rest.cut_top(form_.fields(ui, rest, rest.w < ui.px(420) || part_ == Part::scored ? 1 : 2), gap);
    ui.end_scroll(rest.y - in.y);
    if (form_.editing() && form_.dock(ui, dock)) {
        message_.clear();
        store();
    }
    ui.announce(error_ ? joined({"It cannot be played: ", error_->where}) : std::string("Change a rehearsal"));
    if (!fine)
        return;
    if (play) {
        wishes_.play = checked_;
    } else if (keep) {
        platform::save_file(joined({"hangtime-rehearsal-", scenario_.id, ".json"}), write_scenario(edited()), "application/json");
        message_ = "Offered as a file. Open it from the list, or give it to others.";
        ui.change_screen();
    }
}

} // namespace hangtime::screens
