#pragma once

/// A review of past sessions: counts out of their logs, which hold nobody's identity. A session is looked at as it stood
/// when its last record was noted; each of its units is counted by itself. Rehearsals are not for here.
///
/// What is counted here is shown only by way of core/rehearse/review_told.hpp, which leaves out what is too few.

#include "core/session/log.hpp"
#include "core/session/protocol_cache.hpp"
#include "core/sheet/document.hpp"
#include "core/words/rehearse_codes.hpp"

#include <array>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime {

struct Live;

struct Tally {
    std::int32_t yes = 0, of = 0;

    friend bool operator==(const Tally&, const Tally&) = default;
};

/// How far something lies apart, in minutes: what is below the first edge, between two of them, from the last one on.
/// `none`: of what is counted, those that have no such span (not hung, missed).
inline constexpr std::size_t spread_bins = 8;
struct Distribution {
    std::array<std::int32_t, spread_bins> bins{};
    std::int32_t none = 0;
    Seconds all{};                   // of those in the bins, together

    void add(Spread spread, Seconds span);
    void add(const Distribution& other);
    std::int32_t counted() const;    // in the bins
    friend bool operator==(const Distribution&, const Distribution&) = default;
};
/// The edges between the bins, in minutes.
const std::array<std::int32_t, spread_bins - 1>& edges_of(Spread spread);

/// How often for one reason, and the minutes: of a pause how long, of a return or discard how long after the issue.
struct ByReason {
    std::int32_t times = 0;
    Seconds span{};

    friend bool operator==(const ByReason&, const ByReason&) = default;
};
inline constexpr std::size_t return_reason_count = 10;
inline constexpr std::size_t pause_reason_count = 7;

/// What is counted of the units of one component under one protocol.
struct ReviewGroup {
    std::string protocol;
    Component component{};
    std::int32_t units = 0;
    std::array<Tally, measure_count> measures{};
    std::array<Distribution, spread_count> spreads{};
    std::int32_t pauses = 0, returned = 0, discarded = 0;
    std::array<ByReason, pause_reason_count> paused_for{};
    std::array<ByReason, return_reason_count> gone_for{};  // returns and discards

    Distribution& spread(Spread s) { return spreads[static_cast<std::size_t>(s)]; }
    const Distribution& spread(Spread s) const { return spreads[static_cast<std::size_t>(s)]; }
    void add(const ReviewGroup& other);
    friend bool operator==(const ReviewGroup&, const ReviewGroup&) = default;
};

class Review {
public:
    Review();
    ~Review();
    Review(Review&&) noexcept;
    Review& operator=(Review&&) noexcept;

    /// False, and nothing is counted, where it is a rehearsal.
    bool add(const Log& log);
    /// A log as a file; why it is left out, with the place in it. None: it is counted.
    std::optional<Error> add_file(std::string_view text);

    std::int32_t sessions() const { return sessions_; }
    /// By protocol and component, in the order of their names.
    const std::vector<ReviewGroup>& groups() const { return groups_; }

private:
    std::int32_t sessions_ = 0;
    std::vector<ReviewGroup> groups_;
    ProtocolCache protocols_;        // of the logs that were read
    std::unique_ptr<Live> live_;
};

/// A file that was left out, and why.
struct LeftOut { std::string file, why; };

inline constexpr std::int32_t usual_floor = 5;

sheet::Document review_sheet(const Review& review, std::int32_t floor, const std::vector<LeftOut>& left_out);
std::string review_json(const Review& review, std::int32_t floor, const std::vector<LeftOut>& left_out);
/// For a spreadsheet, one line a count: protocol, component, figure, part, count, minutes. What is not told is empty.
std::string review_csv(const Review& review, std::int32_t floor);

}  // namespace hangtime
