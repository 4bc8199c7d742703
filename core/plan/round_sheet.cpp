#include "core/plan/round_sheet.hpp"

#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/plan/round_trial.hpp"
#include "core/plan/round_words.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/round/persons.hpp"
#include "core/words/words.hpp"

#include <algorithm>
#include <memory>

namespace hangtime {

namespace {

using namespace rounds;

struct Row {
    Instant at;
    int order;  // of those at the same time
    std::string what, object, who, detail;
    const char* code;
};

class Builder {
public:
    Builder(const Protocol& protocol, const RoundResult& result)
        : protocol_(protocol), result_(result), round_(result.round), day_(day_of(result.round)),
          r_(std::make_unique<Reckoning>()) {}

    sheet::Document build() {
        document_.title = "Round of " + count(round_.transfusions.size(), "transfusion") + ", " +
                          count(round_.nurses.size(), "nurse");
        document_.start = round_.from;
        document_.fact("Rules", rules_text(protocol_));
        document_.fact("Void after", clock_text(round_.until, day_));
        if (result_.schedule) planned();
        else not_planned();
        left_out();
        document_.heading("What is optimised");
        document_.paragraph(std::string(optimised_sentence(round_.priority)));
        document_.paragraph(round_.second_from_round
                                ? "The second person of each match is another nurse of this round."
                                : "The second person of each match is somebody outside this round.");
        other_lines();
        add_rules_and_cautions(document_, protocol_);
        return std::move(document_);
    }

private:
    static std::string count(std::size_t n, const char* what) {
        return std::to_string(n) + " " + what + (n == 1 ? "" : "s");
    }
    std::string clock(Instant at) const { return clock_text(at, day_); }
    const PlannedTransfusion& of_job(std::size_t j) const {
        return round_.transfusions[static_cast<std::size_t>(result_.options.transfusion[j])];
    }

    void planned() {
        Instant last{};
        for (std::size_t j = 0; j < result_.schedule->choices.size(); ++j)
            last = std::max(last, detail(j).all_in);
        const bool any = !result_.schedule->choices.empty();
        document_.headline(any ? "It can be done: the last one is all in at " + clock(last) + "."
                               : "Nothing is left to plan.");
        document_.paragraph(proof_text(result_.progress, round_.priority));
        for (std::size_t j = 0; j < result_.schedule->choices.size(); ++j) rows_of(j);
        std::stable_sort(rows_.begin(), rows_.end(), [](const Row& a, const Row& b) {
            return a.at != b.at ? a.at < b.at : a.order < b.order;
        });
        sheet::Table table;
        table.caption = "Who does what";
        table.add_column("Time", sheet::Role::time);
        table.add_column("What");
        table.add_column("For");
        table.add_column("Who");
        table.add_column("Done", sheet::Role::tick);
        for (const Row& row : rows_) {
            table.add_row({clock(row.at), row.detail.empty() ? row.what : row.what + ": " + row.detail,
                    row.object,
                           row.who});
            sheet::Moment moment;
            moment.kind = "round";
            moment.code = row.code;
            moment.name = joined({row.object, ": ", row.what});
            moment.at = row.at;
            moment.shown = clock(row.at);
            moment.detail = row.detail.empty() ? row.who : joined({row.who, ", ", row.detail});
            document_.moments.push_back(std::move(moment));
        }
        document_.table(std::move(table));
        each_transfusion();
    }

    const OptionDetail& detail(std::size_t j) const {
        return result_.options.details[j][static_cast<std::size_t>(result_.schedule->choices[j].option)];
    }

    void rows_of(std::size_t j) {
        const PlannedTransfusion& t = of_job(j);
        const Choice& choice = result_.schedule->choices[j];
        const OptionDetail& d = detail(j);
        const std::string object = object_text(t), nurse = nurse_text(choice.nurse);
        reckon_choice(t, d);
        if (!t.happened.issued) add(d.issued - t.ready, 0, "Call for the bag", object, "anybody", {}, "call");
        if (!t.happened.started) {
            const Instant match = d.start - protocol_.round->match_takes.value;
            const std::string second = choice.second >= 0 ? nurse_text(choice.second)
                                       : round_.second_from_round ? std::string()
                                                                  : "somebody outside";
            add(match, 1, "Match, hang", object, second.empty() ? nurse : joined({nurse, " and ", second}),
                    {}, "match");
            std::string rates;
            for (const Stage& stage : r_->stages)
                rates += (rates.empty() ? "" : ", then ") + stage_rate_text(stage);
            add(d.start, 2, "Start, and stay", object, nurse, rates, "start");
            // Who stays does the early check, so it is nobody else's to plan; it is on the list all the same.
            for (const Check& check : r_->checks)
                if (check.kind == CheckKind::early && std::find(d.due.begin(), d.due.end(), check.due) == d.due.end())
                    add(check.due, 3, std::string(check_title(check.kind)), object, nurse,
                        r_->stages.size() > 1 ? "the rate goes up only once it is in" : "", "check");
        }
        for (std::size_t c = 0; c < d.due.size(); ++c) {
            const CheckPlace& place = result_.schedule->checks[j][c];
            const Instant at = check_time(round_, d.due[c], place);
            add(at, 3, std::string(name(d.kinds[c])), object, nurse_text(place.nurse),
                at == d.due[c] ? std::string() : "due " + clock(d.due[c]), "check");
        }
        add(d.all_in, 4, "All in", object, nurse, {}, "all_in");
    }

    void add(Instant at, int order, std::string what, const std::string& object, std::string who,
            std::string more,
             const char* code) {
        if (round_.now && at < *round_.now) return;
        rows_.push_back({at, order, std::move(what), object, std::move(who), std::move(more), code});
    }

    void reckon_choice(const PlannedTransfusion& t, const OptionDetail& d) {
        State state = t.state;
        state.times.issued = Stated{d.issued, Precision::minute};
        state.times.start = Start{Stated{d.start, Precision::minute}, false};
        reckon(protocol_, state, d.issued, *r_);
    }

    void each_transfusion() {
        sheet::Table table;
        table.caption = "Each transfusion";
        for (const char* heading : {"Object", "Component"}) table.add_column(heading);
        table.add_column("Bag", sheet::Role::number);
        for (const char* heading : {"Call", "Issue", "Start", "All in", "Finish by"})
            table.add_column(heading, sheet::Role::time);
        table.add_column("Who");
        for (std::size_t j = 0; j < result_.schedule->choices.size(); ++j) {
            const PlannedTransfusion& t = of_job(j);
            const OptionDetail& d = detail(j);
            table.add_row({object_text(t), name(*t.state.unit.component), volume_text(*t.state.unit.bag),
                           t.happened.issued ? "issued" : clock(d.issued - t.ready), clock(d.issued),
                           t.happened.started ? joined({clock(d.start), " (runs)"}) : clock(d.start),
                                   clock(d.all_in),
                           clock(d.finish_by), nurse_text(result_.schedule->choices[j].nurse)});
        }
        document_.table(std::move(table));
        for (std::size_t j = 0; j < result_.schedule->choices.size(); ++j) {
            const PlannedTransfusion& t = of_job(j);
            if (t.happened.started && detail(j).all_in == detail(j).finish_by &&
                    t.happened.paused > Seconds{})
                document_.item(object_text(t) + ": after the pause it may not be all in by " +
                               clock(detail(j).finish_by) + ". Look at its own plan.");
            for (const std::string& text : round_person_texts(
                     round_, static_cast<std::size_t>(result_.options.transfusion[j])))
                document_.item(text);
            if (const std::string call = round_call_text(protocol_, result_, j, day_); !call.empty())
                document_.item(object_text(t) + ", call: " + call);
            document_.item(object_text(t) + ", set: " + round_set_text(protocol_, result_, j, day_));
        }
        if (!has_promises(round_)) return;
        document_.heading("Against what was promised");
        const std::vector<std::string> changes = round_changes(result_);
        for (const std::string& text : changes) document_.item(text);
        document_.paragraph(changes.empty() ? "Every start and every nurse is as promised."
                                            : "Everything else is as promised.");
    }

    void not_planned() {
        const bool proven = result_.progress.standing == Standing::infeasible;
        document_.headline(proven ? "It cannot be done as it is." : "No way was found yet.");
        if (!result_.conflict) {
            document_.paragraph("The search was ended before it was proven that there is none.");
            return;
        }
        const Conflict& conflict = *result_.conflict;
        document_.paragraph(conflict.demands.size() == 1 ? "This cannot be kept even by itself:"
                                                         : "These cannot all be kept together:");
        for (const Demand& demand : conflict.demands) document_.item(demand_text(round_, demand, day_));
        if (conflict.demands.size() == 1)
            document_.paragraph("No start of it meets its limits inside its windows and the round: look at "
                    "its own "
                                "plan, at the blood bank's times and at when the round has to be over.");
        else if (!conflict.complete && !conflict.smallest)
            document_.paragraph("The search was ended early: some of these may not be needed for the clash.");
        else
            document_.paragraph(std::string("If any one of them is given up, the others are possible. ") +
                                (conflict.smallest ? "No smaller set of demands clashes."
                                                   : "There may be a smaller set that clashes."));
    }

    // What a round does not plan, and what it takes as given.
    void other_lines() {
        document_.paragraph("Each transfusion is taken to be for a person of its own, but where it is said otherwise "
                            "above. Units of one person never run at the same time here, one after another with the "
                            "match and, where it is asked for, a look in between; only where the round says that they "
                            "run over two lines they may, and then they share the ceiling.");
        for (std::size_t i = 0; i < round_.transfusions.size(); ++i)
            if (const PlannedTransfusion& t = round_.transfusions[i]; t.state.other_line > Rate{} && beside(round_, i) < 0)
                document_.item(object_text(t) + " shares its ceiling with another line into the same person, which "
                               "is taken to run at " + rate_text(t.state.other_line) + " throughout.");
    }

    void left_out() {
        for (std::size_t i = 0; i < round_.transfusions.size(); ++i)
            if (result_.options.standing[i] == Place::over || result_.options.standing[i] == Place::withdrawn)
                document_.item(round_left_out_text(round_, result_.options, i, day_));
        for (const std::string& text : round_overlaps(result_)) document_.item(text);
    }

    const Protocol& protocol_;
    const RoundResult& result_;
    const Round& round_;
    DayClock day_;
    std::unique_ptr<Reckoning> r_;
    sheet::Document document_;
    std::vector<Row> rows_;
};

}  // namespace

sheet::Document round_sheet(const Protocol& protocol, const RoundResult& result) {
    return Builder(protocol, result).build();
}

DayClock day_of(const rounds::Round& round) { return DayClock(round.wall, round.from); }

Instant check_time(const rounds::Round& round, Instant due, const rounds::CheckPlace& place) {
    const Instant slot = round.from +
            Seconds{static_cast<std::int64_t>(place.slot) * rounds::slot_minutes * 60};
    return std::max(slot, due);
}

std::string demand_text(const rounds::Round& round, const rounds::Demand& demand, const DayClock& day) {
    const auto index = static_cast<std::size_t>(demand.index);
    const auto between = [&](const Stretch& s) {
        return joined({clock_text(s.from, day), " to ", clock_text(s.to, day)});
    };
    switch (demand.kind) {
        case Demand::Kind::transfusion: {
            const PlannedTransfusion& t = round.transfusions[index];
            if (t.happened.started) return object_text(t) + ", which runs";
            if (t.happened.issued)
                return object_text(t) + ", issued at " + clock_text(*t.happened.issued, day);
            return object_text(t) + ", called for between " + clock_text(t.call_earliest, day) + " and " +
                   clock_text(t.call_latest, day);
        }
        case Demand::Kind::hours: {
            std::string text = nurse_text(demand.index) + "'s hours";
            for (const Stretch& s : round.nurses[index].hours) text += ", " + between(s);
            return text;
        }
        case Demand::Kind::nurse_break:
            return nurse_text(demand.index) + "'s break, " +
                   between(round.nurses[index].breaks[static_cast<std::size_t>(demand.part)]);
        case Demand::Kind::handover:
            return nurse_text(demand.index) + "'s hand-over, " +
                   between(round.nurses[index].handovers[static_cast<std::size_t>(demand.part)]);
        case Demand::Kind::second: return "a second nurse of this round at every match";
    }
    return {};
}

std::string_view optimised_sentence(rounds::Priority priority) {
    if (priority == Priority::promise)
        return "First the fewest changes against what was promised (another start is one, another nurse is "
                "one), then "
               "the least sum, over all transfusions, of weight times the minutes to all in. Starts and "
                       "checks stand "
               "on a grid of 5 min.";
    return "First the least sum, over all transfusions, of weight times the minutes to all in, then the "
            "fewest changes "
           "against what was promised (another start is one, another nurse is one). Starts and checks stand "
                   "on a grid "
           "of 5 min.";
}

std::string proof_text(const rounds::Progress& progress, rounds::Priority priority) {
    const auto changes = [](std::int64_t n) { return std::to_string(n) + (n == 1 ? " change" : " changes"); };
    const std::string sum = std::to_string(progress.best.finish) + " weighted minutes, " +
            changes(progress.best.changes);
    if (progress.standing == Standing::optimal) return "Proven to be the best there is: " + sum + ".";
    const std::int64_t gap = progress.best.finish - progress.bound.finish;
    if (priority == Priority::promise && progress.best.changes > progress.bound.changes)
        return "The best found so far: " + sum + ". None has fewer than " + changes(progress.bound.changes) +
                ".";
    return "The best found so far: " + sum + ". Not proven: another could be better by up to " +
           std::to_string(gap > 0 ? gap : 0) + " weighted minutes.";
}

}  // namespace hangtime
