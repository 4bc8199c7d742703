#pragma once

/// What the readers of kept drafts share: of what stands in a file only that may be missing. For core/round only.

#include "core/session/reader.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

namespace hangtime::rounds::draft_parts {

using Found = std::optional<json::Field>;

inline std::optional<Instant> time(const Found& field, const WallClock& wall) {
    if (!field) return std::nullopt;
    return session_reader::read_stated(*field, wall).at;
}

inline std::optional<std::int64_t> whole(const Found& field, std::int64_t least, std::int64_t most, int places = 0) {
    if (!field) return std::nullopt;
    return field->decimal(places, least, most);
}

inline std::optional<Component> component(const Found& field) {
    if (!field) return std::nullopt;
    return session_reader::read_component(*field);
}

/// The keys of the links to another one for the same person, in the order of `PersonLink`.
inline constexpr std::array<std::string_view, 3> person_link_keys = {"follows", "same_person", "beside"};

/// An order of which only these can be entered: the time from the start, and the highest rate.
struct Ordered {
    std::optional<std::int64_t> within_min, most_tenths;  // of a mL/h
};
Ordered ordered(const Found& field);

/// Of a person only what can be entered.
struct Person {
    std::optional<std::int64_t> weight_tenths;  // of a kg
    Answer overload_risk = Answer::not_recorded, can_report = Answer::not_recorded;
};
Person person(const Found& field);

}  // namespace hangtime::rounds::draft_parts
