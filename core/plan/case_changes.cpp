#include "core/plan/case_changes.hpp"

#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/session/read.hpp"
#include "core/words/spelling.hpp"
#include "core/words/words.hpp"

#include <algorithm>
#include <memory>

namespace hangtime {

namespace {

using sheet::Role;
using sheet::Table;

constexpr std::string_view none = "-";

// What one protocol answers, in the order in which it is told.
struct Answers {
    std::vector<std::pair<std::string, std::string>> lines;
    std::string about;
    bool covered = true, possible = true;

    const std::string* find(const std::string& what) const {
        for (const auto& [name, value] : lines)
            if (name == what) return &value;
        return nullptr;
    }
};

// One line for each kind of check, with its times.
void add_checks(Answers& out, const Reckoning& r, const DayClock& day) {
    for (int k = 0; k < code_count<CheckKind>(); ++k) {
        const auto kind = static_cast<CheckKind>(k);
        std::string times;
        for (const Check& check : r.checks)
            if (check.kind == kind) times += (times.empty() ? "" : ", ") + clock_text(check.due, day);
        if (!times.empty()) out.lines.emplace_back(check_title(kind), std::move(times));
    }
}

// `protocol` gets the id that the case asks for: which one that is does not matter here.
Answers answers_of(Protocol& protocol, const DemoCase& demo, Reckoning& r) {
    Answers out;
    if (const Result<std::string> id = read_protocol_id(demo.text); id.ok()) protocol.id = id.value();
    const Result<Request> read = read_request(demo.text, protocol);
    if (!read.ok()) {  // what was chosen in this case is not allowed under these rules
        out.possible = false;
        out.lines.emplace_back("Verdict", joined({"not possible as it is: ", read.error().where, " ", read.error().problem}));
        return out;
    }
    const Request& request = read.value();
    out.covered = !request.not_covered;
    if (!out.covered) {
        out.about = name(*request.not_covered);
        return out;
    }
    const State& state = request.state;
    if (state.unit.component) out.about = name(*state.unit.component);
    if (state.unit.bag) out.about = joined({out.about, out.about.empty() ? "" : ", ", volume_text(*state.unit.bag)});
    Instant now = bounds::earliest;
    if (request.now) now = request.now->at;
    else if (state.times.start) now = state.times.start->when.at;
    reckon(protocol, state, now, r);
    const DayClock day = day_clock_of(state, request.wall, now);
    const auto add = [&](std::string_view what, std::string value) {
        out.lines.emplace_back(std::string(what), std::move(value));
    };
    if (!r.planned) {
        add("Verdict", verdict_text(r, day));
    } else {
        const Judgement& j = r.judgement;
        add("Verdict", std::string(name(j.verdict)));
        if (j.verdict == Verdict::does_not_fit) {
            add("Can be given by the limit", volume_text(j.can_give, Rounding::down));
            if (j.largest_bag > Volume{}) add("A split that would fit, at most", volume_text(j.largest_bag, Rounding::down));
        }
        std::string rates;
        for (const Stage& stage : r.stages)
            if (stage.kind != StageKind::pause)
                rates += (rates.empty() ? "" : ", then ") + stage_rate_text(stage);
        add("Rate", std::move(rates));
        add(j.verdict == Verdict::does_not_fit ? "Stop at" : "All in at", clock_text(r.all_in, day));
    }
    if (r.start_by) add(name(LimitKind::start), clock_text(*r.start_by, day));
    if (r.finish_by) add(name(LimitKind::finish), clock_text(*r.finish_by, day));
    for (const Window& w : r.windows)  // the start and the end stand above, by the earliest of all that bears on them
        if (w.binds && w.latest && w.kind != LimitKind::start && w.kind != LimitKind::finish)
            add(name(w.kind), clock_text(*w.latest, day));
    if (r.planned) add_checks(out, r, day);
    return out;
}

}  // namespace

std::string case_title(std::string_view name) {
    std::size_t at = 0;
    while (at < name.size() && ((name[at] >= '0' && name[at] <= '9') || name[at] == '-')) ++at;
    std::string out(name.substr(at));
    std::replace(out.begin(), out.end(), '-', ' ');
    if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 'a' + 'A');
    return out;
}

std::vector<CaseChange> case_changes(const Protocol& before, const Protocol& after, std::span<const DemoCase> cases) {
    std::vector<CaseChange> out;
    const auto scratch = std::make_unique<Reckoning>();
    Protocol first = before, second = after;
    for (const DemoCase& demo : cases) {
        const Answers old = answers_of(first, demo, *scratch), now = answers_of(second, demo, *scratch);
        CaseChange change;
        change.title = case_title(demo.name);
        change.about = old.about.empty() ? now.about : old.about;
        change.covered = old.covered && now.covered;
        const bool both = old.possible && now.possible;  // else the rest is only there on one side
        for (const auto& [what, value] : old.lines) {
            if (!both && what != "Verdict") continue;
            const std::string* other = now.find(what);
            if (!other || *other != value) change.lines.push_back({what, value, other ? *other : std::string(none)});
        }
        for (const auto& [what, value] : now.lines)
            if (both && !old.find(what)) change.lines.push_back({what, std::string(none), value});
        out.push_back(std::move(change));
    }
    return out;
}

std::size_t changed_cases(std::span<const CaseChange> changes) {
    return static_cast<std::size_t>(
        std::count_if(changes.begin(), changes.end(), [](const CaseChange& c) { return !c.lines.empty(); }));
}

std::string changed_sentence(std::span<const CaseChange> changes) {
    const std::size_t changed = changed_cases(changes), all = changes.size();
    if (all == 0) return "There is no case to try it on.";
    if (changed == 0)
        return all == 1 ? "Nothing changes in this one case." : joined({"Nothing changes in these ", std::to_string(all), " cases."});
    return joined({std::to_string(changed), " of ", std::to_string(all), all == 1 ? " case" : " cases",
                   changed == 1 ? " comes out differently." : " come out differently."});
}

sheet::Document case_sheet(const Protocol& before, const Protocol& after, std::span<const DemoCase> cases) {
    sheet::Document document;
    document.title = "What changes: " + before.title + " and " + after.title;
    document.fact("Old", rules_text(before));
    document.fact("New", rules_text(after));
    const std::vector<CaseChange> changes = case_changes(before, after, cases);
    document.headline(changed_sentence(changes));
    std::vector<std::string> same;
    for (const CaseChange& change : changes) {
        const std::string caption = joined({change.title, change.about.empty() ? "" : ": ", change.about});
        if (change.lines.empty()) {
            same.push_back(joined({caption, change.covered ? "" : ", not covered here"}));
            continue;
        }
        Table table{caption, {{"Answer", Role::text}, {"Old", Role::text}, {"New", Role::text}}, {}};
        for (const CaseLine& line : change.lines) table.rows.push_back({line.what, line.before, line.after});
        document.table(std::move(table));
    }
    if (!same.empty()) {
        document.heading("Nothing changes in");
        document.list(std::move(same));
    }
    add_rules_and_cautions(document, after);
    return document;
}

}  // namespace hangtime
