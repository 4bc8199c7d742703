// What of a review is told, by hand: each row one rule about what is too few.

#include "core/rehearse/review_words.hpp"
#include "core/session/record.hpp"
#include "support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

namespace {

constexpr const char* logs[] = {"01-a-pause-on-the-way", "02-stopped-by-the-person", "03-taken-over-half-way"};

std::string log_text(const std::string& name) { return file_text("demo-data/logs/" + name + ".jsonl"); }
std::string first_log() { return log_text(logs[0]); }

}  // namespace

TEST_CASE("a protocol that was read before changes nothing but the time", "[review]") {
    ProtocolCache cache;
    for (const std::string name : logs) {
        INFO(name);
        const std::string text = log_text(name);
        const auto plain = read_log(text);
        REQUIRE(plain.ok());
        for (int i = 0; i < 2; ++i) {
            const auto cached = read_log(text, &cache);
            REQUIRE(cached.ok());
            CHECK(write_log(cached.value().log) == write_log(plain.value().log));
            CHECK(cached.value().sum == plain.value().sum);
            CHECK(cached.value().sealed == plain.value().sealed);
        }
    }
    // What is wrong with a line is told of the whole line, known protocol or not.
    const std::string text = first_log();
    for (const auto& [old, by] : {std::pair{"\"protocol\": {", "\"protocol\": {}, \"x\": {"}, std::pair{"\"n\": 1,", "\"n\": 0,"},
                                  std::pair{"\"object\"", "\"objects\""}, std::pair{"\"id\":", "\"id\": \"x\", \"id\":"}}) {
        INFO(by);
        const std::string broken = replaced(text, old, by);
        const auto plain = read_log(broken), cached = read_log(broken, &cache);
        REQUIRE_FALSE(plain.ok());
        REQUIRE_FALSE(cached.ok());
        CHECK(plain.error().where == cached.error().where);
        CHECK(plain.error().problem == cached.error().problem);
    }
    // A changed protocol is another one, also where it begins alike.
    const std::string other = replaced(text, "\"within_min\": 240", "\"within_min\": 239");
    const auto line = other.substr(0, other.find('\n'));
    const auto kept = cache.find(line);
    CHECK_FALSE(kept.has_value());
    CHECK(cache.find(text.substr(0, text.find('\n'))).has_value());
}

TEST_CASE("the sum over a protocol that is known comes out as byte by byte, whatever stood before it", "[review]") {
    ProtocolCache cache;
    REQUIRE(read_log(first_log(), &cache).ok());
    const std::string text = first_log();
    const std::string line = text.substr(0, text.find('\n'));
    REQUIRE(cache.find(line).has_value());
    std::uint64_t sum = first_sum;
    for (int i = 0; i < 600; ++i) {
        CHECK(cache.fnv(sum, line) == fnv(sum, line));
        sum = sum * 6364136223846793005ULL + 1442695040888963407ULL;
    }
    // One byte of the protocol or of anything else changed is another sum still.
    std::string other = line;
    other[other.size() / 2] = other[other.size() / 2] == 'x' ? 'y' : 'x';
    CHECK(cache.fnv(first_sum, other) == fnv(first_sum, other));
    CHECK(cache.fnv(first_sum, other) != cache.fnv(first_sum, line));
    const auto damaged = read_log(other + text.substr(text.find('\n')), &cache);
    REQUIRE_FALSE(damaged.ok());
    CHECK(damaged.error().problem == "has another sum than it was written with");
}

TEST_CASE("a span falls into the bin whose edges it lies between", "[review]") {
    Distribution d;
    d.add(Spread::until_hung, Seconds{599});
    d.add(Spread::until_hung, Seconds{600});
    d.add(Spread::until_hung, Seconds{7'199});
    d.add(Spread::until_hung, Seconds{7'200});
    CHECK(d.bins == std::array<std::int32_t, spread_bins>{1, 1, 0, 0, 0, 0, 1, 1});
    CHECK(d.counted() == 4);
    CHECK(d.all == Seconds{599 + 600 + 7'199 + 7'200});
    CHECK(bin_text(Spread::until_hung, {0, 0, 1}) == "under 10 min");
    CHECK(bin_text(Spread::until_hung, {1, 2, 1}) == "10 to under 30 min");
    CHECK(bin_text(Spread::until_hung, {7, 7, 1}) == "120 min or more");
    CHECK(bin_text(Spread::until_hung, {7, 8, 1}) == "120 min or more, or not hung");
    CHECK(bin_text(Spread::until_hung, {8, 8, 1}) == "not hung");
    CHECK(bin_text(Spread::early_after_due, {0, 0, 1}) == "before it was due");
    CHECK(bin_text(Spread::early_after_due, {0, 8, 1}) == "any time, or missed");
}

TEST_CASE("a review of nothing and of a rehearsal counts nothing", "[review]") {
    Review review;
    CHECK(told_of(review, 5).groups.empty());
    const auto error = review.add_file("");
    REQUIRE(error);
    CHECK(error->problem == "holds no record");
    REQUIRE(review.add_file(replaced(first_log().substr(0, first_log().find('\n')), "\"n\": 1,", "\"n\": 1,,")));
    CHECK(review.sessions() == 0);
    CHECK_FALSE(review.add_file(first_log()));
    CHECK(review.sessions() == 1);
    // One session is fewer than any floor above 1.
    const ReviewTold told = told_of(review, 2);
    CHECK(told.groups.empty());
    CHECK(told.sessions == 0);
    const std::string text = sheet::to_text(review_sheet(review, 2, {{"file 1", "is a rehearsal"}}));
    CHECK(text.find("No group is large enough") != text.npos);
    CHECK(text.find("file 1: is a rehearsal") != text.npos);
}
