/// Round files, from JSON to an answer or to the demands that clash.

#include "core/round/round.hpp"
#include "core/plan/round_sheet.hpp"
#include "core/plan/round_words.hpp"
#include "core/round/persons.hpp"
#include "core/round/sequence.hpp"
#include "core/round/solver.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::rounds;

namespace {

struct Read {
    Protocol protocol;
    Round round;
};

std::string demo_text(const std::string& name) {
    return test::file_text("demo-data/rounds/" + name + ".json");
}

Read read(const std::string& text) {
    const auto id = read_round_protocol_id(text);
    REQUIRE(id.ok());
    Protocol protocol = test::shipped_protocol(id.value());
    const auto round = read_round(text, protocol);
    if (!round.ok()) FAIL(round.error().where << ": " << round.error().problem);
    return {protocol, round.value()};
}

struct Case {
    Read read;
    RoundOptions options;
    Solved solved;
};

Case solved(const std::string& name) {
    Case out{read(demo_text(name)), {}, {}};
    out.options = options_of(out.read.protocol, out.read.round);
    out.solved = solve(out.options.problem, 200'000);
    return out;
}

Standing standing_with(const Case& done, const Kept& kept) {
    return solve(with_demands(done.read.round, done.options, kept), 200'000).progress.standing;
}

// Only these demands.
Kept only(const Round& round, const std::vector<Demand>& demands, std::size_t but) {
    Kept kept;
    kept.transfusions.assign(round.transfusions.size(), false);
    kept.hours.assign(round.nurses.size(), false);
    kept.second = false;
    for (const NursePlan& nurse : round.nurses) {
        kept.breaks.emplace_back(nurse.breaks.size(), false);
        kept.handovers.emplace_back(nurse.handovers.size(), false);
    }
    for (std::size_t i = 0; i < demands.size(); ++i) {
        if (i == but) continue;
        const auto index = static_cast<std::size_t>(demands[i].index);
        const auto part = static_cast<std::size_t>(demands[i].part);
        switch (demands[i].kind) {
            case Demand::Kind::transfusion: kept.transfusions[index] = true; break;
            case Demand::Kind::hours: kept.hours[index] = true; break;
            case Demand::Kind::nurse_break: kept.breaks[index][part] = true; break;
            case Demand::Kind::handover: kept.handovers[index][part] = true; break;
            case Demand::Kind::second: kept.second = true; break;
        }
    }
    return kept;
}

struct Broken {
    const char *old, *by, *where, *problem;
};

}  // namespace

TEST_CASE("a round file is refused where it is wrong, with the path", "[round]") {
    const std::string good = demo_text("01-morning");
    REQUIRE(read_round(good, test::shipped_protocol("general-ward")).ok());
    const Broken cases[] = {
        {R"("hours": [{"from": "2026-03-14T07:00", "until": "2026-03-14T15:30"}])",
         R"("hours": [{"from": "2026-03-14T07:00", "until": "2026-03-14T12:00"}, {"from": "2026-03-14T11:55", "until": "2026-03-14T15:30"}])",
         "nurses[0].hours[1].from", "before the hours before it are over"},
        {R"("call": {"earliest": "2026-03-14T07:30", "latest": "2026-03-14T10:00"})",
         R"("call": {"earliest": "2026-03-14T10:30", "latest": "2026-03-14T10:00"})", "transfusions[0].call.latest",
         "closes before it opens"},
        {R"("bag_ml": 316, )", "", "transfusions[0].bag_ml", "is missing"},
        {R"("bag_ml": 316)", R"("bag": 316)", "transfusions[0].bag", "has no unit"},
        {R"(, "weight_kg": 92)", "", "transfusions[1].recipient.weight_kg", "is missing"},
        {R"("object": "leaf")", R"("object": "kite")", "transfusions[1].object", "is there twice"},
        {R"("weight": 2)", R"("weight": 0)", "transfusions[2].weight", ""},
        {R"("until": "2026-03-14T16:00")", R"("until": "2026-03-14T06:00")", "until", "is not within"},
        {R"("protocol": "general-ward")", R"("protocol": "removal-clock")", "protocol", "not the protocol at hand"},
        {R"("match_second": "outside")", R"("match_second": "nobody")", "match_second", ""},
        {R"("object": "boat",)", R"("object": "boat", "follows": "key",)", "transfusions[2].follows",
         "not above it in the file"},
        {R"("object": "boat",)",
         R"("object": "boat", "promised": {"start_at": "2026-03-14T09:02", "nurse": 1},)",
         "transfusions[2].promised.start_at", "not on the grid"},
        {R"("object": "boat",)", R"("object": "boat", "promised": {"start_at": "2026-03-14T09:00", "nurse": 3},)",
         "transfusions[2].promised.nurse", ""},
        {R"("object": "boat",)", R"("object": "boat", "happened": {"issued_at": "2026-03-14T09:00"},)",
         "transfusions[2].happened", "has no \"now\""},
    };
    for (const Broken& c : cases) {
        INFO(c.where);
        const std::string text = test::replaced(good, c.old, c.by);
        const auto round = read_round(text, test::shipped_protocol("general-ward"));
        REQUIRE_FALSE(round.ok());
        CHECK(round.error().where == c.where);
        CHECK(round.error().problem.find(c.problem) != std::string::npos);
        CHECK_FALSE(round.error().accepted.empty());
    }
}

TEST_CASE("two lines into one person are refused, or share the ceiling where the other's rate is known", "[round]") {
    const std::string good = demo_text("05-second-unit-for-one");
    const Protocol protocol = test::shipped_protocol("removal-clock");
    const std::string twice = test::replaced(good, R"("object": "snail",)", R"("object": "snail", "follows": "bell",)");
    const auto refused = read_round(twice, protocol);
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.error().where == "transfusions[2].follows");
    CHECK(refused.error().problem.find("followed by \"candle\" already") != std::string::npos);
    CHECK(read_round(test::replaced(twice, R"("snail", "follows": "bell")", R"("snail", "follows": "candle")"),
                     protocol).ok());

    // 92 kg, at risk: what runs beside it takes so much of the ceiling that it fits nowhere any more.
    const std::string alone = demo_text("01-morning");
    const Protocol ward = test::shipped_protocol("general-ward");
    const auto starts = [&](const char* other) {
        const auto round = read_round(test::replaced(alone, R"("object": "leaf",)",
                                                     std::string(R"("object": "leaf",)") + other), ward);
        REQUIRE(round.ok());
        return options_of(ward, round.value()).details[1].size();
    };
    CHECK(starts("") > 0);
    CHECK(starts(R"( "other_line_ml_per_h": 20,)") == 0);
}

TEST_CASE("units of one person never run at the same time, in whichever order is over sooner", "[round]") {
    const Case done = solved("07-one-person-either-order");
    REQUIRE(done.solved.answer);
    const auto detail = [](const Case& c, std::size_t j) {
        return c.options.details[j][static_cast<std::size_t>(c.solved.answer->choices[j].option)];
    };
    REQUIRE(done.options.problem.apart.size() == 1);
    const OptionDetail bell = detail(done, 0), snail = detail(done, 1);
    // The short one first; somebody looks again before the long one is called for.
    CHECK(snail.all_in < bell.start);
    const RoundRules& rules = *done.read.protocol.round;
    CHECK(bell.issued - done.read.round.transfusions[0].ready >= snail.all_in + rules.reassess_takes);

    const RoundResult told{done.read.round, done.options, done.solved.progress, done.solved.answer, std::nullopt};
    const DayClock day = day_of(done.read.round);
    CHECK(round_call_text(done.read.protocol, told, 0, day).find("not before somebody has looked again") != std::string::npos);
    CHECK(round_call_text(done.read.protocol, told, 1, day).find("looked again") == std::string::npos);

    // Nothing of the sort for two people: they run at the same time.
    Case free = done;
    free.read = read(test::replaced(demo_text("07-one-person-either-order"), R"(, "same_person": "bell")", ""));
    free.options = options_of(free.read.protocol, free.read.round);
    free.solved = solve(free.options.problem, 200'000);
    REQUIRE(free.solved.answer);
    CHECK(free.options.problem.apart.empty());
    CHECK(detail(free, 0).start < detail(free, 1).all_in);
    CHECK(detail(free, 1).start < detail(free, 0).all_in);

    // Three of them: each two are apart, though only two links are told.
    const Read three = read(test::replaced(demo_text("07-one-person-either-order"), R"({"object": "wheel",)",
                                           R"({"object": "wheel", "same_person": "snail",)"));
    CHECK(options_of(three.protocol, three.round).problem.apart.size() == 3);
    CHECK(persons_of(three.round) == std::vector<int>{0, 0, 0});
    CHECK(persons_of(done.read.round) == std::vector<int>{0, 0, 1});
}

TEST_CASE("two lines into one person may run at once, and share the ceiling in each plan", "[round]") {
    const Case done = solved("08-one-person-two-lines");
    REQUIRE(done.solved.answer);
    const auto detail = [&](std::size_t j) {
        return done.options.details[j][static_cast<std::size_t>(done.solved.answer->choices[j].option)];
    };
    const OptionDetail candle = detail(0), owl = detail(1), tree = detail(2);
    CHECK(candle.start < owl.all_in);
    CHECK(owl.start < candle.all_in);
    // The next one for this person waits for both lines.
    CHECK(tree.start > candle.all_in);
    CHECK(tree.start > owl.all_in);
    // 300 mL/h of red cells for this person: 200 of them are the other line's.
    CHECK(done.read.round.transfusions[0].state.other_line == ml_per_h(200));
    CHECK(done.read.round.transfusions[1].state.other_line == ml_per_h(160));
    CHECK(done.read.round.transfusions[2].state.other_line == Rate{});
    CHECK(candle.most <= ml_per_h(100));
    CHECK(owl.most <= ml_per_h(200));
    CHECK(candle.most + owl.most <= ml_per_h(300));
    // A second line has a set of its own; the one that follows goes on with the first.
    const RoundResult result{done.read.round, done.options, done.solved.progress, done.solved.answer, std::nullopt};
    CHECK(round_set(done.read.protocol, result, 1).set == NewSet::first_unit);
    CHECK(round_set(done.read.protocol, result, 2).set == NewSet::kept);
    const std::string text = sheet::to_text(round_sheet(done.read.protocol, result));
    CHECK(text.find("Owl may run at the same time as Candle") != std::string::npos);
    CHECK(text.find("Candle may run at the same time as Owl") != std::string::npos);

    // After a reaction to the one, what is open is withdrawn, and so is what runs over the other line.
    const std::string begun = R"("happened": {"issued_at": "2026-03-14T08:30", "started_at": "2026-03-14T08:50", "nurse": 1)";
    std::string stopped = test::replaced(demo_text("08-one-person-two-lines"), R"("from": )",
                                         R"("now": "2026-03-14T09:30", "from": )");
    stopped = test::replaced(stopped, R"({"object": "candle",)",
                             R"({"object": "candle", )" + begun +
                                 R"(, "reaction_at": "2026-03-14T09:20", "reaction_takes_min": 40},)");
    stopped = test::replaced(stopped, R"({"object": "owl",)", R"({"object": "owl", )" + begun + "},");
    const Read in = read(stopped);
    const RoundOptions options = options_of(in.protocol, in.round);
    CHECK(options.standing == std::vector<Place>{Place::over, Place::withdrawn, Place::withdrawn});
    CHECK(round_left_out_text(in.round, options, 1, day_of(in.round)).find("counts for both") != std::string::npos);
    CHECK(round_left_out_text(in.round, options, 2, day_of(in.round)).find("is not planned") != std::string::npos);
}

TEST_CASE("what is told of one person in two places has to agree, and so have two lines", "[round]") {
    const std::string good = demo_text("08-one-person-two-lines");
    const Protocol protocol = test::shipped_protocol("removal-clock");
    REQUIRE(read_round(good, protocol).ok());
    const Broken cases[] = {
        {R"("beside": "candle")", R"("beside": "candle", "same_person": "candle")", "transfusions[1].beside",
         "another link to the same person"},
        {R"("beside": "candle")", R"("beside": "bell")", "transfusions[1].beside", "not above it"},
        {R"(, "order": {"max_rate_ml_per_h": 160})", "", "transfusions[0].order.max_rate_ml_per_h", "is missing"},
        {R"(, "order": {"max_rate_ml_per_h": 200})", "", "transfusions[1].order.max_rate_ml_per_h", "is missing"},
        {R"("beside": "candle")", R"("beside": "candle", "other_line_ml_per_h": 20)",
         "transfusions[1].other_line_ml_per_h", "are two lines"},
        {R"("follows": "candle")", R"("beside": "candle", "order": {"max_rate_ml_per_h": 50})", "transfusions[2].beside",
         "runs beside another one already"},
        {R"("follows": "candle")", R"("beside": "owl", "order": {"max_rate_ml_per_h": 50})", "transfusions[2].beside",
         "runs beside another one already"},
        {R"("overload_risk": "no", "can_report": "yes", "gauge": 20)", R"("can_report": "yes", "gauge": 20)",
         "transfusions[1].recipient.overload_risk", "is not that of \"candle\""},
        {R"("gauge": 20})", R"("gauge": 20, "weight_kg": 70})", "transfusions[1].recipient.weight_kg",
         "for the same person"},
    };
    for (const Broken& c : cases) {
        INFO(c.by << " at " << c.where);
        const auto round = read_round(test::replaced(good, c.old, c.by), protocol);
        REQUIRE_FALSE(round.ok());
        CHECK(round.error().where == c.where);
        CHECK(round.error().problem.find(c.problem) != std::string::npos);
        CHECK_FALSE(round.error().accepted.empty());
    }
}

TEST_CASE("two for one person that both began already are told, and planned on", "[round]") {
    std::string text = test::replaced(demo_text("07-one-person-either-order"), R"("from": )",
                                      R"("now": "2026-03-14T09:30", "from": )");
    text = test::replaced(text, R"({"object": "bell",)",
                          R"({"object": "bell", "happened": {"issued_at": "2026-03-14T08:20", "started_at": "2026-03-14T08:45", "nurse": 1},)");
    const std::string both = test::replaced(text, R"({"object": "snail",)",
                          R"({"object": "snail", "happened": {"issued_at": "2026-03-14T08:50", "started_at": "2026-03-14T09:15", "nurse": 2},)");
    for (const bool two : {false, true}) {
        const Read in = read(two ? both : text);
        const RoundOptions options = options_of(in.protocol, in.round);
        const Solved solved = solve(options.problem, 200'000);
        REQUIRE(solved.progress.standing == Standing::optimal);
        const RoundResult result{in.round, options, solved.progress, solved.answer, std::nullopt};
        CHECK(options.problem.apart.size() == (two ? 0U : 1U));
        REQUIRE(round_overlaps(result).size() == (two ? 1U : 0U));
        if (two) CHECK(round_overlaps(result)[0].find("Snail began before Bell for the same person was all in") == 0);
    }
}

TEST_CASE("one nurse of a round has a second nurse only where there is one", "[round]") {
    const std::string text = test::replaced(demo_text("03-too-much-at-once"), R"("match_second": "outside")",
                                            R"("match_second": "round")");
    const auto round = read_round(text, test::shipped_protocol("general-ward"));
    REQUIRE_FALSE(round.ok());
    CHECK(round.error().where == "match_second");
}

TEST_CASE("a protocol without rules for more than one unit plans no round", "[round]") {
    Protocol protocol = test::shipped_protocol("general-ward");
    protocol.round.reset();
    const auto round = read_round(demo_text("01-morning"), protocol);
    REQUIRE_FALSE(round.ok());
    CHECK(round.error().where == "protocol");
}

TEST_CASE("the demo rounds have an answer that keeps every rule, and the files' own times", "[round]") {
    for (const std::string& name : test::demo_names("rounds")) {
        if (name == "03-too-much-at-once") continue;
        INFO(name);
        const Case done = solved(name);
        REQUIRE(done.solved.progress.standing == Standing::optimal);
        REQUIRE(done.solved.answer);
        CHECK(broken_rule(done.options.problem, *done.solved.answer) == nullptr);
        for (std::size_t j = 0; j < done.options.transfusion.size(); ++j) {
            const PlannedTransfusion& t =
                done.read.round.transfusions[static_cast<std::size_t>(done.options.transfusion[j])];
            const auto& choice = done.solved.answer->choices[j];
            const OptionDetail& d = done.options.details[j][static_cast<std::size_t>(choice.option)];
            CHECK(d.all_in <= d.finish_by);
            CHECK(d.all_in <= done.read.round.until);
            if (t.happened.started) continue;
            const Instant call = d.issued - t.ready;
            CHECK(call >= t.call_earliest);
            CHECK(call <= t.call_latest);
            if (done.read.round.now) CHECK(call >= *done.read.round.now);
            // It is on the ward before the match begins.
            CHECK(d.issued + t.transport + done.read.protocol.round->match_takes.value <= d.start);
        }
    }
}

TEST_CASE("of the demands that clash none can be left out", "[round]") {
    const Case done = solved("03-too-much-at-once");
    REQUIRE(done.solved.progress.standing == Standing::infeasible);
    const Conflict conflict = find_conflict(done.read.round, done.options, 200'000);
    CHECK(conflict.complete);
    CHECK(conflict.smallest);
    REQUIRE(conflict.demands.size() == 2);  // kite and owl want the same ten minutes of any nurse
    const std::size_t none = conflict.demands.size();
    CHECK(standing_with(done, only(done.read.round, conflict.demands, none)) == Standing::infeasible);
    for (std::size_t i = 0; i < conflict.demands.size(); ++i) {
        INFO(i);
        CHECK(standing_with(done, only(done.read.round, conflict.demands, i)) == Standing::optimal);
    }
}

TEST_CASE("a clash with a nurse's break names the break", "[round]") {
    // One transfusion whose only starts fall into the only nurse's break.
    const Read in = read(R"({"hangtime_round": 1, "protocol": "general-ward", "clock": {"utc_offset_min": 60},
        "from": "2026-03-14T08:00", "until": "2026-03-14T13:00", "match_second": "outside",
        "nurses": [{"hours": [{"from": "2026-03-14T08:00", "until": "2026-03-14T13:00"}],
                    "breaks": [{"from": "2026-03-14T09:30", "until": "2026-03-14T10:00"}]}],
        "transfusions": [{"object": "kite", "component": "red_cells", "bag_ml": 300,
                          "recipient": {"overload_risk": "no"},
                          "call": {"earliest": "2026-03-14T08:55", "latest": "2026-03-14T08:55"}}]})");
    Case done{in, options_of(in.protocol, in.round), {}};
    done.solved = solve(done.options.problem, 200'000);
    REQUIRE(done.solved.progress.standing == Standing::infeasible);
    const Conflict conflict = find_conflict(in.round, done.options, 200'000);
    REQUIRE(conflict.demands.size() == 2);
    CHECK(conflict.demands[0] == Demand{Demand::Kind::transfusion, 0, -1});
    CHECK(conflict.demands[1] == Demand{Demand::Kind::nurse_break, 0, 0});
}

TEST_CASE("after a pause the rest of the day keeps what was promised where it can", "[round]") {
    const Case done = solved("04-after-a-pause");
    REQUIRE(done.solved.answer);
    // Boat cannot be called for in time any more; key keeps its start and its nurse.
    CHECK(done.solved.answer->cost.changes == 1);
    const Instant kite = done.options.details[0][0].all_in;
    const std::string calm = test::replaced(demo_text("04-after-a-pause"), R"(, "paused_min": 25)", "");
    const Read without = read(calm);
    const RoundOptions undisturbed = options_of(without.protocol, without.round);
    CHECK(kite - undisturbed.details[0][0].all_in == minutes(25));
}

TEST_CASE("after a suspected reaction the nurse stays, and the next unit for the same person is not planned",
          "[round]") {
    const Case done = solved("06-after-a-reaction");
    CHECK(done.options.standing == std::vector<Place>{Place::over, Place::withdrawn, Place::open});
    const auto& free = done.options.problem.nurses[0].free;
    CHECK_FALSE(free.has(14));  // 09:10, until 09:50
    CHECK_FALSE(free.has(21));
    CHECK(free.has(22));
}

TEST_CASE("a second unit waits for the first, for looking again, and for the blood bank", "[round]") {
    const Case done = solved("05-second-unit-for-one");
    REQUIRE(done.solved.answer);
    const auto detail = [&](std::size_t j) {
        return done.options.details[j][static_cast<std::size_t>(done.solved.answer->choices[j].option)];
    };
    const RoundRules& rules = *done.read.protocol.round;
    const Instant call = detail(1).issued - done.read.round.transfusions[1].ready;
    CHECK(call >= detail(0).all_in + rules.reassess_takes);
}

TEST_CASE("nothing of a nurse's own transfusions falls due in her hand-over", "[round]") {
    const Case done = solved("01-morning");
    REQUIRE(done.solved.answer);
    for (std::size_t j = 0; j < done.options.transfusion.size(); ++j) {
        const auto& choice = done.solved.answer->choices[j];
        const OptionDetail& d = done.options.details[j][static_cast<std::size_t>(choice.option)];
        for (const Instant due : d.due)
            for (const Stretch& s : done.read.round.nurses[static_cast<std::size_t>(choice.nurse)].handovers)
                CHECK((due < s.from || due >= s.to));
    }
}

TEST_CASE("the clash that is found does not depend on how the work is cut", "[round]") {
    const Read r = read(demo_text("03-too-much-at-once"));
    const RoundOptions options = options_of(r.protocol, r.round);
    const Conflict at_once = find_conflict(r.round, options, 100'000);
    REQUIRE(at_once.demands.size() > 1);
    for (const std::int64_t slice : {1, 7, 25}) {
        INFO(slice);
        ConflictSearch search(r.round, options, 100'000);
        int slices = 0;
        while (!search.done() && slices < 100'000) search.step(slice), ++slices;
        CHECK(slices > 1);
        CHECK(search.found().demands == at_once.demands);
        CHECK(search.found().smallest == at_once.smallest);
        CHECK(search.found().complete == at_once.complete);
    }
}

TEST_CASE("after a pause the interval checks go on until the new end", "[round]") {
    // Kite runs since 08:21, hourly checks; with 75 min of pause its end passes another hour.
    const auto checks = [](const char* paused) {
        const std::string text =
            test::replaced(demo_text("04-after-a-pause"), R"("paused_min": 25)", std::string(R"("paused_min": )") + paused);
        const Read r = read(text);
        const RoundOptions options = options_of(r.protocol, r.round);
        REQUIRE(options.details[0].size() == 1);
        const OptionDetail& d = options.details[0][0];
        int intervals = 0;
        const Given<Seconds>* every = interval_for(r.protocol, r.round.transfusions[0].state.recipient);
        REQUIRE(every);
        for (std::size_t c = 0; c < d.due.size(); ++c) {
            if (d.kinds[c] != CheckKind::interval) {
                CHECK(d.due[c] >= d.all_in);
                continue;
            }
            ++intervals;
            CHECK((d.due[c] - d.start).count % every->value.count == 0);
            CHECK(d.all_in - d.due[c] >= r.protocol.checks.merge_into_end);
        }
        // None is missing between now and the end.
        int wanted = 0;
        for (Instant due = d.start + every->value;
             due < d.all_in && d.all_in - due >= r.protocol.checks.merge_into_end; due = due + every->value)
            if (due + r.protocol.checks.grace >= *r.round.now) ++wanted;
        CHECK(intervals == wanted);
        return intervals;
    };
    CHECK(checks("75") > checks("0"));
}

TEST_CASE("a round's sheet says for each unit the set, the call and what is not as promised", "[round]") {
    const auto sheet_of = [](const char* name) {
        const Case done = solved(name);
        REQUIRE(done.solved.answer);
        const RoundResult result{done.read.round, done.options, done.solved.progress, done.solved.answer, std::nullopt};
        std::string out;
        for (const char c : sheet::to_text(round_sheet(done.read.protocol, result)))
            if (c != '\n' && (c != ' ' || out.empty() || out.back() != ' ')) out += c;
            else if (out.empty() || out.back() != ' ') out += ' ';
        return out;
    };
    const std::string second = sheet_of("05-second-unit-for-one");
    CHECK(second.find(", set: new set: first unit, to be changed by ") != std::string::npos);
    CHECK(second.find(", set: same set, to be changed by 20:40") != std::string::npos);
    CHECK(second.find("(not before somebody has looked again after the unit before it") != std::string::npos);
    CHECK(second.find("Against what was promised") == std::string::npos);
    const std::string pause = sheet_of("04-after-a-pause");
    CHECK(pause.find("Against what was promised") != std::string::npos);
    CHECK(pause.find("Boat: starts at 09:35, not at 09:20 (15 min later).") != std::string::npos);
    CHECK(pause.find("Everything else is as promised.") != std::string::npos);
}

TEST_CASE("a round and a sequence hold the call for the next bag by the same rule", "[round]") {
    // Somebody at risk is looked at again also where the protocol asks for nobody.
    Read r = read(demo_text("05-second-unit-for-one"));
    r.protocol.round->reassess.value = Reassess::not_asked;
    r.protocol.round->reassess_takes = minutes(20);
    const auto lag = [&](Answer risk) {
        r.round.transfusions[1].state.recipient.overload_risk = risk;
        return options_of(r.protocol, r.round).jobs[1].lag_min;
    };
    CHECK(lag(Answer::yes) > lag(Answer::no) + 20);
    CHECK(hold_for(*r.protocol.round, Answer::yes) == CallHold::at_risk);
    CHECK(hold_for(*r.protocol.round, Answer::no) == CallHold::none);
}
