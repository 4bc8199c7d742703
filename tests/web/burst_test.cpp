/// A scanner's burst never reaches a field or a button. The limits (six characters, 35 ms) are common
/// practice, no source: people type a character in 60 ms at their fastest, scanners in 1 to 20 ms.

#include "tests/web/harness.hpp"
#include "web/input/burst.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using input::BurstFilter;
using platform::Key;

namespace {

struct Sink final : BurstFilter::Sink {
    std::string typed;
    int enters = 0, scans = 0, leaks = 0;
    void key(const platform::Event& e) override {
        if (e.key == Key::character)
            typed.push_back(static_cast<char>(e.character));
        if (e.key == Key::enter)
            ++enters;
    }
    void scan(bool leaked) override {
        ++scans;
        leaks += leaked ? 1 : 0;
    }
};

struct Keyboard {
    Sink sink;
    BurstFilter filter{sink};
    std::int64_t ms = 1000;

    bool key(Key key, char c, std::int64_t after) {
        ms += after;
        filter.tick(ms);
        platform::Event e;
        e.kind = platform::Event::Kind::key;
        e.key = key;
        e.character = static_cast<char32_t>(c);
        e.at_ms = ms;
        return filter.feed(e);
    }
    void type(std::string_view text, std::int64_t gap) {
        for (const char c : text)
            key(Key::character, c, gap);
    }
    void wait(std::int64_t n) {
        ms += n;
        filter.tick(ms);
    }
};

} // namespace

TEST_CASE("what a person types arrives, in order", "[burst]") {
    for (const std::int64_t gap : {35, 60, 120, 400}) {
        Keyboard k;
        k.type("1340", gap);
        k.key(Key::enter, 0, gap);
        CHECK(k.sink.typed == "1340");
        CHECK(k.sink.enters == 1);
        CHECK(k.sink.scans == 0);
    }
}

TEST_CASE("a few quick characters are still a person's, after the silence", "[burst]") {
    Keyboard k;
    k.type("31640", 10);
    CHECK(k.sink.typed.empty());
    CHECK(k.filter.wait_ms(k.ms) == 35);
    k.wait(35);
    CHECK(k.sink.typed == "31640");
    CHECK(k.filter.wait_ms(k.ms) == -1);
}

TEST_CASE("keys that a busy machine handles late are judged by when they went down", "[burst]") {
    Sink sink;
    BurstFilter filter(sink);
    const auto feed = [&](Key key, char c, std::int64_t down, std::int64_t handled) {
        platform::Event e;
        e.kind = platform::Event::Kind::key;
        e.key = key;
        e.character = static_cast<char32_t>(c);
        e.at_ms = down;
        e.handled_ms = handled;
        filter.feed(e);
    };
    // The first is handled 60 ms after it went down, a picture is drawn, then come the rest.
    feed(Key::character, '=', 1000, 1060);
    CHECK(filter.wait_ms(1080) == 15);
    filter.tick(1080);
    const std::string_view rest = "A99992600048178";
    for (std::size_t i = 0; i < rest.size(); ++i)
        feed(Key::character, rest[i], 1001 + static_cast<std::int64_t>(i), 1085);
    feed(Key::enter, 0, 1017, 1086);
    CHECK(sink.typed.empty());
    CHECK(sink.enters == 0);
    CHECK(sink.scans == 1);
    CHECK(sink.leaks == 0);
    // Two keys of a person, both handled late: they stay two keys.
    feed(Key::character, '4', 3000, 3200);
    feed(Key::character, '2', 3100, 3201);
    filter.tick(3236);
    CHECK(sink.typed == "42");
}

TEST_CASE("a burst that ends with Enter or Tab is a scan, and nothing of it is handed on", "[burst]") {
    for (const Key end : {Key::enter, Key::tab}) {
        Keyboard k;
        k.type("=G1517 05 123456", 8);
        CHECK(k.key(end, 0, 8)); // taken: the browser moves no focus
        k.wait(1000);
        CHECK(k.sink.typed.empty());
        CHECK(k.sink.enters == 0);
        CHECK(k.sink.scans == 1);
        CHECK(k.sink.leaks == 0);
    }
}

TEST_CASE("exactly six characters are a scan, five are not", "[burst]") {
    Keyboard six, five;
    six.type("123456", 34);
    six.key(Key::enter, 0, 34);
    five.type("12345", 34);
    five.key(Key::enter, 0, 34);
    CHECK(six.sink.scans == 1);
    CHECK(five.sink.scans == 0);
    CHECK(five.sink.typed == "12345");
}

TEST_CASE("a burst without an ending is a scan as well", "[burst]") {
    Keyboard k;
    k.type("12345678", 5);
    k.wait(35);
    CHECK(k.sink.scans == 1);
    CHECK(k.sink.typed.empty());
}

TEST_CASE("what follows a scan at once belongs to it", "[burst]") {
    Keyboard k;
    k.type("12345678", 5);
    k.key(Key::enter, 0, 5);
    k.key(Key::enter, 0, 10);
    k.type("99", 40);
    CHECK(k.sink.scans == 1);
    CHECK(k.sink.enters == 0);
    CHECK(k.sink.typed.empty());
    k.wait(400);
    k.type("7", 10);
    k.wait(40);
    CHECK(k.sink.typed == "7");
}

TEST_CASE("somebody who types fast right after a scan loses the first keys at most", "[burst]") {
    for (const std::int64_t gap : {50, 80, 100, 140}) {
        Keyboard k;
        k.type("12345678", 5);
        k.key(Key::enter, 0, 5);
        k.wait(160);
        k.type("1340", gap); // a second person at the keyboard, say
        k.key(Key::enter, 0, gap);
        INFO(gap);
        CHECK(k.sink.typed == "1340");
        CHECK(k.sink.enters == 1);
        Keyboard at_once;
        at_once.type("12345678", 5);
        at_once.key(Key::enter, 0, 5);
        at_once.type("1234567890", gap);
        at_once.wait(40);
        CHECK(at_once.sink.typed.size() >= 7); // nobody's hand is there within 150 ms
    }
}

TEST_CASE("a scan without an ending that goes on slowly is swallowed to its Enter", "[burst]") {
    Keyboard k;
    k.type("12345678", 5);
    k.type("999", 60); // it stammers
    k.key(Key::enter, 0, 120);
    k.wait(1000);
    CHECK(k.sink.typed.empty());
    CHECK(k.sink.enters == 0);
    k.type("13", 120);
    k.wait(40);
    CHECK(k.sink.typed == "13");
}

TEST_CASE("a scan of six characters whose first came slowly is still a scan", "[burst]") {
    for (const std::int64_t first : {35, 40, 90, 150}) {
        Keyboard k;
        k.type("1", 1000);
        k.type("2", first);
        k.type("3456", 8);
        CHECK(k.key(Key::enter, 0, 8));
        INFO(first);
        CHECK(k.sink.typed == "1"); // handed on before anybody could know
        CHECK(k.sink.enters == 0);
        CHECK(k.sink.scans == 1);
        CHECK(k.sink.leaks == 1); // and told, so that it is taken back
    }
}

TEST_CASE("a scan that stammered says that its beginning leaked", "[burst]") {
    Keyboard k;
    k.type("123", 5);
    k.wait(40);
    k.type("45678901", 5);
    k.key(Key::enter, 0, 5);
    CHECK(k.sink.typed == "123");
    CHECK(k.sink.scans == 1);
    CHECK(k.sink.leaks == 1);
}

TEST_CASE("editing keys are never held back", "[burst]") {
    Keyboard k;
    CHECK(k.key(Key::backspace, 0, 10));
    CHECK_FALSE(k.key(Key::tab, 0, 10)); // the browser's, to move the focus
}

TEST_CASE("a scan fills no entry and presses no button", "[burst][plan]") {
    test::Page page;
    page.tap("unit.component");
    page.choose("Red cells");
    REQUIRE((page.find("unit.volume")->state & ui::State::editing) != 0);
    page.scan("=A9999XX123456", Key::enter);
    CHECK(page.says("unit.volume", "0"));
    CHECK((page.find("unit.volume")->state & ui::State::editing) != 0);
    CHECK(page.label("scan").starts_with("That was a scan."));
    CHECK(page.shown().announced.starts_with("That was a scan."));
    // Not a byte of it is on the screen, in the title or in what is printed.
    page.app().before_print();
    for (const std::string& where : {page.all_text(), page.shown().title, page.shown().print_html})
        CHECK(where.find("123456") == std::string::npos);
    page.type("316");
    CHECK(page.says("unit.volume", "316 mL"));
}

TEST_CASE("an entry is what it was when a scan leaked into it", "[burst][plan]") {
    test::Page page;
    page.enter("Red cells", "250", "1340", "1352");
    page.tap("unit.volume");
    page.scan("99", Key::none, 5);
    CHECK(page.says("unit.volume", "99 mL"));
    platform::twin::advance_ms(-150);
    page.scan("123456789", Key::enter, 5);
    CHECK(page.says("unit.volume", "250 mL"));
}

TEST_CASE("a scan whose first key comes slowly leaves no digit, however late the page draws", "[burst][plan]") {
    for (const std::int64_t first : {36, 40, 80, 120, 150})
        for (const bool drawn : {true, false})
            for (const std::string_view code : {"123456", "1234567890123"}) {
                INFO(first << " ms, " << (drawn ? "drawn" : "not drawn") << ", " << code);
                test::Page page;
                page.enter("Red cells", "250", "1340", "1352");
                page.tap("unit.volume");
                platform::Event e;
                e.kind = platform::Event::Kind::key;
                e.key = Key::character;
                for (std::size_t i = 0; i < code.size(); ++i) {
                    e.character = static_cast<char32_t>(code[i]);
                    e.at_ms = platform::now_ms();
                    page.send(e);
                    if (i == 0 && drawn) { // the first digit stands in the entry before the rest comes
                        platform::twin::advance_ms(35);
                        page.frame();
                        CHECK(page.says("unit.volume", "1 mL"));
                        platform::twin::advance_ms(first - 35);
                    } else {
                        platform::twin::advance_ms(i == 0 ? first : 8);
                    }
                }
                e.key = Key::enter;
                e.character = 0;
                e.at_ms = platform::now_ms();
                page.send(e);
                page.frame();
                CHECK(page.says("unit.volume", "250 mL"));
                CHECK(page.has("dock")); // and its Enter ended no entry
                CHECK(page.has("scan"));
                page.wait(200);
                page.type("316"); // what is typed then replaces it, as before
                CHECK(page.says("unit.volume", "316 mL"));
            }
}
