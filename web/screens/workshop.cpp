#include "web/screens/workshop.hpp"

#include "core/plan/card.hpp"
#include "core/plan/float_card.hpp"
#include "core/plan/plan_words.hpp"
#include "core/plan/protocol_sheet.hpp"
#include "core/protocol/read.hpp"
#include "core/words/words.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {
constexpr std::size_t most_undo = 100;
}

void Workshop::tell_carried(std::vector<Protocol> examples, std::vector<DemoCase> cases) {
    examples_ = std::move(examples);
    cases_ = std::move(cases);
}

Workshop::Wishes Workshop::take_wishes() {
    const Wishes w = wishes_;
    wishes_ = {};
    return w;
}

void Workshop::open(const Protocol& protocol) {
    base_ = protocol;
    edit_.emplace(protocol);
    before_ = std::make_unique<ProtocolEdit>(protocol);
    undo_.clear();
    grouped_ = false;
    section_ = "Name and standing";
    part_ = Part::rules;
    paper_ = Paper::shown;
    changed();
}

// What was found for the rules as they were is not shown for those that they are now.
void Workshop::changed() {
    case_changes_.reset();
    refused_.reset();
    look();
    if (undo_.size() > most_undo)
        undo_.erase(undo_.begin());
}

void Workshop::undo(Ui& ui) {
    if (undo_.empty())
        return;
    edit_.emplace(undo_.back());
    undo_.pop_back();
    close_group(ui);
    changed();
    message_ = "The last change is taken back.";
}

void Workshop::file_opened(platform::FileOutcome outcome, std::string_view text) {
    const bool other = file_is_other_;
    file_is_other_ = false;
    switch (outcome) {
    case platform::FileOutcome::none_chosen: return;
    case platform::FileOutcome::too_large: message_ = "That file is too large for local rules. Nothing has changed."; return;
    case platform::FileOutcome::unreadable: message_ = "That file could not be read. Nothing has changed."; return;
    case platform::FileOutcome::opened: break;
    }
    const Result<Protocol> read = read_protocol(text);
    if (!read.ok()) {
        const Error& e = read.error();
        message_ = joined({"That file is not taken, nothing has changed: ", e.where, e.where.empty() ? "" : ": ", e.problem,
                           "; accepted: ", e.accepted, "."});
        return;
    }
    if (other) {
        from_file_ = read.value();
        other_ = others().size() - 1;
        message_ = joined({"Read from the file: ", rules_text(read.value()), "."});
        return;
    }
    open(read.value());
    message_ = joined({"Read from the file: ", rules_text(read.value()), "."});
}

std::string Workshop::known_as() const {
    return edit_ ? rules_text(edit_->protocol()) : std::string();
}

void Workshop::build(Ui& ui, Box area, Instant now, const WallClock& wall) {
    now_ = now;
    wall_ = wall;
    if (ui.scans() != scans_seen_) {
        scans_seen_ = ui.scans();
        message_ = "That was a scan. Nothing here is filled in by scanning, and nothing of it was kept.";
        if (ui.take_scan_leak())
            form_.give_back();
    }
    form_.tell_time(now, wall, DayClock(wall, now));
    ui.set_editing(grouped_ && form_.editing());
    header(ui, area.cut_top(ui.px(52), ui.px(8)));
    if (!edit_) {
        choose(ui, area);
    } else {
        tabs(ui, area.cut_top(ui.px(ui::row_px), ui.px(8)));
        if (!message_.empty())
            area.cut_top(ui::paragraph(ui, "workshop.message", area, message_), ui.px(8));
        if (part_ == Part::rules) {
            rules(ui, area);
        } else {
            const Box in = ui.begin_scroll("workshop.all", area);
            Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
            rest.cut_top(part_ == Part::changes ? changes(ui, rest) : part_ == Part::differs ? differs(ui, rest) : keep(ui, rest),
                         ui.px(12));
            rest.cut_top(foot(ui, rest), ui.px(8));
            ui.end_scroll(rest.y - in.y);
        }
    }
    ui.announce(!message_.empty() ? std::string_view(message_) : "Local rules");
}

void Workshop::header(Ui& ui, Box box) {
    const float gap = ui.px(ui::gap_px);
    const bool tight = box.w < ui.px(700);
    if (ui::button(ui, "workshop.back", box.cut_left(ui.px(tight ? 72 : 96), ui.px(12)), "Back"))
        wishes_.back = true;
    if (ui::button(ui, "page.print", box.cut_right(ui.px(tight ? 64 : 130), gap), tight ? "Print" : "Print sheet",
                   ui::Look::plain, edit_.has_value())) {
        paper_ = Paper::shown;
        wishes_.print = true;
    }
    if (ui::button(ui, "page.ground", box.cut_right(ui.px(72), gap), ui.night() ? "Day" : "Night", ui::Look::plain, true,
                   ui.night() ? "Day colours" : "Night colours"))
        wishes_.night = true;
    const float h = ui.line_height(Face::title), w = box.w;
    const std::string title = edit_ ? edit_->protocol().title : std::string("Local rules");
    Box line = {box.x, box.y + (box.h - h) / 2, w, h};
    ui.note({.id = "title", .label = title, .role = ui::Role::heading, .box = line});
    if (!edit_) {
        ui.put_text(line, Face::title, ui.palette().ink, title);
        return;
    }
    // Which rules, of when, and how they stand: on every part of this screen.
    const Protocol& p = edit_->protocol();
    std::string of = joined({"Revised ", p.revised, p.adopted ? ", adopted" : " - ", p.adopted ? std::string_view() : example_label(),
                                   undo_.empty() ? "" : ", with changes that are not kept yet"});
    if (ui.text_width(Face::small, of) > w)
        of = joined({"Revised ", p.revised, p.adopted ? ", adopted" : " - example", undo_.empty() ? "" : ", changed, not kept yet"});
    const Face face = ui.text_width(Face::title, title) > w ? Face::body : Face::title;
    const float both = ui.line_height(face) + ui.line_height(Face::small);
    line = {box.x, box.y + (box.h - both) / 2, w, ui.line_height(face)};
    ui.put_text(line, face, ui.palette().ink, title);
    const Box below = {line.x, line.bottom(), w, ui.line_height(Face::small)};
    ui.note({.id = "workshop.rules", .label = of, .role = ui::Role::text, .box = below});
    ui.put_text(below, Face::small, ui.palette().quiet, of);
}

void Workshop::tabs(Ui& ui, Box box) {
    constexpr struct {
        Part part;
        std::string_view id, label;
    } all[] = {{Part::rules, "workshop.tab.rules", "The rules"},
               {Part::changes, "workshop.tab.changes", "What changes"},
               {Part::differs, "workshop.tab.differs", "What differs"},
               {Part::keep, "workshop.tab.keep", "Keep it"}};
    for (int i = 0; i < 4; ++i) {
        if (!ui::tab(ui, all[i].id, box.cell(4, 1, i, 0, ui.px(ui::gap_px)), all[i].label, part_ == all[i].part))
            continue;
        if (part_ == all[i].part)
            continue;
        close_group(ui);
        part_ = all[i].part;
        paper_ = Paper::shown;
        message_.clear();
        ui.scroll_to_top("workshop.all");
        ui.change_screen();
    }
}

// Nothing is open yet: which rules to look at.
void Workshop::choose(Ui& ui, Box area) {
    const float gap = ui.px(ui::gap_px);
    const Box in = ui.begin_scroll("workshop.choose", area);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    if (!message_.empty())
        rest.cut_top(ui::caution(ui, "workshop.message", rest, "", message_), ui.px(12));
    rest.cut_top(ui::paragraph(ui, "workshop.what", rest,
                               "Local rules with their sources: to read, to change, to compare, and to keep for your ward. Nothing "
                               "here changes what this page works by."),
                 ui.px(12));
    if (ui::button(ui, "workshop.open", rest.cut_top(ui.px(56), gap), "Open your ward's rules from a file", ui::Look::primary)) {
        file_is_other_ = false;
        platform::open_file();
    }
    const auto offer = [&](std::string_view id, std::string_view heading, const std::vector<Protocol>& from) {
        if (from.empty())
            return;
        ui::subheading(ui, ui.keep(joined({id, "title"})), rest.cut_top(ui.line_height(Face::small), ui.px(4)), heading);
        for (std::size_t i = 0; i < from.size(); ++i) {
            const std::string text = rules_text(from[i]);
            if (ui::button(ui, ui.id(id, static_cast<int>(i)), rest.cut_top(ui.px(ui::row_px), gap), text)) {
                open(from[i]);
                message_.clear();
                ui.change_screen();
            }
        }
        rest.cut_top(ui.px(8));
    };
    offer("workshop.page.", "The rules of this page", protocols_);
    offer("workshop.example.", "Examples", examples_);
    rest.cut_top(foot(ui, rest), gap);
    ui.end_scroll(rest.y - in.y);
}

float Workshop::foot(Ui& ui, Box box) {
    const float top = box.y;
    std::string text;
    if (edit_)
        text = joined({"Rules: ", known_as(), ". "});
    for (std::size_t i = 0; i < caution_count; ++i)
        text.append(i > 0 ? " " : "").append(caution(i));
    box.cut_top(ui::paragraph(ui, "caution", box, text, Face::small, true));
    return box.y - top;
}

std::optional<sheet::Document> Workshop::document() const {
    if (!edit_)
        return std::nullopt;
    const Protocol& p = edit_->protocol();
    const Protocol* with = other();
    if (paper_ == Paper::day_card)
        return card(p);
    if (paper_ == Paper::card && with)
        return float_card(*with, p);
    if (part_ == Part::changes)
        return case_sheet(base_, p, cases_);
    if (part_ == Part::differs && with)
        return difference_sheet(*with, p);
    return protocol_sheet(p);
}

} // namespace hangtime::screens
