/// What a scanner typed reaches one reader once, only where the data of a bag is asked for, and leaves no
/// byte behind. Numbers are under issuers that are set aside for tests; the wristband is invented.

#include "tests/web/harness.hpp"
#include "web/input/burst.hpp"
#include "web/widgets/ui.hpp"

#include <catch2/catch_test_macros.hpp>

#include <cstring>
#include <string>

using namespace hangtime;
using input::BurstFilter;
using platform::Key;

namespace {

// Any five characters in a row of what was scanned, anywhere in an object.
template <class T>
bool holds_some_of(const T& object, std::string_view text) {
    const std::string_view bytes(reinterpret_cast<const char*>(&object), sizeof object);
    for (std::size_t i = 0; i + 5 <= text.size(); ++i)
        if (bytes.find(text.substr(i, 5)) != std::string_view::npos)
            return true;
    // Held as keys each character stands in an event of its own: three in a row at that distance, not all the same,
    // because the upper bytes of pointers in a list are, and now and then they are a digit's.
    for (std::size_t at = 0; at + 2 * sizeof(platform::Event) < bytes.size(); ++at)
        for (std::size_t i = 0; i + 3 <= text.size(); ++i)
            if ((text[i] != text[i + 1] || text[i] != text[i + 2]) && bytes[at] == text[i] &&
                bytes[at + sizeof(platform::Event)] == text[i + 1] &&
                bytes[at + 2 * sizeof(platform::Event)] == text[i + 2])
                return true;
    return false;
}

struct Sink final : BurstFilter::Sink {
    std::vector<std::string> texts;
    int scans = 0;
    void key(const platform::Event&) override {}
    void scan(bool) override { ++scans; }
    void scanned(std::string_view text) override { texts.emplace_back(text); }
};

struct Scanner {
    Sink sink;
    BurstFilter filter{sink};
    std::int64_t ms = 1000;

    void key(Key key, char32_t c, std::int64_t after) {
        ms += after;
        filter.tick(ms);
        platform::Event e;
        e.kind = platform::Event::Kind::key;
        e.key = key;
        e.character = c;
        e.at_ms = ms;
        filter.feed(e);
    }
    void scan(std::string_view text, std::int64_t gap = 8) {
        for (const char c : text)
            key(Key::character, static_cast<char32_t>(c), gap);
        key(Key::enter, 0, gap);
        ms += 1000;
        filter.tick(ms);
    }
};

constexpr std::string_view bag_number = "=A99992600048178";
constexpr std::string_view wristband = "KX73190445";

} // namespace

TEST_CASE("the text of a burst is told once, and only to somebody who listens", "[scan]") {
    Scanner s;
    s.scan(bag_number);
    CHECK(s.sink.scans == 1);
    CHECK(s.sink.texts.empty());
    CHECK_FALSE(holds_some_of(s.filter, bag_number));
    s.filter.listen(true);
    s.scan(bag_number);
    REQUIRE(s.sink.texts.size() == 1);
    CHECK(s.sink.texts[0] == bag_number);
    CHECK_FALSE(holds_some_of(s.filter, bag_number)); // overwritten
    s.filter.listen(false);
    s.scan(bag_number);
    CHECK(s.sink.texts.size() == 1);
    CHECK(s.sink.scans == 3);
}

TEST_CASE("a burst that began before anybody listened is not read, and one that lost its listener neither",
          "[scan]") {
    for (const bool begins : {false, true}) {
        Scanner s;
        s.filter.listen(begins);
        for (std::size_t i = 0; i < bag_number.size(); ++i) {
            if (i == 8) {
                CHECK(holds_some_of(s.filter, bag_number.substr(0, 8)) ==
                      true); // this search finds what is there
                s.filter.listen(!begins);
            }
            s.key(Key::character, static_cast<char32_t>(bag_number[i]), 8);
        }
        s.key(Key::enter, 0, 8);
        CHECK(s.sink.scans == 1);
        CHECK(s.sink.texts.empty());
        CHECK_FALSE(holds_some_of(s.filter, bag_number));
    }
}

TEST_CASE("a scan that leaked its beginning is not read: it is not whole", "[scan]") {
    Scanner s;
    s.filter.listen(true);
    s.key(Key::character, U'=', 1000);
    s.ms += 40;
    s.filter.tick(s.ms);
    s.scan("%6200=%6200");
    CHECK(s.sink.scans == 1);
    CHECK(s.sink.texts.empty());
}

TEST_CASE("a scan that is longer than any is told as too long, and signs of no label stand for nothing",
          "[scan]") {
    Scanner s;
    s.filter.listen(true);
    s.scan(std::string(5000, '7'), 1);
    REQUIRE(s.sink.texts.size() == 1);
    CHECK(s.sink.texts[0].size() == most_scanned + 1);
    CHECK(read_scan(s.sink.texts[0]).reason == ScanReason::too_long);
    for (const char32_t c : {U'\u00e4', U'\U0001F9FE', char32_t{7}, char32_t{0x7F}})
        s.key(Key::character, c, 5);
    s.scan("%6200", 5);
    REQUIRE(s.sink.texts.size() == 2);
    CHECK(read_scan(s.sink.texts[1]).reason == ScanReason::not_bag_data);
}

namespace {

// A screen that asks, or does not.
class Asking {
public:
    Asking() {
        platform::Surface surface;
        surface.width = 400, surface.height = 300;
        ui_.fit(surface);
        frame(true);
    }
    void frame(bool asks, bool takes = true) {
        bool more = true;
        while (more) {
            more = ui_.feed();
            ui_.begin();
            if (asks)
                ui_.want_scan();
            if (takes)
                if (const auto scan = ui_.take_scan())
                    taken.push_back(*scan);
            ui_.end();
        }
    }
    void scan(std::string_view text) {
        platform::Event e;
        e.kind = platform::Event::Kind::key;
        const auto send = [&](Key key, char c) {
            e.key = key;
            e.character = static_cast<char32_t>(static_cast<unsigned char>(c));
            e.at_ms = ms_ += 8;
            ui_.input(e);
        };
        for (const char c : text)
            send(Key::character, c);
        send(Key::enter, 0);
        ms_ += 400;
    }
    ui::Ui& ui() { return ui_; }
    std::vector<Scan> taken;

private:
    std::int64_t ms_ = 1000;
    ui::Ui ui_;
};

} // namespace

TEST_CASE("a screen that asks is handed each scan once, read", "[scan]") {
    Asking screen;
    screen.scan(bag_number);
    screen.scan("=%6200");
    screen.frame(true);
    REQUIRE(screen.taken.size() == 2);
    REQUIRE(screen.taken[0].data.number.has_value());
    CHECK(screen.taken[0].data.number->view() == "A999926000481");
    CHECK(screen.taken[1].data.group->abo == Abo::a);
    CHECK_FALSE(screen.ui().take_scan().has_value());
    CHECK_FALSE(holds_some_of(screen.ui(), "A999926000481")); // the one reader has it, nobody else
    screen.frame(true);
    CHECK(screen.taken.size() == 2);
}

TEST_CASE("where nobody asks, or nobody takes it, a scan is gone", "[scan]") {
    Asking screen;
    screen.frame(false);
    screen.scan(bag_number);
    screen.frame(false);
    screen.frame(true);
    CHECK(screen.taken.empty());
    CHECK(screen.ui().scans() == 1);
    screen.scan(bag_number); // asked for, and not taken
    screen.frame(true, false);
    CHECK_FALSE(screen.ui().take_scan().has_value());
    CHECK_FALSE(holds_some_of(screen.ui(), "A999926000481"));
    // More than anybody scans before a picture is drawn: what does not fit is dropped, none is taken for
    // another.
    for (int i = 0; i < 12; ++i)
        screen.scan(i % 2 == 0 ? "=%6200" : "=%9500");
    screen.frame(true);
    REQUIRE(screen.taken.size() == 4);
    CHECK(screen.taken[0].data.group->abo == Abo::a);
    CHECK(screen.taken[3].data.group->abo == Abo::o);
    CHECK(screen.ui().scans() == 14);
}

TEST_CASE("a wristband is a reason and nothing else, also where a bag is asked for", "[scan]") {
    for (const std::string_view text :
         {wristband, std::string_view("&#AB10KX73190445"), std::string_view("=#AB19470613&#AB10KX73190445"),
          std::string_view("8018010731904455667784")}) {
        Asking screen;
        screen.scan(text);
        CHECK_FALSE(holds_some_of(screen.ui(), text));
        screen.frame(true);
        REQUIRE(screen.taken.size() == 1);
        CHECK(screen.taken[0].reason == ScanReason::not_bag_data);
        CHECK(screen.taken[0].data == LabelData{});
        CHECK_FALSE(holds_some_of(screen.taken[0], text));
        CHECK_FALSE(holds_some_of(screen.ui(), text));
    }
}
