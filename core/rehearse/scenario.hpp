#pragma once

/// A rehearsal as it is written down: what is true at the beginning, what happens when, what it teaches and what is
/// scored. The file is described in core/rehearse/scenario.schema.json. The recipient is numbers only; the texts are
/// the educator's (a title, what it teaches, the rule behind a scored item) and are about a rule, never a person.
///
/// How a screen uses it: read the file with `read_scenario`, run it with core/rehearse/run.hpp, and say what came of
/// it with core/rehearse/debrief.hpp.

#include "core/result.hpp"
#include "core/session/record.hpp"
#include "core/words/rehearse_codes.hpp"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime {

/// Records of one kind, and of those that say what is set here.
struct Filter {
    EventKind record{};
    std::optional<MatchOutcome> outcome{};
    std::optional<Item> item{};
    std::optional<ItemHow> how{};
    std::optional<ActionKind> action{};
    std::optional<CheckKind> check{};
    std::optional<Component> component{};
    std::optional<ReturnTo> to{};
    std::string reason{};            // of a pause, a stop, a refusal, a return or a discard
    std::optional<Rate> above{};     // a rate above this

    bool matches(const Event& event) const;
    friend bool operator==(const Filter&, const Filter&) = default;
};

/// A moment: of a happening of the scenario, or of a record that a filter finds. Neither: the beginning.
struct Since {
    std::string happening{};
    std::optional<Filter> record{};
    std::int32_t nth = 1;            // of such records

    friend bool operator==(const Since&, const Since&) = default;
};

/// When something happens: at the moment of `since` or when a volume has run or a step of the match has been
/// passed, and `wait` later. A seed moves it by up to `vary` either way, never to before what it waits for.
struct Trigger {
    enum class How : std::uint8_t { since, given, match_step };
    How how = How::since;
    Since since{};
    Volume given{};                  // moved by the device
    std::int32_t step = 0;           // so many steps of the match of this unit
    Seconds wait{}, vary{};
};

/// What would be seen at moments after something happened; a number goes there in a straight line from what it was,
/// anything else changes at the moment itself.
struct SignsAfter {
    Seconds after{};
    Observation set;
};

/// What happens.
struct Happening {
    std::string id;
    WorldKind kind{};
    Trigger when;
    std::optional<Event> record;        // the record that it leaves in the log
    Volume vary_volume{};               // of the bag that arrives
    std::vector<SignsAfter> signs;
    bool while_running = false;         // they stand still when the flow is stopped
    std::optional<MatchField> field;    // of tag_differs
    std::optional<Filter> unless;       // it does not happen where this was recorded before
};

/// One thing that is scored.
struct Scored {
    ScoreKind kind{};
    std::int32_t points = 1;
    std::string rule;                   // in words; of checks and windows it may be left out
    std::optional<Basis> basis;         // none: the protocol's, for checks and windows
    Filter done{};                      // done_within, never_done, done_before
    std::optional<Filter> then{};       // of done_before
    Since since{};                      // done_within, never_done, rate_not_raised
    std::optional<Seconds> within{};    // done_within; none: at any time after it
    CheckKind check{};
    std::int32_t index = 0;
    LimitKind limit{};
    std::int32_t unit = 1;              // of the session, from 1
    Volume volume{};                    // given_at_most, given_at_least: over all units
    Refusal refusal{};                  // not_tried
    MatchField field{};                 // difference_found
};

/// Something that stands in the log already when the rehearsal begins.
struct Before {
    Seconds at{};                       // from the beginning, never after it
    Event record;
};

struct Scenario {
    int version = 1;
    std::string id, title;
    std::int32_t number = 1;            // 1 to 99; with a seed it makes a case number
    Level level{};
    std::vector<std::string> teaches;
    std::vector<Source> sources;        // those that scored items name
    std::string protocol;               // its id
    std::shared_ptr<const Protocol> rules;
    bool whole_protocol = false;        // it stands in the file
    WallClock wall;
    Instant begins{};
    Seconds lasts{};                    // after this it is over
    SpokenObject object{};
    std::int32_t seed = 1;
    Recipient recipient;
    facts::Ordered ordered;
    Observation signs;                  // at the beginning
    std::vector<Before> before;
    std::vector<Happening> happenings;
    std::vector<Scored> scored;
};

/// The id of the protocol that a scenario is played under; empty where the file holds the protocol itself.
Result<std::string> read_scenario_protocol(std::string_view text);

/// All of a scenario, or the first thing that is wrong with it. `protocol` is the one that the file asks for; null where
/// the file holds it.
Result<Scenario> read_scenario(std::string_view text, std::shared_ptr<const Protocol> protocol);

/// A scenario as a file; `write_scenario(read_scenario(x))` says the same as x.
std::string write_scenario(const Scenario& scenario);

/// A number that sets scenario and seed, so that everybody gets the same case: 7 and 12 make 7012. The seed is 0 to 999.
std::int32_t case_number(const Scenario& scenario, std::int32_t seed);
struct CaseParts { std::int32_t scenario = 0, seed = 0; };
CaseParts case_of(std::int32_t number);

/// A scenario out of a log: what was ready before the call is its beginning, the bag comes as late as it came, what was
/// seen is what will be seen, pauses and a refusal happen when they happened. Of the bag's number nothing is kept. What
/// is scored are the protocol's checks and limits. Refuses a log in which no unit was issued.
Result<Scenario> scenario_from(const Log& log);

}  // namespace hangtime
