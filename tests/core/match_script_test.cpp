// The match at the bedside: the steps that each protocol asks for, and how far they have come.

#include "core/match/look.hpp"
#include "core/match/match_text.hpp"
#include "core/match/script.hpp"
#include "core/words/match_words.hpp"

#include "support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

namespace {

MatchRules rules_of_protocol(const char* id) { return *shipped_protocol(id).match; }

Instant at(int minute, int second = 0) { return {1'773'493'200 + minute * 60 + second}; }

MatchEvent passed(std::size_t step, Instant when) {
    return {MatchOutcome::passed, static_cast<std::uint8_t>(step), when};
}

// All of the first `count` steps, a second apart, the last one at `end`.
MatchState after(const MatchScript& script, std::size_t count, Instant end) {
    MatchState state;
    for (std::size_t i = 0; i < count; ++i) {
        const Advanced next =
            advance(state, script, passed(i, end - Seconds{static_cast<std::int64_t>(count - 1 - i)}));
        REQUIRE(next.refusal == MatchRefusal::none);
        state = next.state;
    }
    return state;
}

}  // namespace

TEST_CASE("one person: ask, each field of the protocol, then the bag", "[match]") {
    const MatchRules rules = rules_of_protocol("removal-clock");
    const MatchScript script = match_script(rules, true);
    REQUIRE(script.size() == rules.lines.size() + 2);
    CHECK(script[0].kind == MatchStepKind::ask_person);
    for (std::size_t i = 0; i < rules.lines.size(); ++i) {
        const MatchStep& step = script[i + 1];
        CHECK(step.kind == MatchStepKind::compare);
        CHECK(step.field == rules.lines[i].field);
        CHECK(step.from == rules.lines[i].read_from);
        CHECK(step.against == rules.lines[i].compare_with);
        CHECK(step.basis == rules.lines[i].basis);
        CHECK(step.reader == MatchPerson::first);
        CHECK(step.comparer == MatchPerson::first);
        CHECK_FALSE(step.against.has(MatchPlace::lab_form));  // this protocol forbids it
    }
    CHECK(script.back().kind == MatchStepKind::look);
}

TEST_CASE("two people reading back: the roles are swapped and every field is read again", "[match]") {
    const MatchRules rules = rules_of_protocol("general-ward");
    const MatchScript script = match_script(rules, true);
    const std::size_t n = rules.lines.size();
    REQUIRE(script.size() == 1 + 2 * n + 1);
    CHECK(script[0].kind == MatchStepKind::ask_person);
    for (std::size_t i = 0; i < n; ++i) {
        const MatchStep &once = script[1 + i], &again = script[1 + n + i];
        CHECK(once.field == again.field);
        CHECK(once.from == again.from);
        CHECK(once.against == again.against);
        CHECK(once.reader == MatchPerson::first);
        CHECK(once.comparer == MatchPerson::second);
        CHECK(again.reader == MatchPerson::second);
        CHECK(again.comparer == MatchPerson::first);
        CHECK(once.pass == 1);
        CHECK(again.pass == 2);
    }
    CHECK(script.back().kind == MatchStepKind::look);
    CHECK(script.back().reader == MatchPerson::both);
}

TEST_CASE("two people independently: each does all of it alone", "[match]") {
    const MatchRules rules = rules_of_protocol("half-hour-checks");
    const MatchScript script = match_script(rules, true);
    const std::size_t n = rules.lines.size() + 2;
    REQUIRE(script.size() == 2 * n);
    for (std::size_t i = 0; i < n; ++i) {
        MatchStep again = script[n + i];
        CHECK(script[i].reader == MatchPerson::first);
        CHECK(script[i].comparer == MatchPerson::first);
        CHECK(again.reader == MatchPerson::second);
        CHECK(again.comparer == MatchPerson::second);
        again.reader = again.comparer = MatchPerson::first;
        again.pass = 1;
        CHECK(again == script[i]);
    }
}

TEST_CASE("somebody who cannot say who they are: the protocol's other way, and the rest is the same",
          "[match]") {
    for (const std::string& name : demo_names("protocols")) {
        INFO(name);
        const MatchRules rules = rules_of_protocol(name.c_str());
        const MatchScript can = match_script(rules, true), cannot = match_script(rules, false);
        REQUIRE(can.size() == cannot.size());
        const MatchStepKind other = rules.cannot_say.value == CannotSay::ask_companion
                                        ? MatchStepKind::ask_companion
                                        : MatchStepKind::wristband_only;
        int asked = 0;
        for (std::size_t i = 0; i < can.size(); ++i) {
            if (can[i].kind == MatchStepKind::ask_person) {
                ++asked;
                CHECK(cannot[i].kind == other);
            } else {
                CHECK(can[i] == cannot[i]);
            }
        }
        CHECK(asked == (rules.people.value == MatchPeople::two_independent ? 2 : 1));
    }
}

TEST_CASE("the longest script that a protocol can ask for fits", "[match]") {
    MatchRules rules = rules_of_protocol("half-hour-checks");
    rules.lines.clear();
    for (int i = 0; i < match_field_count; ++i)
        rules.lines.add({static_cast<MatchField>(i), MatchPlace::tag, {}, {}});
    CHECK(match_script(rules, true).size() == most_match_steps);
}

TEST_CASE("the steps are taken one after the other, and then it is matched", "[match]") {
    const MatchRules rules = rules_of_protocol("general-ward");
    const MatchScript script = match_script(rules, true);
    MatchState state;
    CHECK(state.standing == MatchStanding::not_begun);
    for (std::size_t i = 0; i < script.size(); ++i) {
        CHECK(state.next(script) == i);
        CHECK_FALSE(may_be_hung(state, rules, at(static_cast<int>(i))));
        // Any other step is refused, and nothing changes.
        for (std::size_t other = 0; other <= script.size(); ++other)
            if (other != i) {
                const Advanced no = advance(state, script, passed(other, at(static_cast<int>(i))));
                CHECK(no.refusal == MatchRefusal::not_next);
                CHECK(no.state == state);
            }
        const Advanced next = advance(state, script, passed(i, at(static_cast<int>(i))));
        REQUIRE(next.refusal == MatchRefusal::none);
        state = next.state;
        CHECK(state.passed.back() == at(static_cast<int>(i)));
    }
    CHECK(state.standing == MatchStanding::passed);
    CHECK_FALSE(state.next(script));
    CHECK(advance(state, script, passed(0, at(99))).refusal == MatchRefusal::complete);
    CHECK(advance(after(script, 3, at(5)), script, passed(3, at(4))).refusal == MatchRefusal::earlier);
}

TEST_CASE("one difference at any step ends it for this unit", "[match]") {
    for (const std::string& name : demo_names("protocols")) {
        const MatchRules rules = rules_of_protocol(name.c_str());
        const MatchScript script = match_script(rules, true);
        for (std::size_t i = 0; i <= script.size(); ++i) {
            const MatchState before = after(script, i, at(5));
            const auto step = static_cast<std::uint8_t>(std::min(i, script.size() - 1));
            const Advanced differed = advance(before, script, {MatchOutcome::differed, step, at(6)});
            REQUIRE(differed.refusal == MatchRefusal::none);
            CHECK(differed.state.standing == MatchStanding::differed);
            CHECK(differed.state.differed_step == step);
            CHECK_FALSE(may_be_hung(differed.state, rules, at(6)));
            CHECK_FALSE(differed.state.next(script));
            // Nothing opens it again.
            for (const MatchEvent& more : {passed(i, at(7)), passed(0, at(7)),
                                           MatchEvent{MatchOutcome::interrupted, 0, at(7)},
                                           MatchEvent{MatchOutcome::differed, step, at(7)}}) {
                const Advanced no = advance(differed.state, script, more);
                CHECK(no.refusal == MatchRefusal::closed);
                CHECK(no.state == differed.state);
            }
        }
    }
    CHECK(sentence(MatchStanding::differed) ==
          "Do not give this unit. Send it back and tell the blood bank.");
}

TEST_CASE("an interruption at each step restarts all of it", "[match]") {
    for (const std::string& name : demo_names("protocols")) {
        const MatchRules rules = rules_of_protocol(name.c_str());
        const MatchScript script = match_script(rules, true);
        for (std::size_t i = 0; i <= script.size(); ++i) {
            const Advanced stopped =
                advance(after(script, i, at(5)), script, {MatchOutcome::interrupted, 0, at(6)});
            REQUIRE(stopped.refusal == MatchRefusal::none);
            CHECK(stopped.state.standing == MatchStanding::interrupted);
            CHECK(stopped.state.passed.empty());
            CHECK(stopped.state.next(script) == 0);
            CHECK(stopped.state.restarts == 1);
            CHECK_FALSE(may_be_hung(stopped.state, rules, at(6)));
            // What was passed before does not count again; all of it does it.
            if (i > 0)
                CHECK(advance(stopped.state, script, passed(i, at(7))).refusal == MatchRefusal::not_next);
            MatchState state = stopped.state;
            for (std::size_t k = 0; k < script.size(); ++k)
                state = advance(state, script, passed(k, at(8))).state;
            CHECK(state.standing == MatchStanding::passed);
            CHECK(may_be_hung(state, rules, at(8)));
        }
    }
}

TEST_CASE("a match goes stale after the protocol's minutes, unless the bag was hung by then", "[match]") {
    for (const std::string& name : demo_names("protocols")) {
        INFO(name);
        const MatchRules rules = rules_of_protocol(name.c_str());
        const MatchScript script = match_script(rules, true);
        const MatchState done = after(script, script.size(), at(5));
        const Instant last = at(5) + rules.stale.value;
        CHECK(good_until(done, rules) == last);
        CHECK(may_be_hung(done, rules, at(5)));
        CHECK(may_be_hung(done, rules, last));
        CHECK_FALSE(may_be_hung(done, rules, last + Seconds{1}));
        CHECK_FALSE(may_be_hung(done, rules, at(4)));  // before it was matched
        CHECK(standing_at(done, rules, last, std::nullopt) == MatchStanding::passed);
        CHECK(standing_at(done, rules, last + Seconds{1}, std::nullopt) == MatchStanding::stale);
        CHECK(standing_at(done, rules, last + hours(3), last) == MatchStanding::passed);
        CHECK(standing_at(done, rules, last + hours(3), last + Seconds{1}) == MatchStanding::stale);
        // One that stopped half-way gets old too, hung or not.
        const MatchState half = after(script, 2, at(5));
        CHECK(standing_at(half, rules, last, std::nullopt) == MatchStanding::under_way);
        CHECK(standing_at(half, rules, last + Seconds{1}, at(6)) == MatchStanding::stale);
        CHECK_FALSE(good_until(MatchState{}, rules));
    }
}

TEST_CASE("the look at the bag: one thing wrong ends it, one not looked at leaves it open", "[match]") {
    for (int c = 0; c < component_count; ++c) {
        const auto component = static_cast<Component>(c);
        const auto list = look_list(component);
        CHECK(list.size() >= 8);
        CHECK(LookResult().all(component) == Agreement::cannot_tell);
        for (const LookFor odd : list) {
            LookResult all, open, wrong;
            for (const LookFor what : list) {
                all.set(what, true);
                if (what != odd) open.set(what, true);
                wrong.set(what, what != odd);
            }
            CHECK(all.all(component) == Agreement::same);
            CHECK(open.all(component) == Agreement::cannot_tell);
            CHECK(wrong.all(component) == Agreement::differs);
        }
    }
    const auto has = [](Component component, LookFor what) {
        for (const LookFor listed : look_list(component))
            if (listed == what) return true;
        return false;
    };
    CHECK(has(Component::platelets, LookFor::swirl));
    CHECK_FALSE(has(Component::red_cells, LookFor::swirl));
    CHECK(has(Component::red_cells, LookFor::haemolysis));
    CHECK(has(Component::plasma, LookFor::cloudiness));
}

TEST_CASE("an emergency unit without a tag: nothing is compared with what is not there", "[match]") {
    for (const std::string& name : demo_names("protocols")) {
        INFO(name);
        const MatchRules rules = rules_of_protocol(name.c_str());
        const MatchScript script = emergency_script(rules);
        CHECK(script.size() == (rules.people.value == MatchPeople::one ? 6U : 12U));
        bool group = false, expiry = false, number = false;
        for (const MatchStep& step : script) {
            CHECK(step.against.empty());
            CHECK((step.from == MatchPlace::bag || step.from == MatchPlace::wristband));
            CHECK(step.kind != MatchStepKind::compare);
            if (step.kind != MatchStepKind::read) continue;
            group |= step.field == MatchField::unit_group;
            expiry |= step.field == MatchField::expiry;
            number |= step.field == MatchField::donation_number;
        }
        CHECK((group && expiry && number));
        CHECK(script.back().kind == MatchStepKind::look);
        if (rules.people.value != MatchPeople::one) CHECK(script.back().reader == MatchPerson::second);
        // It is driven like the other: one difference ends it.
        CHECK(after(script, script.size(), at(5)).standing == MatchStanding::passed);
        CHECK(advance(MatchState{}, script, {MatchOutcome::differed, 0, at(5)}).state.standing ==
              MatchStanding::differed);
    }
    const MatchScript one = emergency_script(rules_of_protocol("removal-clock"));
    CHECK(match_step_text(one[2], MatchPeople::one) == "Read the group of the unit on the bag: it is O.");
}

TEST_CASE("each step says who does what, and never asks for anything to be typed", "[match]") {
    const MatchScript both = match_script(rules_of_protocol("general-ward"), true);
    CHECK(match_step_text(both[2], MatchPeople::two_read_back) ==
          "First person: read the date of birth aloud from the wristband. Second person: compare it with the "
          "tag, the order and the lab's form.");
    const MatchScript one = match_script(rules_of_protocol("removal-clock"), false);
    CHECK(match_step_text(one[0], MatchPeople::one) ==
          "Ask somebody who knows the person to say their full name and date of birth. Compare what they say "
          "with the wristband on the person.");
    CHECK(match_step_text(one[4], MatchPeople::one) ==
          "Read the donation number on the bag and compare it with the tag.");
    const MatchScript alone = match_script(rules_of_protocol("half-hour-checks"), true);
    CHECK(match_step_text(alone.back(), MatchPeople::two_independent) ==
          "Second person, alone: look at the bag.");
    for (const std::string& name : demo_names("protocols"))
        for (const bool can_say : {true, false}) {
            const MatchRules rules = rules_of_protocol(name.c_str());
            for (const MatchStep& step : match_script(rules, can_say)) {
                const std::string text = match_step_text(step, rules.people.value);
                CAPTURE(text);
                CHECK((text[0] >= 'A' && text[0] <= 'Z'));
                CHECK(text.back() == '.');
                CHECK(text.find("type") == text.npos);
                CHECK(text.find("enter") == text.npos);
                CHECK(text.find("  ") == text.npos);
            }
        }
    for (int i = 0; i < match_field_count; ++i) {
        const char first = name(static_cast<MatchField>(i))[0];
        CHECK((first >= 'A' && first <= 'Z'));
    }
}
