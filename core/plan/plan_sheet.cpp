#include "core/plan/plan_sheet.hpp"

#include "core/plan/plan_words.hpp"
#include "core/plan/references.hpp"
#include "core/words/spelling.hpp"
#include "core/words/sums.hpp"
#include "core/words/words.hpp"

#include <algorithm>

namespace hangtime {

namespace {

using sheet::Document;
using sheet::Fact;
using sheet::Role;
using sheet::Table;

constexpr std::string_view for_a_pen = "______________";

struct Builder {
    const Protocol& protocol;
    const State& state;
    const Reckoning& r;
    DayClock day;
    References references;
    Document document{};

    std::string clock(Instant at) const { return clock_text(at, day); }
    std::string since_start(Instant at) const { return elapsed_text(at - r.start); }

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
    void add_moments();
};

void Builder::add_top(const SheetLabels& labels) {
    document.title = state.unit.component ? name(*state.unit.component) : "One bag";
    if (state.unit.bag) document.title += ", " + volume_text(*state.unit.bag);
    document.start = r.planned ? r.start : r.now;

    std::vector<Fact> facts;
    if (!labels.object.empty()) facts.push_back({"Object", labels.object});
    facts.push_back({"Bag number ends in", labels.bag_digits.empty() ? std::string(for_a_pen) : labels.bag_digits});
    if (const auto end = void_after(r)) facts.push_back({"Void after", clock(*end)});
    std::string rules = protocol.title;
    if (!protocol.adopted) rules += (rules.empty() ? "" : " - ") + std::string(example_label());
    if (!rules.empty()) facts.push_back({"Rules", std::move(rules)});
    document.facts(std::move(facts));

    document.headline(verdict_text(r, day));
    std::vector<std::string> items = passed_texts(r, day);
    if (r.planned) {
        for (const Reason reason : r.judgement.reasons) items.emplace_back(sentence(reason));
        for (const Advised& advised : r.judgement.advice)
            items.push_back(advice_text(advised.code, advised.figures, day));
    }
    document.list(std::move(items));
}

void Builder::add_key_facts() {
    std::vector<Fact> facts;
    if (happened() && !r.next.empty()) {
        const Step& step = r.next[0];
        const std::string_view what = step.check >= 0
                                          ? check_title(r.checks[static_cast<std::size_t>(step.check)].kind)
                                          : name(step.kind);
        facts.push_back({"Next", clock(step.at) + ", " + std::string(what)});
    }
    if (r.start_by && !happened() && (has_steps() || !r.planned)) facts.push_back({"Start by", clock(*r.start_by) + " at the latest"});
    if (r.finish_by) facts.push_back({"All in by", clock(*r.finish_by) + " at the latest"});
    if (has_steps()) {
        for (std::size_t i = 0; i < r.stages.size(); ++i) {
            const Stage& stage = r.stages[i];
            std::string value = clock(stage.from) + ", set " + stage_rate_text(stage);
            const std::string count = stage_count_text(stage);
            if (!count.empty()) value += ", " + count;
            facts.push_back({i == 0 ? "Start" : "Then", std::move(value)});
        }
    }
    document.facts(std::move(facts));
}

void Builder::add_steps() {
    if (!has_steps()) return;
    Table table;
    table.caption = "What to do, and when";
    table.columns = {{"Due", Role::time}, {"After start", Role::number}, {"What", Role::text},
                     {"Done at", Role::pen}, {"Charted", Role::tick}};

    struct Row {
        Instant at;
        int order;  // among what falls on the same second
        std::string what, done;
    };
    std::vector<Row> rows;
    bool early = false;
    for (const Check& check : r.checks) {
        std::string what(check_title(check.kind));
        if (check.kind == CheckKind::baseline) what += ", from " + clock(check.counts_from);
        if (check.kind == CheckKind::early && check.counts_from < check.due)
            what += ", not before " + clock(check.counts_from);
        if (check.state == CheckState::done_late || check.state == CheckState::missed ||
            check.state == CheckState::not_needed)
            what += " (" + std::string(name(check.state)) + ")";
        early = early || check.kind == CheckKind::early;
        const int order = check.kind == CheckKind::baseline ? 0 : check.kind == CheckKind::early ? 1 : 4;
        rows.push_back({check.due, order, std::move(what), check.done ? clock(*check.done) : std::string()});
    }
    for (std::size_t i = 0; i < r.stages.size(); ++i) {
        const Stage& stage = r.stages[i];
        std::string what = i == 0 ? "Start at " : "Set ";
        what += stage_rate_text(stage);
        if (i > 0 && early) what += ", once the early check is in";
        const bool known = i == 0 && happened();
        rows.push_back({stage.from, 2, std::move(what), known ? clock(r.start) : std::string()});
    }
    if (r.bag_empty && *r.bag_empty < r.all_in)
        rows.push_back({*r.bag_empty, 2, "Bag empty: go on with saline to clear the line", {}});
    std::string end = "All in";
    if (r.volumes.left_in_bag > Volume{} || r.volumes.left_in_line > Volume{}) {
        end = "Stop: the dose is in.";
        if (r.rates.rule == RateRule::partial) end = "Stop: this is the latest time.";
        if (r.volumes.left_in_bag > Volume{}) end += " " + volume_text(r.volumes.left_in_bag) + " stay in the bag.";
        if (r.volumes.left_in_line > Volume{})
            end += " " + volume_text(r.volumes.left_in_line) + " stay in the line: not to be pushed.";
    }
    rows.push_back({r.all_in, 3, std::move(end), {}});

    std::stable_sort(rows.begin(), rows.end(),
                     [](const Row& a, const Row& b) { return a.at != b.at ? a.at < b.at : a.order < b.order; });
    for (Row& row : rows)
        table.rows.push_back({clock(row.at), since_start(row.at), std::move(row.what), std::move(row.done), ""});
    document.table(std::move(table));
}

void Builder::add_stages() {
    if (!has_steps()) return;
    const bool gravity = state.device.kind == DeviceKind::gravity;
    Table table;
    table.caption = gravity ? "Rates, by gravity with " + drop_factor_text(state.device.drops) : "Rates, by pump";
    table.columns = {{"Stage", Role::text}, {"From", Role::time}, {"To", Role::time}, {"Rate", Role::number}};
    if (gravity) {
        table.columns.push_back({"Drops", Role::number});
        table.columns.push_back({"Count", Role::text});
    }
    table.columns.push_back({"Volume", Role::number});
    for (const Stage& stage : r.stages) {
        std::vector<std::string> row = {std::string(name(stage.kind)), clock(stage.from), clock(stage.to),
                                        rate_text(stage.rate)};
        if (gravity) {
            row.push_back(drops_text(stage.drops_per_min));
            row.push_back(stage_count_text(stage));
        }
        row.push_back(volume_text(stage.volume));
        table.rows.push_back(std::move(row));
    }
    document.table(std::move(table));
}

std::string plan_against(const Window& w, const Reckoning& r) {
    switch (w.state) {
        case WindowState::passed:
        case WindowState::met: return std::string(name(w.state));
        case WindowState::not_recorded:
        case WindowState::not_running:
        case WindowState::open:
        case WindowState::closing: break;
    }
    if (!w.latest || !w.planned) return "no time planned";
    if (w.kind == LimitKind::finish && r.planned && r.rates.rule == RateRule::partial) return "not all of it by then";
    const std::string span = w.kept ? minutes_left_text(*w.latest - *w.planned) : span_text(*w.planned - *w.latest);
    return w.kept ? "kept, " + span + " to spare" : "not kept, " + span + " too late";
}

void Builder::add_windows() {
    Table table;
    table.caption = "Limits: the latest moment, not a target";
    table.columns = {{"Limit", Role::text}, {"Latest", Role::time}, {"Counted from", Role::text},
                     {"This plan", Role::text}};
    for (const Window& w : r.windows) {
        std::string from = counted_from_text(w);
        if (w.from != Anchor::label_expiry)
            from += w.opened ? " at " + clock(*w.opened) : ", " + std::string(not_recorded_text);
        table.rows.push_back({std::string(name(w.kind)), w.latest ? clock(*w.latest) : std::string(not_recorded_text),
                              std::move(from), plan_against(w, r)});
    }
    document.table(std::move(table));
}

void Builder::add_volumes() {
    if (!r.planned) return;
    const Volumes& v = r.volumes;
    std::vector<Fact> facts;
    const auto add = [&facts](std::string name_, Volume volume, bool always) {
        if (always || volume > Volume{}) facts.push_back({std::move(name_), volume_text(volume)});
    };
    add("Bag, by its label", v.bag, true);
    add("Lost in priming", v.lost, false);
    add("Wanted (the dose)", v.wanted, true);
    add("Held by the line", v.line, true);
    facts.back().value += ", " + std::string(name(state.line.primed_with)) +
                          (state.line.cleared ? ", cleared at the end" : ", not cleared");
    add("Saline that goes in first", v.saline_first, false);
    add("Counted by the device", v.pushed, true);
    add("Given of the component", v.given, true);
    add("Left in the bag", v.left_in_bag, true);
    add("Left in the line", v.left_in_line, true);
    if (state.recipient.weight.grams > 0)
        facts.push_back({"Weight used", mass_text(state.recipient.weight) +
                                            (state.recipient.weight_estimated ? ", an estimate" : "")});
    document.heading(r.rates.rule == RateRule::partial ? "Volumes, if it were stopped at " + clock(r.all_in)
                                                       : std::string("Volumes"));
    document.facts(std::move(facts));
}

void Builder::add_notes() {
    std::vector<std::string> items;
    for (const Severity severity : {Severity::stop, Severity::caution, Severity::note}) {
        for (const Warned& warned : r.warnings) {
            if (warned.severity != severity || warned.code == Warning::protocol_is_example) continue;
            std::string text;
            if (severity != Severity::note) text = std::string(name(severity)) + ": ";
            items.push_back(text + warning_text(warned.code, warned.figures, day));
        }
    }
    for (std::size_t i = 0; i < day.wall.change_count(); ++i) {
        const WallClock::Change& change = day.wall.changes()[i];
        const auto end = void_after(r);
        if (!end || change.at > *end || day.wall.local_day(change.at) < day.first_day) continue;
        const Seconds by = change.offset - day.wall.offset_at(change.at - Seconds{1});
        DayClock before = day;  // the change is told by the clock that it ends
        before.wall = WallClock(change.offset - by);
        items.push_back(std::string("The clock is put ") + (by < Seconds{} ? "back " : "forward ") + span_text(by) +
                        " at " + clock_text(change.at, before) + ". Times that say " + utc_offset_text(change.offset) +
                        " are by the new time.");
    }
    if (items.empty()) return;
    document.heading("Please note");
    document.list(std::move(items));
}

void Builder::add_workings() {
    document.part("How it was worked out");
    add_volumes();
    Table table;
    table.columns = {{"Number", Role::text}, {"Sum", Role::text}, {"Where the rule is from", Role::text}};
    const auto add = [&](std::string_view what, const Sum& sum, std::string source) {
        std::string text = sum_text(sum, day);
        if (!text.empty()) table.rows.push_back({std::string(what), std::move(text), std::move(source)});
    };
    const std::string the_order = "the order";
    const std::string sum_only = "follows from the rest";
    for (const Window& w : r.windows) add(name(w.kind), w.sum, references.cite(w.basis));
    if (r.planned) {
        const Judgement& j = r.judgement;
        add("Dose", r.volumes.wanted_sum, the_order);
        add("Counted by the device", r.volumes.pushed_sum, sum_only);
        for (const Stage& stage : r.stages)
            if (stage.kind == StageKind::slow) add(name(stage.kind), stage.sum, references.cite(stage.basis));
        add("Least rate for the limit", r.rates.floor_sum, sum_only);
        for (const Ceiling& ceiling : r.rates.ceilings) {
            std::string label(name(ceiling.kind));
            label.front() = static_cast<char>(label.front() - 'a' + 'A');
            const bool from_protocol = ceiling.kind != CeilingKind::order && ceiling.kind != CeilingKind::device;
            add(label, ceiling.sum,
                from_protocol                          ? references.cite(ceiling.basis)
                : ceiling.kind == CeilingKind::device ? "the device"
                                                      : the_order);
        }
        add("Rate to set", r.rates.set_sum, std::string(name(r.rates.rule)));
        if (j.verdict != Verdict::does_not_fit) add("All in", r.all_in_sum, sum_only);
        add("Can be given by the limit", j.can_give_sum, sum_only);
        add("Would be left", j.left_sum, sum_only);
        add("Largest bag that fits", j.largest_bag_sum, sum_only);
        add("Late by", j.over_sum, "at the highest rate allowed");
        add("Latest start", j.latest_start_sum, sum_only);
        if (j.weight_exact)
            table.rows.push_back({"Would fit from a weight of",
                                  mass_text(*j.weight_exact) +
                                      (j.weight_on_grid ? "; with this device from " + mass_text(*j.weight_on_grid)
                                                        : std::string()),
                                  sum_only});
        for (const Check& check : r.checks) add(check_title(check.kind), check.sum, references.cite(check.basis));
        if (j.verdict == Verdict::fits_without_reserve)
            table.rows.push_back({"Reserve",
                                  span_text(protocol.reserve.minutes) + ", device accuracy " +
                                      percent_text(protocol.reserve.accuracy_tenths_percent),
                                  references.cite(protocol.reserve.basis)});
    }
    document.table(std::move(table));
    references.add_list(document);
}

void Builder::add_moments() {
    const auto add = [this](std::string_view kind, std::string_view spelled, std::string_view title,
                            Instant at) -> sheet::Moment& {
        document.moments.emplace_back();
        sheet::Moment& moment = document.moments.back();
        moment.kind = kind;
        moment.code = spelled;
        moment.name = title;
        moment.at = at;
        moment.shown = clock(at);
        return moment;
    };
    for (const Window& w : r.windows) {
        if (!w.latest) continue;
        sheet::Moment& moment = add("limit", code(w.kind), name(w.kind), *w.latest);
        moment.detail = counted_from_text(w);
        moment.sum = sum_text(w.sum, day);
        moment.source = basis_text(protocol, w.basis);
    }
    if (!r.planned) return;
    for (const Stage& stage : r.stages) {
        sheet::Moment& moment = add("stage", code(stage.kind), name(stage.kind), stage.from);
        moment.until = stage.to;
        moment.until_shown = clock(stage.to);
        moment.detail = stage_rate_text(stage) + ", " + volume_text(stage.volume);
        moment.sum = sum_text(stage.sum, day);
        if (stage.kind == StageKind::slow) moment.source = basis_text(protocol, stage.basis);
        moment.in_calendar = false;
    }
    for (const Check& check : r.checks) {
        sheet::Moment& moment = add("check", code(check.kind), check_title(check.kind), check.due);
        moment.detail = name(check.state);
        moment.sum = sum_text(check.sum, day);
        moment.source = basis_text(protocol, check.basis);
    }
}

}  // namespace

void add_rules_and_cautions(Document& document, const Protocol& protocol) {
    document.heading("Before you use this");
    std::vector<std::string> items;
    if (!protocol.adopted) items.push_back(warning_text(Warning::protocol_is_example, {}, DayClock{}));
    for (std::size_t i = 0; i < caution_count; ++i) items.emplace_back(caution(i));
    document.cautions(std::move(items));
}

Document plan_sheet(const Protocol& protocol, const State& state, const Reckoning& reckoning, const WallClock& wall,
                    const SheetLabels& labels) {
    Builder b{protocol, state, reckoning, day_clock_of(state, wall, reckoning.now), References(protocol)};
    b.add_top(labels);
    b.add_key_facts();
    b.add_steps();
    b.add_stages();
    b.add_windows();
    b.add_notes();
    add_rules_and_cautions(b.document, protocol);
    b.add_workings();
    b.add_moments();
    return std::move(b.document);
}

}  // namespace hangtime
