#include "core/cli/round.hpp"

#include "core/cli/common.hpp"
#include "core/json/write.hpp"
#include "core/round/persons.hpp"
#include "core/words/spelling.hpp"
#include "core/words/words.hpp"

#include <array>

namespace hangtime::cli {

namespace {

using namespace rounds;
using Layout = json::Writer::Layout;

constexpr std::array<std::string_view, 3> standings = {"searching", "optimal", "infeasible"};
constexpr std::array<std::string_view, 4> places = {"open", "running", "over", "withdrawn"};
constexpr std::array<std::string_view, 5> demand_kinds = {"transfusion", "hours", "break", "handover",
        "second"};

class Writer {
public:
    explicit Writer(const RoundResult& result)
        : result_(result), round_(result.round), persons_(persons_of(result.round)) {}

    std::string write() {
        const Progress& p = result_.progress;
        out_.begin_object().integer("hangtime_round_plan", 1).text("protocol", round_.protocol);
        out_.text("standing", standings[static_cast<std::size_t>(p.standing)]);
        out_.text("put_first", round_.priority == Priority::promise ? "promise" : "finish");
        out_.text("optimised", optimised_sentence(round_.priority)).integer("grid_min", slot_minutes);
        out_.integer("nodes", p.nodes);
        out_.key("cost");
        if (p.has_answer) cost(p.best);
        else out_.null();
        out_.key("bound");
        if (p.standing != Standing::infeasible) cost(p.bound);
        else out_.null();
        out_.key("transfusions").begin_list();
        for (std::size_t i = 0; i < round_.transfusions.size(); ++i) transfusion(i);
        out_.end_list().key("conflict");
        if (result_.conflict) conflict(*result_.conflict);
        else out_.null();
        out_.key("cautions").begin_list();
        for (std::size_t i = 0; i < caution_count; ++i) out_.text(caution(i));
        out_.end_list().end_object();
        return out_.take();
    }

private:
    void cost(const Cost& cost) {
        out_.begin_object(Layout::along).integer("weighted_min", cost.finish);
        out_.integer("changes", cost.changes).end_object();
    }
    // To the hundredth, rounded up: never said to be less than it is.
    void rate(std::string_view key, Rate r) {
        out_.decimal(key, ceil_div(r.units_per_s, hundredths_of_ml_per_h(1).units_per_s), 2);
    }
    void time(std::string_view key, Instant at) { out_.text(key, iso_text(at, round_.wall)); }

    void transfusion(std::size_t i) {
        const PlannedTransfusion& t = round_.transfusions[i];
        out_.begin_object().text("object", name(t.object)).text("component", code(*t.state.unit.component));
        out_.integer("person", persons_[i] + 1);
        if (t.state.other_line > Rate{}) rate("other_line_ml_per_h", t.state.other_line);
        else out_.null("other_line_ml_per_h");
        out_.text("place", places[static_cast<std::size_t>(result_.options.standing[i])]);
        std::size_t job = 0;
        while (job < result_.options.transfusion.size() &&
                result_.options.transfusion[job] != static_cast<int>(i))
            ++job;
        const bool known = result_.schedule && job < result_.options.transfusion.size();
        out_.key("plan");
        if (!known) {
            out_.null().end_object();
            return;
        }
        const Choice& choice = result_.schedule->choices[job];
        const OptionDetail& d = result_.options.details[job][static_cast<std::size_t>(choice.option)];
        out_.begin_object();
        if (t.happened.issued) out_.null("call_at");
        else time("call_at", d.issued - t.ready);
        time("issued_at", d.issued);
        time("start_at", d.start);
        time("all_in_at", d.all_in);
        time("finish_by", d.finish_by);
        rate("highest_ml_per_h", d.most);
        out_.integer("nurse", choice.nurse + 1);
        if (choice.second >= 0) out_.integer("second", choice.second + 1);
        else out_.null("second");
        out_.key("checks").begin_list();
        for (std::size_t c = 0; c < d.due.size(); ++c) {
            const CheckPlace& place = result_.schedule->checks[job][c];
            out_.begin_object(Layout::along).text("kind", code(d.kinds[c]));
            time("due_at", d.due[c]);
            time("at", check_time(round_, d.due[c], place));
            out_.integer("nurse", place.nurse + 1).end_object();
        }
        out_.end_list().end_object().end_object();
    }

    void conflict(const Conflict& conflict) {
        const DayClock day = day_of(round_);
        out_.begin_object().boolean("smallest", conflict.smallest).boolean("complete", conflict.complete);
        out_.key("demands").begin_list();
        for (const Demand& d : conflict.demands) {
            out_.begin_object(Layout::along).text("kind", demand_kinds[static_cast<std::size_t>(d.kind)]);
            if (d.kind == Demand::Kind::transfusion)
                out_.text("object", name(round_.transfusions[static_cast<std::size_t>(d.index)].object));
            else if (d.index >= 0) out_.integer("nurse", d.index + 1);
            out_.text("text", demand_text(round_, d, day)).end_object();
        }
        out_.end_list().end_object();
    }

    const RoundResult& result_;
    const Round& round_;
    const std::vector<int> persons_;
    json::Writer out_;
};

}  // namespace

std::string round_json(const RoundResult& result) { return Writer(result).write(); }

namespace {
// Some seconds; what is not proven by then is said.
constexpr std::int64_t round_nodes = 300'000, conflict_nodes = 200'000;
}  // namespace

Outcome run_round(const Options& options) {
    Outcome failure;
    const auto loaded = load_with_protocol<Round>(options, read_round_protocol_id, read_round, failure);
    if (!loaded) return failure;
    const auto& [file, protocol, round] = *loaded;
    const RoundOptions found = options_of(protocol, round);
    const Solved solved = solve(found.problem, round_nodes);
    RoundResult result{round, found, solved.progress, solved.answer, std::nullopt};
    if (solved.progress.standing == Standing::infeasible)
        result.conflict = find_conflict(round, found, conflict_nodes);
    const Status status = result.schedule ? Status::fits : Status::does_not_fit;
    if (options.as == Format::json) return delivered(options, status, round_json(result));
    return delivered(options, status,
                     written_as(options.as, round_sheet(protocol, result), round.now.value_or(round.from)));
}

}  // namespace hangtime::cli
