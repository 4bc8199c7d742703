#include "core/plan/plan_sheet.hpp"

#include "core/plan/plan_words.hpp"
#include "core/plan/references.hpp"
#include "core/words/session_words.hpp"
#include "core/words/sums.hpp"
#include "core/words/words.hpp"

namespace hangtime {

// This stands in the page, so it is written to be small: texts are put together by one function, and rows go
// into their table through another.

namespace {

using sheet::Document;
using sheet::Role;
using sheet::Table;

constexpr std::string_view for_a_pen = "______________";

// A line of "What to do, and when".
struct StepRow {
    Instant at;
    int order = 0;  // among what falls on the same second
    std::string what{}, done{};
};

struct Builder {
    const Protocol& protocol;
    const State& state;
    const Reckoning& r;
    DayClock day;
    References references;
    Document document{};

    std::string clock(Instant at) const { return clock_text(at, day); }

    /// What would only come if it went on, while whether it does is somebody's decision.
    bool not_planned(const Stage& stage) const { return r.held && stage.from >= r.as_if; }
    bool happened() const { return state.times.start && state.times.start->happened; }
    /// A plan that does not fit is not to be started: then there are options and no times to go by.
    bool has_steps() const {
        return r.planned && (happened() || r.judgement.verdict != Verdict::does_not_fit);
    }

    void add_top(const SheetLabels& labels);
    void add_key_facts();
    void add_steps();
    void add_stages();
    void add_windows();
    void add_volumes();
    void add_notes();
    void add_workings();
    void add_sum(Table& table, std::string_view what, const Sum& sum, std::string_view source);
    void add_step(std::vector<StepRow>& rows, Instant at, int order, std::string what,
                  std::optional<Instant> done);
};

void Builder::add_top(const SheetLabels& labels) {
    document.title = state.unit.component ? name(*state.unit.component) : "One bag";
    if (state.unit.bag) document.title = joined({document.title, ", ", volume_text(*state.unit.bag)});
    document.start = r.planned ? r.start : r.now;

    if (!labels.object.empty()) document.fact("Object", labels.object);
    document.fact("Bag number ends in",
                  labels.bag_digits.empty() ? for_a_pen : std::string_view(labels.bag_digits));
    if (const auto end = void_after(r)) document.fact("Void after", clock(*end));
    if (const std::string rules = rules_text(protocol); !rules.empty()) document.fact("Rules", rules);

    document.headline(verdict_text(r, day));
    for (const std::string& text : passed_texts(r, day)) document.item(text);
    if (!r.planned) return;
    for (const Reason reason : r.judgement.reasons) document.item(sentence(reason));
    for (const Advised& advised : r.judgement.advice)
        document.item(advice_text(advised.code, advised.figures, day));
}

void Builder::add_key_facts() {
    // While a session runs its own list says what to do; once it has ended or is held there is nothing of the plan.
    if (happened() && !r.live && !r.next.empty()) {
        const Step& step = r.next[0];
        const std::string_view what = step.check >= 0
                                          ? check_title(r.checks[static_cast<std::size_t>(step.check)].kind)
                                          : name(step.kind);
        document.fact("Next", joined({clock(step.at), ", ", what}));
    }
    if (r.start_by && !happened() && (has_steps() || !r.planned))
        document.fact("Start by", joined({clock(*r.start_by), " at the latest, by all limits"}));
    if (r.finish_by) document.fact("All in by", joined({clock(*r.finish_by), " at the latest"}));
    if (!has_steps()) return;
    for (std::size_t i = 0; i < r.stages.size(); ++i) {
        const Stage& stage = r.stages[i];
        if (stage.kind == StageKind::pause || not_planned(stage)) continue;
        const std::string count = stage_count_text(stage);
        document.fact(i == 0 ? "Start" : "Then", joined({clock(stage.from), ", set ", stage_rate_text(stage),
                                                         count.empty() ? "" : ", ", count}));
    }
}

// Into its place among the others.
void Builder::add_step(std::vector<StepRow>& rows, Instant at, int order, std::string what,
                       std::optional<Instant> done) {
    rows.push_back({at, order, std::move(what), done ? clock(*done) : std::string()});
    for (std::size_t i = rows.size() - 1; i > 0; --i) {
        StepRow& before = rows[i - 1];
        if (before.at < rows[i].at || (before.at == rows[i].at && before.order <= rows[i].order)) break;
        std::swap(before, rows[i]);
    }
}

void Builder::add_steps() {
    std::vector<StepRow> rows;
    bool early = false;
    const std::optional<Instant> cut = r.cut_at();
    for (const Check& check : r.checks) {
        // When it ends is not known while it is held: no check hangs on that.
        if (r.held && !check.done && check.due > r.now) continue;
        if (cut && !check.done && check.due > r.now && check.due > *cut) continue;
        std::string what(check_title(check.kind));
        const bool is_baseline = check.kind == CheckKind::baseline, is_early = check.kind == CheckKind::early;
        early = early || is_early;
        if (is_baseline || (is_early && check.counts_from < check.due))
            what = joined({what, is_baseline ? ", from " : ", not before ", clock(check.counts_from)});
        if (check.state == CheckState::done_late || check.state == CheckState::missed ||
            check.state == CheckState::not_needed)
            what = joined({what, " (", name(check.state), ")"});
        // What was taken before it counts closes nothing: the place for the pen stays open.
        const bool counts = !check.done || *check.done >= check.counts_from;
        const bool still = check.state == CheckState::due || check.state == CheckState::to_come;
        if (!counts)
            what = joined({what, "; taken at ", clock(*check.done), is_baseline ? ": too old" : ": too early",
                           still ? ", take it again" : ""});
        add_step(rows, check.due, is_baseline ? 0 : is_early ? 1 : 4, std::move(what), counts ? check.done : std::nullopt);
    }
    for (std::size_t i = 0; i < r.stages.size(); ++i) {
        const Stage& stage = r.stages[i];
        if (not_planned(stage)) continue;
        const bool past = r.live && (r.ended || stage.from <= r.now) && !(r.drifts && stage.from == r.as_if);
        const bool pause = stage.kind == StageKind::pause;
        std::string what = pause ? std::string("Standing still")
                                 : joined({i == 0 ? "Start at " : i > 0 && r.stages[i - 1].kind == StageKind::pause ? "Go on at " : "Set ",
                                           stage_rate_text(stage), i > 0 && early && !past ? ", once the early check is in" : ""});
        add_step(rows, stage.from, 2, std::move(what),
                 past ? std::optional(stage.from) : i == 0 && happened() ? std::optional(r.start) : std::nullopt);
    }
    if (!r.held && r.bag_empty && *r.bag_empty < r.all_in && !(cut && *r.bag_empty > *cut))
        add_step(rows, *r.bag_empty, 2, "Bag empty: go on with saline to clear the line", {});
    const bool in_bag = r.volumes.left_in_bag > Volume{}, in_line = r.volumes.left_in_line > Volume{};
    std::string end = r.rates.rule == RateRule::partial ? "Stop: this is the latest time."
                      : r.stopped                       ? "Stopped before all was in."
                      : in_bag || in_line               ? "Stop: the dose is in."
                                                        : "All in";
    if (in_bag) end = joined({end, " ", volume_text(r.volumes.left_in_bag), " stay in the bag."});
    if (in_line)
        end = joined({end, " ", volume_text(r.volumes.left_in_line), " stay in the line: not to be pushed."});
    if (cut) add_step(rows, *cut, 3, joined({name(Doing::stop), "."}), {});
    else if (!r.held) add_step(rows, r.all_in, 3, std::move(end), r.ended ? std::optional(r.all_in) : std::nullopt);

    Table table;
    table.caption = "What to do, and when";
    table.add_column("Due", Role::time);
    table.add_column("After start", Role::number);
    table.add_column("What");
    table.add_column("Done at", Role::pen);
    table.add_column("Charted", Role::tick);
    for (const StepRow& row : rows)
        table.add_row({clock(row.at), elapsed_text(row.at - r.start), row.what, row.done, ""});
    document.table(std::move(table));
}

void Builder::add_stages() {
    const bool gravity = state.device.kind == DeviceKind::gravity;
    Table table;
    table.caption = gravity ? joined({"Rates, by gravity with ", drop_factor_text(state.device.drops)})
                            : std::string("Rates, by pump");
    table.add_column("Stage");
    table.add_column("From", Role::time);
    table.add_column("To", Role::time);
    table.add_column("Rate", Role::number);
    if (gravity) {
        table.add_column("Drops", Role::number);
        table.add_column("Count");
    }
    table.add_column("Volume", Role::number);
    for (const Stage& stage : r.stages) {
        if (not_planned(stage)) continue;
        table.add_row({name(stage.kind), clock(stage.from), clock(stage.to), rate_text(stage.rate)});
        if (gravity) {
            table.add_cell(drops_text(stage.drops_per_min));
            table.add_cell(stage_count_text(stage));
        }
        table.add_cell(volume_text(stage.volume));
    }
    document.table(std::move(table));
}

std::string plan_against(const Window& w, const Reckoning& r) {
    if (w.kind == LimitKind::finish && r.stopped) return "stopped before all was in";
    switch (w.state) {
        case WindowState::passed:
        case WindowState::met: return std::string(name(w.state));
        case WindowState::not_recorded:
        case WindowState::not_running:
        case WindowState::open:
        case WindowState::closing: break;
    }
    if (!w.latest || !w.planned) return "no time planned";
    if (w.kind == LimitKind::finish && r.planned && r.rates.rule == RateRule::partial)
        return "not all of it by then";
    if (w.kind == LimitKind::finish && r.held) return "it stands still";
    if (w.kept && *w.latest - *w.planned > hours(24)) return "kept, more than a day to spare";
    const std::string span =
        w.kept ? minutes_left_text(*w.latest - *w.planned) : span_text(*w.planned - *w.latest);
    return joined({w.kept ? "kept, " : "not kept, ", span, w.kept ? " to spare" : " too late"});
}

void Builder::add_windows() {
    Table table;
    table.caption = "Limits: the latest moment, not a target";
    table.add_column("Limit");
    table.add_column("Latest", Role::time);
    table.add_column("Counted from");
    table.add_column("This plan");
    for (const Window& w : r.windows) {
        std::string from = counted_from_text(w);
        if (w.from != Anchor::label_expiry)
            from =
                w.opened ? joined({from, " at ", clock(*w.opened)}) : joined({from, ", ", not_recorded_text});
        // "Start by" alone is the earliest of all of them, above.
        const bool expiry = w.from == Anchor::label_expiry && w.kind == LimitKind::start;
        table.add_row({expiry ? std::string_view("Start before expiry") : name(w.kind), w.latest ? clock(*w.latest) : std::string(not_recorded_text), from,
                       plan_against(w, r)});
    }
    document.table(std::move(table));
}

void Builder::add_volumes() {
    const Volumes& v = r.volumes;
    document.heading(r.rates.rule == RateRule::partial
                         ? joined({"Volumes, if it were stopped at ", clock(r.all_in)})
                         : std::string("Volumes"));
    document.fact("Bag, by its label", volume_text(v.bag));
    if (v.lost > Volume{}) document.fact("Lost in priming", volume_text(v.lost));
    document.fact("Wanted (the dose)", volume_text(v.wanted));
    document.fact("Held by the line",
                  joined({volume_text(v.line), ", ", name(state.line.primed_with),
                          state.line.cleared ? ", cleared at the end" : ", not cleared"}));
    if (v.saline_first > Volume{}) document.fact("Saline that goes in first", volume_text(v.saline_first));
    // Of what does not fit no more is said to go in than the headline says.
    const bool partial = r.rates.rule == RateRule::partial;
    const Rounding in = partial ? Rounding::down : Rounding::nearest, left = partial ? Rounding::up : Rounding::nearest;
    document.fact("Counted by the device", volume_text(v.pushed, in));
    document.fact("Given of the component", volume_text(v.given, in));
    document.fact("Left in the bag", volume_text(v.left_in_bag, left));
    document.fact("Left in the line", volume_text(v.left_in_line));
    if (state.recipient.weight.grams > 0)
        document.fact("Weight used", joined({mass_text(state.recipient.weight),
                                             state.recipient.weight_estimated ? ", an estimate" : ""}));
}

void Builder::add_notes() {
    document.heading("Please note");
    const std::size_t before_items = document.blocks.size();
    for (const Severity severity : {Severity::stop, Severity::caution, Severity::note}) {
        for (const Warned& warned : r.warnings) {
            if (warned.severity != severity || warned.code == Warning::protocol_is_example) continue;
            const bool note = severity == Severity::note;
            document.item(joined({note ? std::string_view() : name(severity), note ? "" : ": ",
                                  warning_text(warned.code, warned.figures, day)}));
        }
    }
    for (std::size_t i = 0; i < day.wall.change_count(); ++i) {
        const WallClock::Change& change = day.wall.changes()[i];
        const auto end = void_after(r);
        if (!end || change.at > *end || day.wall.local_day(change.at) < day.first_day) continue;
        const Seconds by = change.offset - day.wall.offset_at(change.at - Seconds{1});
        DayClock before = day;  // the change is told by the clock that it ends
        before.wall = WallClock(change.offset - by);
        document.item(joined({"The clock is put ", by < Seconds{} ? "back " : "forward ", span_text(by),
                              " at ", clock_text(change.at, before), ". Times that say ",
                              utc_offset_text(change.offset), " are by the new time."}));
    }
    if (document.blocks.size() == before_items) document.blocks.pop_back();  // the heading alone
}

void Builder::add_sum(Table& table, std::string_view what, const Sum& sum, std::string_view source) {
    const std::string text = sum_text(sum, day);
    if (!text.empty()) table.add_row({what, text, source});
}

void Builder::add_workings() {
    document.part("How it was worked out");
    if (r.planned) add_volumes();
    Table table;
    table.add_column("Number");
    table.add_column("Sum");
    table.add_column("Where the rule is from");
    constexpr std::string_view the_order = "the order", the_rest = "follows from the rest";
    for (const Window& w : r.windows) add_sum(table, name(w.kind), w.sum, references.cite(w.basis));
    if (r.planned) {
        const Judgement& j = r.judgement;
        add_sum(table, "Dose", r.volumes.wanted_sum, the_order);
        add_sum(table, "Counted by the device", r.volumes.pushed_sum, the_rest);
        for (const Stage& stage : r.stages)
            if (stage.kind == StageKind::slow)
                add_sum(table, name(stage.kind), stage.sum, references.cite(stage.basis));
        add_sum(table, "Least rate for the limit", r.rates.floor_sum, the_rest);
        for (const Ceiling& ceiling : r.rates.ceilings) {
            std::string label(name(ceiling.kind));
            label.front() = static_cast<char>(label.front() - 'a' + 'A');
            add_sum(table, label, ceiling.sum,
                    ceiling.kind == CeilingKind::device   ? std::string("the device")
                    : ceiling.kind == CeilingKind::slowed ? std::string("slowed down while it ran")
                    : ceiling.kind == CeilingKind::order ? std::string(the_order)
                                                         : references.cite(ceiling.basis));
        }
        add_sum(table, "Rate to set", r.rates.set_sum, name(r.rates.rule));
        if (j.verdict != Verdict::does_not_fit) add_sum(table, "All in", r.all_in_sum, the_rest);
        add_sum(table, "Can be given by the limit", j.can_give_sum, the_rest);
        add_sum(table, "Would be left", j.left_sum, the_rest);
        add_sum(table, "Largest bag that fits", j.largest_bag_sum, the_rest);
        add_sum(table, "Late by", j.over_sum, "at the highest rate allowed");
        add_sum(table, "Latest start", j.latest_start_sum, the_rest);
        if (j.weight_exact)
            table.add_row({"Would fit from a weight of",
                           j.weight_on_grid ? joined({mass_text(*j.weight_exact), "; with this device from ",
                                                      mass_text(*j.weight_on_grid)})
                                            : mass_text(*j.weight_exact),
                           the_rest});
        for (const Check& check : r.checks)
            add_sum(table, check_title(check.kind), check.sum, references.cite(check.basis));
        if (j.verdict == Verdict::fits_without_reserve)
            table.add_row({"Reserve",
                           joined({span_text(protocol.reserve.minutes), ", device accuracy ",
                                   percent_text(protocol.reserve.accuracy_tenths_percent)}),
                           references.cite(protocol.reserve.basis)});
    }
    document.table(std::move(table));
    references.add_list(document);
}

}  // namespace

void add_rules_and_cautions(Document& document, const Protocol& protocol) {
    document.heading("Before you use this");
    std::vector<std::string> items;
    if (!protocol.adopted) items.push_back(warning_text(Warning::protocol_is_example, {}, DayClock{}));
    for (std::size_t i = 0; i < caution_count; ++i) items.emplace_back(caution(i));
    document.cautions(std::move(items));
}

Document plan_sheet(const Protocol& protocol, const State& state, const Reckoning& reckoning,
                    const WallClock& wall, const SheetLabels& labels) {
    Builder b{protocol, state, reckoning, day_clock_of(state, wall, reckoning.now), References(protocol)};
    b.add_top(labels);
    b.add_key_facts();
    if (b.has_steps()) {
        b.add_steps();
        b.add_stages();
    }
    b.add_windows();
    b.add_notes();
    add_rules_and_cautions(b.document, protocol);
    b.add_workings();
    return std::move(b.document);
}

}  // namespace hangtime
