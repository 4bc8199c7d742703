#pragma once

/// A round as the solver sees it: transfusions, each with the starts that are open to it, nurses with the
/// slots in which they are free, and what clashes with what. It knows no protocol and no clock:
/// core/round/options.cpp makes one out of a round, and every option in it is a plan that `reckon` made and
/// that fits.
///
/// The grid: slots of 5 minutes, counted from the beginning of the round. What is optimised, exactly:
///   - first the sum over all transfusions of weight x minutes from the beginning of the round to all in;
///   - then the number of changes against what was promised (another start is one, another nurse is one);
///   - or the other way round, where the round puts its promises first (`Priority::promise`).
/// What must hold:
///   - every transfusion has one of its options and a nurse, who is free for all of the match and the
///     attended first minutes; no nurse does two things at once;
///   - where the match takes a second nurse of this round, another one is free for all of it;
///   - every check has a slot inside its window and a nurse (any one of the round) who is free in it;
///   - one that follows another starts no earlier than the other's end and the lag after it;
///   - of two that are kept apart, either starts no earlier than the other's end and its own lag after that.

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace hangtime::rounds {

inline constexpr int slot_minutes = 5;
inline constexpr int most_slots = 512;  // 42 hours
inline constexpr int most_jobs = 16;
inline constexpr int most_nurses = 6;
inline constexpr int most_weight = 9;

/// A set of slots.
class Slots {
public:
    bool has(int slot) const { return (words_[word(slot)] >> (slot & 63) & 1U) != 0; }
    void add(int slot) { words_[word(slot)] |= std::uint64_t{1} << (slot & 63); }
    void add(int from, int to) {  // from <= slot < to
        each(from, to, [this](std::size_t w, std::uint64_t mask) { words_[w] |= mask; return true; });
    }
    void remove(int slot) { words_[word(slot)] &= ~(std::uint64_t{1} << (slot & 63)); }
    void remove(int from, int to) {
        each(from, to, [this](std::size_t w, std::uint64_t mask) { words_[w] &= ~mask; return true; });
    }
    /// True when all of from <= slot < to are in it.
    bool has_all(int from, int to) const {
        return each(from, to,
                    [this](std::size_t w, std::uint64_t mask) { return (words_[w] & mask) == mask; });
    }
    /// True when any of from <= slot < to is in it.
    bool has_any(int from, int to) const {
        return !each(from, to, [this](std::size_t w, std::uint64_t mask) { return (words_[w] & mask) == 0; });
    }
    friend bool operator==(const Slots&, const Slots&) = default;

private:
    static std::size_t word(int slot) { return static_cast<std::size_t>(slot) >> 6; }

    // Word by word, with a mask of the slots in it, while `with` says true.
    template <class With>
    static bool each(int from, int to, With with) {
        while (from < to) {
            const int bit = from & 63, count = std::min(64 - bit, to - from);
            const std::uint64_t all = count == 64 ? ~std::uint64_t{0} : (std::uint64_t{1} << count) - 1;
            if (!with(word(from), all << bit)) return false;
            from += count;
        }
        return true;
    }
    std::array<std::uint64_t, most_slots / 64> words_{};
};

/// from <= slot < to; empty where they are equal.
struct Span {
    int from = 0, to = 0;
    bool empty() const { return from >= to; }
    friend bool operator==(const Span&, const Span&) = default;
};

/// One start that is open to a transfusion, and what follows from it.
struct Option {
    int start = 0;            // slot
    int finish_min = 0;       // all in, in minutes from the beginning of the round, rounded up
    Span lead{};              // the match and the attended first minutes
    Span match{};             // for the second nurse; empty where that is over
    std::vector<Span> checks; // the slots in which each of the others counts
    std::uint32_t nurses = 0; // bit k: nurse k may have it
};

struct Job {
    int weight = 1;           // 1 to most_weight
    std::vector<Option> options;
    int promised_start = -1;  // slot, or -1
    int promised_nurse = -1;
    int follows = -1;         // another job
    int lag_min = 0;          // after its end
};

/// Two jobs that are never under way at the same time (one person), in whichever order.
struct Apart {
    int a = -1, b = -1;
    int lag_a = 0, lag_b = 0;  // minutes after the other's end, of the one that comes second
    friend bool operator==(const Apart&, const Apart&) = default;
};

struct Nurse {
    Slots free;
};

enum class Priority : std::uint8_t { finish, promise };

struct Problem {
    int slots = 0;
    std::vector<Job> jobs;
    std::vector<Apart> apart;
    std::vector<Nurse> nurses;
    bool second_from_round = false;
    Priority priority = Priority::finish;
};

struct Choice {
    int option = -1;
    int nurse = -1;
    int second = -1;  // -1: somebody outside the round, or nobody
};

/// When a check is done, and by whom.
struct CheckPlace {
    int slot = -1, nurse = -1;
};

/// What an answer costs, in both parts.
struct Cost {
    std::int64_t finish = 0;   // sum of weight x minutes
    std::int64_t changes = 0;
    friend bool operator==(const Cost&, const Cost&) = default;
};

struct Schedule {
    std::vector<Choice> choices;                   // one a job
    std::vector<std::vector<CheckPlace>> checks;   // one for each check of each job's option
    Cost cost;
};

/// Both parts as one number that orders answers as the problem's priority says.
std::int64_t combined(const Problem& problem, const Cost& cost);
Cost split(const Problem& problem, std::int64_t combined);
Cost cost_of(const Job& job, const Option& option, int nurse);
/// Whether `second` may start after `first` with this lag.
bool starts_after(const Option& second, const Option& first, int lag_min);
/// Whether the chosen options of a pair are apart; `of` gives the option of a job.
template <class Of>
bool are_apart(const Apart& pair, Of of) {
    const Option& a = of(pair.a);
    const Option& b = of(pair.b);
    return starts_after(b, a, pair.lag_b) || starts_after(a, b, pair.lag_a);
}

/// Places the checks of the chosen options, each in a slot of its window and with a nurse who is free:
/// earliest deadline first, which for things that take one slot finds a way wherever there is one. A job
/// whose choice is still open (`option` -1) is left out. False where there is no way; `out` may be null.
bool place_checks(const Problem& problem, const std::vector<Choice>& choices,
                  std::vector<std::vector<CheckPlace>>* out);

/// Every rule above, one by one, for a whole answer: the first one that is broken in words for developers, or
/// null. Independent of the search.
const char* broken_rule(const Problem& problem, const Schedule& answer);

}  // namespace hangtime::rounds
