#include "core/match/script.hpp"
#include "core/words/match_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/input/wipe.hpp"
#include "web/screens/bedside.hpp"
#include "web/screens/match_parts.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

/// The right bag: what is scanned on the way to it, the reading of bag and tag, and the match step by step.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

// --- scans ----------------------------------------------------------------------------------------------

// Only there, and only while the bag has not been hung, is a scan read at all.
bool Bedside::takes_scans() const {
    if (entry_.is_open())
        return entry_.takes_label();
    if (observe_.is_open())
        return false;
    if (tab_ != Tab::unit && tab_ != Tab::match && !reading_.is_open())
        return false;
    const Session& s = session();
    return s.phase == Phase::called ||
           (s.phase == Phase::here && !s.disposal && s.match.standing != MatchStanding::differed);
}

void Bedside::take_scans(Ui& ui) {
    const bool takes = takes_scans();
    if (takes)
        ui.want_scan();
    const Session& s = session();
    if (s.phase > Phase::here || s.disposal || s.match.standing == MatchStanding::differed)
        reading_.forget(); // the match is over
    if (ui.scans() == scans_seen_)
        return;
    scans_seen_ = ui.scans();
    scan_said_ = false;
    std::optional<Scan> scan = ui.take_scan();
    if (ui.take_scan_leak()) {
        entry_.scan_leaked();
        reading_.scan_leaked();
        observe_.scan_leaked(wall_);
        reaction_.scan_leaked(wall_);
        if (takes)
            scan = Scan{ScanReason::broken_message, {}};
    }
    if (!takes || !scan) {
        scan_said_ = true;
        return;
    }
    if (!entry_.is_open() && s.phase == Phase::called && !desk_.rehearses())
        ask(ui, EventKind::issued); // the bag is here
    if (entry_.is_open()) {
        const bool taken = reading_.take(*scan, BagAndTag::Side::bag);
        entry_.scanned(taken ? &scan->data : nullptr, reading_.said(), context());
    } else {
        reading_.take(*scan);
        if (!reading_.is_open())
            reading_.open(ui);
    }
    input::wipe(*scan);
}

bool Bedside::forget_unseen(Instant machine_now) {
    if (!reading_.holds_anything())
        return false;
    const bool unseen = platform::now_ms() - seen_ms_ >= BagAndTag::unseen_for.count * 1000 ||
                        machine_now - seen_at_ >= BagAndTag::unseen_for;
    if (unseen)
        reading_.forget();
    return unseen;
}

std::optional<Instant> Bedside::forget_at() const {
    return reading_.holds_anything() ? std::optional(seen_at_ + BagAndTag::unseen_for) : std::nullopt;
}

// --- bag and tag ----------------------------------------------------------------------------------------

BagAndTag::Context Bedside::bag_context() const {
    const Session& s = session();
    return {.rules = s.protocol->match ? &*s.protocol->match : nullptr,
            .component = s.state.unit.component.value_or(Component::red_cells),
            .emergency = is_emergency(s),
            .digits = s.digits,
            .writes = desk_.store().may_write() && !case_->read_only(),
            .may_close = s.phase == Phase::here && !s.disposal,
            .settles = s.phase == Phase::here && !s.disposal && groups_needed(s),
            .groups = s.groups ? &*s.groups : nullptr,
            .age = s.state.recipient.age,
            .now = now_,
            .wall = wall_,
            .day = day_};
}

void Bedside::reading(Ui& ui, Box box) {
    const Box bottom = box.cut_bottom(ui.px(56), ui.px(12));
    if (!said_.empty())
        box.cut_top(ui::paragraph(ui, "refused", box, joined({"Not noted: ", said_})), ui.px(8));
    reading_.build(ui, box, bottom, bag_context());
    if (const auto confirmed = reading_.take_confirmed())
        note_label(*confirmed);
    if (reading_.take_close_unit()) {
        const auto next = session().match.next(script_of(session()));
        note_match(ui, MatchOutcome::differed, next.value_or(0));
    }
    if (const auto judged = reading_.take_judged(); judged && quiet_ms(platform::now_ms()) < 0)
        note_groups(ui, *judged);
    ui.announce(reading_.said().empty() ? std::string("Bag and tag") : reading_.said());
}

void Bedside::note_groups(Ui& ui, const facts::GroupsJudged& judged) {
    note(ui, EventKind::groups_judged, judged);
    if (!said_.empty())
        return;
    reading_.close(ui);
    if (session().match.standing != MatchStanding::passed)
        go_to(ui, Tab::match);
    else
        go_to(ui, Tab::unit);
}

// The record of the issue is put right: the last characters and the expiry as they stand on the label. No
// more of the number than that is ever noted.
void Bedside::note_label(const BagAndTag::Confirmed& confirmed) {
    const Event* issue = nullptr;
    for (const Event& e : case_->log.events())
        if (e.kind == EventKind::issued && !case_->log.is_void(e.number))
            issue = &e;
    if (!issue)
        return;
    facts::Issued f = facts_of<facts::Issued>(*issue);
    const facts::Issued before = f;
    if (confirmed.digits)
        f.digits = confirmed.digits;
    if (confirmed.expires) {
        f.expires = confirmed.expires;
        f.expires_far = false;
    }
    const bool same_time = before.expires.has_value() == f.expires.has_value() &&
                           (!f.expires || before.expires->at == f.expires->at);
    if (f.digits == before.digits && same_time && before.expires_far == f.expires_far)
        return; // it says so already
    const Stated at = issue->at;
    const std::int32_t number = issue->number;
    const auto no = desk_.note(*case_, EventKind::issued, f, at, machine_now_, {number});
    said_ = no ? why(*no) : std::string();
}

// --- the match ------------------------------------------------------------------------------------------

// As the log has it, or as it will be when the first step is noted.
MatchScript Bedside::shown_script() const {
    const Session& s = session();
    const bool first = s.match.passed.empty() && !s.can_say && says_ && s.protocol->match && !is_emergency(s);
    return first ? match_script(*s.protocol->match, *says_) : script_of(s);
}

void Bedside::note_match(Ui& ui, MatchOutcome outcome, std::uint8_t step) {
    const MatchScript script = shown_script();
    const bool looks = step < script.size() && script[step].kind == MatchStepKind::look;
    const bool over = outcome == MatchOutcome::passed && step + std::size_t{1} == script.size();
    // After the last step a difference is one all the same: what was passed is taken up again, and ends.
    if (outcome == MatchOutcome::differed && !session().match.next(script))
        desk_.note_now(*case_, EventKind::match_noted, facts::MatchNoted{MatchOutcome::interrupted, 0},
                       machine_now_);
    facts::MatchNoted f{outcome, static_cast<std::int32_t>(step), {}};
    if (outcome != MatchOutcome::interrupted && step == 0 && session().match.passed.empty())
        f.can_say = says_;
    note(ui, EventKind::match_noted, f);
    if (said_.empty())
        says_.reset(); // asked anew where it begins anew
    if (!said_.empty())
        return;
    if (outcome == MatchOutcome::passed && looks &&
        session().item(Item::bag_looked_at).state == ItemState::open) {
        facts::ItemNoted looked;
        looked.item = Item::bag_looked_at;
        looked.how = ItemHow::confirmed;
        note(ui, EventKind::item_noted, looked);
    }
    if (over || outcome == MatchOutcome::differed) {
        reading_.forget();
        go_to(ui, Tab::unit);
    }
}

// Groups and requirements are settled with the label in hand, before the match, which goes stale in minutes. A
// difference can be said all the same.
void Bedside::groups_first(Ui& ui, Box box, const BagAndTag::Context& bag) {
    const float gap = ui.px(12);
    Box at = ui.begin_scroll("match.scroll", box);
    const float top = at.y;
    at.h = 1e6f;
    at.w -= ui.px(14);
    const bool wide = at.w >= ui.px(880);
    Box left = at;
    Box right = wide ? left.cut_right(at.w / 2 - gap, 2 * gap) : Box{};
    left.cut_top(ui::paragraph(ui, "match.title", left, "First: do groups and requirements fit?", Face::title), gap);
    const Compatibility groups = reading_.judged(bag);
    const UnitComparison unit = reading_.comparison();
    const bool never = groups.overall.is == Compatible::no && !may_be_waived(groups.overall.why);
    const bool closes = bag.may_close && bag.writes;
    if (never || unit.unit == Agreement::differs) {
        left.cut_top(ui::paragraph(ui, "match.stopped", left, sentence(MatchStanding::differed), Face::title), gap);
    } else {
        left.cut_top(ui::paragraph(ui, "match.first", left,
                                   "Read the bag's own label and the tag on it, by scan or by hand. Where it cannot be told, "
                                   "note that the laboratory's instruction is followed, or who decides it. Then match the bag "
                                   "to the person at the bedside."),
                     gap);
    }
    const bool stopped = never || unit.unit == Agreement::differs;
    if (takes_scans() && ui::button(ui, "match.read", left.cut_top(ui.px(56), gap), "Groups and requirements: read bag and tag",
                                    stopped ? ui::Look::plain : ui::Look::primary))
        reading_.open(ui);
    if (ui::button(ui, "match.differs", left.cut_top(ui.px(ui::row_px), gap),
                   stopped ? "Close this unit" : "Something differs: close this unit",
                   stopped ? ui::Look::primary : ui::Look::plain, closes) &&
        quiet_ms(platform::now_ms()) < 0)
        note_match(ui, MatchOutcome::differed, session().match.next(shown_script()).value_or(0));
    left.cut_top(match_rules_note(ui, left, *session().protocol->match), gap);
    Box& other = wide ? right : left;
    other.cut_top(groups_answer(ui, other, groups), gap);
    if (reading_.anything_read())
        other.cut_top(bag_beside_tag(ui, other, unit), gap);
    ui.end_scroll(std::max(left.y, wide ? right.y : left.y) - top);
}

bool Bedside::matching() const {
    const Session& s = session();
    if (tab_ != Tab::match || s.phase < Phase::here || s.disposal || s.match.standing == MatchStanding::differed)
        return false;
    const bool may = !s.state.times.spiked || match_comes_late(s);
    if (!may || s.state.run.ended || state_of(s, Item::match, now_) == ItemState::confirmed)
        return false;
    return !s.protocol->match || !reading_.to_be_settled(bag_context()); // groups come first
}

void Bedside::match(Ui& ui, Box box, Box foot) {
    const Session& s = session();
    if (matching() && !said_.empty())
        box.cut_top(ui::paragraph(ui, "refused", box, joined({"Not noted: ", said_})), ui.px(8));
    if (s.phase < Phase::here) {
        ui::paragraph(ui, "match.none", box, "The match begins when the unit is here.", Face::title);
        return;
    }
    if (!s.protocol->match) {
        // These rules say nothing about it: then the ward's own procedure is all there is.
        const float gap = ui.px(12);
        box.cut_top(ui::paragraph(ui, "match.own", box,
                                  "These rules say nothing about the match. Follow your own policy.",
                                  Face::title),
                    gap);
        if (!matching())
            return;
        const bool same = ui::button(ui, "match.same", foot.cut_bottom(ui.px(56), gap),
                                     "Matched by our own procedure", ui::Look::primary);
        const bool differs = ui::button(ui, "match.differs", foot.cut_bottom(ui.px(ui::row_px)), "It differs");
        if ((same || differs) && quiet_ms(platform::now_ms()) < 0)
            note_match(ui, same ? MatchOutcome::passed : MatchOutcome::differed, 0);
        return;
    }
    if (const BagAndTag::Context context = bag_context(); reading_.to_be_settled(context)) {
        groups_first(ui, box, context);
        return;
    }
    const MatchScript script = shown_script();
    MatchView::Shown shown;
    const MatchRules& rules = *s.protocol->match;
    shown.rules = &rules;
    shown.script = &script;
    shown.state = &s.match;
    const auto hung = s.state.times.spiked ? std::optional(s.state.times.spiked->at) : std::nullopt;
    shown.standing = standing_at(s.match, rules, now_, hung);
    shown.component = s.state.unit.component.value_or(Component::red_cells);
    shown.day = &day_;
    shown.hung = hung.has_value();
    const BagAndTag::Context bag = bag_context();
    const UnitComparison unit = reading_.comparison();
    const Compatibility groups = reading_.judged(bag);
    shown.reads = takes_scans();
    shown.asks_who = !is_emergency(s) && s.match.passed.empty() && !s.can_say && !says_ &&
                     s.match.standing != MatchStanding::differed && desk_.store().may_write() && !case_->read_only();
    if (reading_.anything_read())
        shown.unit = &unit;
    if (shown.reads && (reading_.anything_read() || shown.standing != MatchStanding::passed))
        shown.compatibility = &groups;
    // Matched, and nobody has hung it: that somebody left is said in the body.
    const bool in_foot = matching();
    if (!in_foot)
        foot = box.cut_bottom(shown.standing == MatchStanding::passed && !hung ? ui.px(ui::row_px) : 0, ui.px(12));
    match_.build(ui, box, foot, shown);
    if (const auto says = match_.take_says()) {
        says_ = says;
        quiet_until_ms_ = platform::now_ms() + quiet_for_ms; // a second tap must not confirm the first step
        ui.change_screen();
    }
    if (match_.take_wish_to_read())
        reading_.open(ui);
    if (const auto wish = match_.take_wish(); wish && quiet_ms(platform::now_ms()) < 0)
        note_match(ui, wish->outcome, wish->step);
}

} // namespace hangtime::screens
