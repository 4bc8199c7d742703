// The document model's writers. RFC 4180 (CSV) and RFC 5545 (iCalendar) are named beside their checks;
// Python's csv and icalendar read whole sheets in tests/oracle.

#include "core/sheet/document.hpp"
#include "core/sheet/line.hpp"

#include <catch2/catch_test_macros.hpp>

#include <string>
#include <vector>

using namespace hangtime;
using namespace hangtime::sheet;

namespace {

std::vector<std::string> lines_of(const std::string& text, const std::string& end = "\n") {
    std::vector<std::string> lines;
    std::size_t from = 0;
    for (std::size_t at = text.find(end); at != std::string::npos; at = text.find(end, from)) {
        lines.push_back(text.substr(from, at - from));
        from = at + end.size();
    }
    CHECK(from == text.size());  // the last line is ended as well
    return lines;
}

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

std::string times(std::string_view word, int n) {
    std::string out;
    for (int i = 0; i < n; ++i) out += word;
    return out;
}

Moment moment_at(std::int64_t utc, std::string name) {
    Moment m;
    m.kind = "check";
    m.code = "early";
    m.name = std::move(name);
    m.at = {utc};
    m.shown = "14:07";
    return m;
}

}  // namespace

TEST_CASE("a number and its unit, and a time and its day, are one piece") {
    const auto piece = [](std::string_view text, std::size_t from = 0) {
        return std::string(text.substr(from, quantity_end(text, from) - from));
    };
    CHECK(piece("174 mL/h, set") == "174 mL/h");
    CHECK(piece("12.5 mL") == "12.5 mL");
    CHECK(piece("5 % of it") == "5 %");
    CHECK(piece("1 h 45 min") == "1 h");
    CHECK(piece("02:30 UTC+1 day +1, then") == "02:30 UTC+1 day +1");
    CHECK(piece("15:51:40. Then") == "15:51:40");
    CHECK(piece("00:10 day +1") == "00:10 day +1");
    CHECK(piece("14:10 at the latest") == "14:10");
    CHECK(piece("word") == "");
    CHECK(piece("12") == "");
    CHECK(piece("12 ") == "");
    CHECK(piece("a12 mL", 1) == "");  // inside a word
    CHECK(piece("+2:20:51", 3) == "");  // inside an elapsed time
}

TEST_CASE("text: no line is longer than 80 letters, and quantities are not split") {
    Document d;
    d.title = times("title ", 20);
    d.headline(times("headline ", 30));
    d.paragraph(times("12.5 mL ", 60));
    d.list({times("item ", 40), "short"});
    d.fact("Name", times("value ", 40));
    d.fact(times("long name ", 5), "value");
    d.table({"Caption",
             {{"One", Role::text}, {"Two", Role::number}, {"Pen", Role::pen}, {"Tick", Role::tick}},
             {{times("cell ", 30), "174 mL/h"}, {"x", "1 mL", "14:07"}}});
    for (const std::string& line : lines_of(to_text(d))) {
        CAPTURE(line);
        CHECK(line.size() <= 80);
        CHECK((line.empty() || line.back() != ' '));
        CHECK_FALSE(line.ends_with("12.5"));
    }
}

TEST_CASE("text: letters of several bytes count once") {
    Document d;
    d.title = "\xC2\xB0";  // a degree sign
    CHECK(to_text(d) == "\xC2\xB0\n=\n");
}

TEST_CASE("text: columns stand under their headings, numbers to the right, room for a pen") {
    Document d;
    d.title = "T";
    d.table({"What", {{"Due", Role::time}, {"After start", Role::number}, {"Text", Role::text},
                      {"Done at", Role::pen}, {"Charted", Role::tick}},
             {{"14:07", "+0:15", "Early check"}, {"15:51:40", "+1:59:40", "All in", "15:52"}}});
    CHECK(to_text(d) ==
          "T\n=\n\n"
          "What\n----\n"
          "     Due     After  Text         Done at   Charted\n"
          "             start\n"
          "   14:07     +0:15  Early check  ________  [ ]\n"
          "15:51:40  +1:59:40  All in       15:52     [ ]\n");
}

TEST_CASE("an empty list and a table without rows leave nothing") {
    Document d;
    d.list({});
    d.table({"Caption", {{"One", Role::text}}, {}});
    CHECK(d.blocks.empty());
}

TEST_CASE("facts and items that follow one another stand together") {
    Document d;
    d.fact("a", "1");
    d.fact("b", "2");
    d.item("one");
    d.item("two");
    d.fact("c", "3");
    REQUIRE(d.blocks.size() == 3);
    CHECK(d.blocks[0].facts.size() == 2);
    CHECK(d.blocks[1].items == std::vector<std::string>{"one", "two"});
    CHECK(d.blocks[2].facts.size() == 1);
}

TEST_CASE("HTML: everything is escaped, and has the elements that say what it is") {
    Document d;
    d.title = "<T> & \"U\"";
    d.heading("<h>");
    d.headline("Fits & <more>");
    d.list({"<script>alert('x')</script>"});
    d.cautions({"take care"});
    d.fact("<n>", "174 mL/h");
    d.table({"<c>", {{"<col>", Role::text}, {"Time", Role::time}, {"Pen", Role::pen}}, {{"<row>", "14:07"}}});
    const std::string html = to_html_fragment(d);
    CHECK(contains(html, "<h1>&lt;T&gt; &amp; &quot;U&quot;</h1>"));
    CHECK(contains(html, "<li>&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;</li>"));
    CHECK(contains(html, "<caption>&lt;c&gt;</caption>"));
    CHECK(contains(html, "<th scope=\"col\">&lt;col&gt;</th>"));
    CHECK(contains(html, "<th scope=\"row\">&lt;row&gt;</th>"));
    CHECK(contains(html, "<dt>&lt;n&gt;</dt><dd><span class=\"q\">174 mL/h</span></dd>"));
    CHECK(contains(html, "<td class=\"pen\"></td>"));
    CHECK_FALSE(contains(html, "<script"));
    CHECK_FALSE(contains(html, "style="));
    CHECK_FALSE(contains(html, " on"));

    const std::string page = to_html_page(d);
    CHECK(page.starts_with("<!doctype html>"));
    CHECK(contains(page, "<html lang=\"en\">"));
    CHECK(contains(page, "default-src 'none'"));
    CHECK(contains(page, std::string(html_style())));
    CHECK(contains(page, html));
    CHECK_FALSE(contains(page, "http:"));
    CHECK_FALSE(contains(page, "https:"));
}

TEST_CASE("CSV: RFC 4180, sections 2.1 to 2.7") {
    Document d;
    d.start = {1000};
    Moment m = moment_at(1900, "a \"quoted\", name");
    m.detail = "two\nlines";
    m.until = Instant{1960};
    m.until_shown = "14:08";
    d.moments.push_back(m);
    CHECK(to_csv(d) ==
          "kind,code,name,at,seconds_from_start,until,until_seconds_from_start,detail,sum,source\r\n"
          "check,early,\"a \"\"quoted\"\", name\",14:07,900,14:08,960,\"two\nlines\",,\r\n");
}

TEST_CASE("iCalendar: RFC 5545, sections 3.1, 3.3.5, 3.3.11 and 3.6.1") {
    Document d;
    d.title = "Red cells, 316 mL";
    d.moments.push_back(
        moment_at(1'773'493'620, "Early; check\\ " + times("\xC3\xA4", 80))); // 2026-03-14T13:07Z
    d.moments.push_back(moment_at(1'773'493'620, "not in it"));
    d.moments.back().in_calendar = false;
    const std::string ics = to_calendar(d, {1'773'490'000});
    for (const std::string& line : lines_of(ics, "\r\n")) {
        CHECK(line.size() <= 75);
        CHECK(line.find('\n') == std::string::npos);
        CHECK((static_cast<unsigned char>(line[0]) & 0xC0) != 0x80);  // no letter is split
        if (line[0] == ' ') CHECK((static_cast<unsigned char>(line[1]) & 0xC0) != 0x80);
    }
    CHECK(contains(ics, "DTSTART:20260314T130700Z\r\n"));
    CHECK(contains(ics, "DTSTAMP:20260314T120640Z\r\n"));
    CHECK(contains(ics, "Early\\; check\\\\ "));
    CHECK(contains(ics, ": Red cells\\, 316 mL"));
    CHECK(contains(ics, "TRANSP:TRANSPARENT"));
    CHECK_FALSE(contains(ics, "VALARM"));
    CHECK_FALSE(contains(ics, "not in it"));
    CHECK(ics == to_calendar(d, {1'773'490'000}));  // the same plan, the same UIDs
}

TEST_CASE("iCalendar: a calendar without events is a note, for RFC 5545 3.6 asks for a component") {
    Document d;
    d.title = "Albumin";
    d.headline("Not covered here.");
    const std::string ics = to_calendar(d, {1'773'490'000});
    CHECK(contains(ics, "BEGIN:VJOURNAL\r\n"));
    CHECK(contains(ics, "DESCRIPTION:Not covered here.\r\n"));
    CHECK_FALSE(contains(ics, "VEVENT"));
}
