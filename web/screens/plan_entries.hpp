#pragma once

/// What can be entered for a plan: each field's words, its choices, and how what was typed becomes a State.
/// Draws nothing. What is typed is taken over at every key, so that the answers always belong to what stands
/// in the entries.

#include "core/protocol/protocol.hpp"
#include "core/session/state.hpp"
#include "core/words/format.hpp"
#include "web/widgets/keypad.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::screens {

enum class Field : std::uint8_t {
    none,
    component,
    volume,
    issued,
    start, // the four
    protocol,
    weight,
    estimated,
    pace,
    duration,
    rate,
    counts_from,
    dose,
    dose_ml,
    dose_ml_per_kg,
    most_rate, // the order
    risk,
    report,
    gauge, // the person
    device,
    step,
    drops,
    line,
    line_ml,
    primed,
    cleared,
    lost, // the set
    left_storage,
    thawed,
    spiked,
    expires,
    expires_time, // the bag
};

enum class EntryKind : std::uint8_t { number, time, choice };

struct FieldWords {
    Field field;
    std::string_view id, label, unit;
    EntryKind kind;
    int whole = 0, places = 0; // digits of a number
};
const FieldWords& words_of(Field field);

class Entries {
public:
    /// `protocols` must outlive this.
    explicit Entries(const std::vector<Protocol>& protocols);

    const Protocol& protocol() const { return (*protocols_)[protocol_]; }
    const State& state() const { return state_; }

    /// The same as it is reckoned at `now`: a start that lies behind is taken to have happened, and nothing
    /// is recorded on this screen, so that no check is called missed.
    State state_at(Instant now) const {
        State state = state_;
        state.charting = false;
        if (state.times.start)
            state.times.start->happened = state.times.start->when.at <= now;
        return state;
    }
    std::optional<NotCovered> not_covered() const { return not_covered_; }
    bool has_component() const { return state_.unit.component || not_covered_; }

    /// What "today" is, and what the wall clock shows; before anything else in a frame.
    void tell_time(Instant now, const WallClock& wall) {
        now_ = now;
        wall_ = wall;
    }

    /// As it is shown, without the unit of a number; empty: nothing entered.
    std::string value(Field field, const DayClock& day) const;
    /// What a keypad starts with.
    std::string digits(Field field) const;
    /// Why what was typed is not accepted; empty: it is.
    const std::string& refusal(Field field) const;

    struct Choice {
        std::string label;
        bool chosen = false;
        bool heading = false; // words between choices
    };
    std::vector<Choice> choices(Field field) const;
    /// Takes a choice (by its place in `choices`). Returns the field to enter next: none, or a number that
    /// belongs to it.
    Field choose(Field field, int place);
    /// Takes what was typed.
    void type(Field field, const ui::Digits& digits);
    /// The two moments of a time that comes twice (the clock is put back), earlier one first, and which of them
    /// is taken; none for any other time.
    struct Twice {
        Instant moments[2];
        int taken = 0;
    };
    std::optional<Twice> twice(Field field) const;
    void take_moment(Field field, Instant at) { type_time(field, Stated{at, Precision::minute}); }
    /// Whether the field has a meaning for what is entered now (a drop factor, only for gravity).
    bool applies(Field field) const;

private:
    void type_number(Field field, std::optional<std::int64_t> value);
    void type_time(Field field, std::optional<Stated> when);
    void type_expiry(const ui::Digits& digits);
    std::optional<Stated> place_time(int minutes, Instant near);
    std::optional<Stated> time(Field field) const;
    std::string day_text(Instant at) const;

    const std::vector<Protocol>* protocols_;
    std::size_t protocol_ = 0;
    State state_;
    Instant now_{};
    WallClock wall_;
    std::int64_t expiry_day_ = 0; // of what is typed as its time, as the wall calendar counts days
    std::optional<NotCovered> not_covered_;
    Field refused_field_ = Field::none;
    std::string refused_;
};

} // namespace hangtime::screens
