#pragma once

/// A review of past sessions: counts out of their logs, which hold nobody's identity. A session is looked at as it stood
/// when its last record was noted; each of its units is counted by itself. Rehearsals are not for here.
///
/// Counts below a floor are not shown, so that nobody can be found in them: a group of fewer units is left out of
/// everything, and a part of a measure that is smaller than it is said to be so. The total is that of the groups that
/// are shown.

#include "core/session/log.hpp"
#include "core/sheet/document.hpp"
#include "core/words/rehearse_codes.hpp"

#include <array>
#include <string>
#include <vector>

namespace hangtime {

struct Tally {
    std::int32_t yes = 0, of = 0;

    friend bool operator==(const Tally&, const Tally&) = default;
};

inline constexpr std::size_t return_reason_count = 10;

/// What is counted of the units of one component under one protocol.
struct ReviewGroup {
    std::string protocol;
    Component component{};
    std::int32_t units = 0;
    std::array<Tally, measure_count> measures{};
    std::int32_t pauses = 0, returned = 0, discarded = 0;
    Seconds paused{};
    Seconds until_gone{};    // from issue to return or discard, all together
    std::array<std::int32_t, return_reason_count> reasons{};  // of returns and discards

    void add(const ReviewGroup& other);
    friend bool operator==(const ReviewGroup&, const ReviewGroup&) = default;
};

class Review {
public:
    /// False, and nothing is counted, where it is a rehearsal.
    bool add(const Log& log);

    std::int32_t sessions() const { return sessions_; }
    /// By protocol and component, in the order of their names.
    const std::vector<ReviewGroup>& groups() const { return groups_; }

private:
    std::int32_t sessions_ = 0;
    std::vector<ReviewGroup> groups_;
};

/// A file that was left out, and why.
struct LeftOut { std::string file, why; };

inline constexpr std::int32_t usual_floor = 5;

sheet::Document review_sheet(const Review& review, std::int32_t floor, const std::vector<LeftOut>& left_out);
std::string review_json(const Review& review, std::int32_t floor, const std::vector<LeftOut>& left_out);
/// One line a group and measure: protocol, component, what, yes, of; a hidden count is empty.
std::string review_csv(const Review& review, std::int32_t floor);

}  // namespace hangtime
