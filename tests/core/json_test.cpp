// Reading and writing JSON: RFC 8259, and RFC 3629 for UTF-8.

#include "support.hpp"

#include "core/json/field.hpp"
#include "core/json/read.hpp"
#include "core/json/units.hpp"
#include "core/json/write.hpp"

#include <catch2/catch_test_macros.hpp>

#include <array>

using namespace hangtime;
using namespace hangtime::test;

namespace {

Error error_of(std::string_view text) {
    const auto read = json::read(text);
    INFO(text);
    REQUIRE_FALSE(read.ok());
    return read.error();
}

struct Taken {
    std::int64_t n;
    std::string problem;  // empty: fine
};

// The member "n" of `text`, as a decimal.
Taken decimal(const std::string& number, int places, std::int64_t least, std::int64_t most) {
    const json::Value tree = tree_of("{\"n\": " + number + "}");
    json::Report report;
    const auto n = json::Field(report, &tree, "").object({"n"}).at("n").decimal(places, least, most);
    return {n, report.ok() ? "" : report.error().problem};
}

}  // namespace

TEST_CASE("numbers are kept as they are written, members in their order") {
    const json::Value tree =
        tree_of(R"({"b": 50.50, "a": [1, -2, 1e3, 123456789012345678901234567890], "c": null})");
    CHECK(tree.keys == std::vector<std::string>{"b", "a", "c"});
    CHECK(tree.items[0].text == "50.50");
    CHECK(tree.items[1].items[1].text == "-2");
    CHECK(tree.items[1].items[2].text == "1e3");
    CHECK(tree.items[1].items[3].text == "123456789012345678901234567890");
    CHECK(tree.find("c")->kind == json::Kind::null);
    CHECK(tree.find("d") == nullptr);
}

TEST_CASE("what is not JSON is refused with its line and column") {
    CHECK(error_of("").where == "line 1, column 1");
    CHECK(error_of("{\"a\": 1").problem == "the text ends too early");
    CHECK(error_of("{\"a\": 1").where == "line 1, column 8");
    CHECK(error_of("{\"a\": 1}\n\n x").where == "line 3, column 2");
    CHECK(error_of("{\"a\": 1}\n\n x").problem == "there is text after the end");
    CHECK(error_of("{\n\"a\": 01}").where == "line 2, column 7");
    CHECK(error_of("{\"a\": .5}").problem.starts_with("not JSON at"));
    CHECK(error_of("{\"a\": +5}").problem.starts_with("not JSON at"));
    CHECK(error_of("{\"a\": NaN}").problem.starts_with("not JSON at"));
    CHECK(error_of("{\"a\": 1,}").problem.starts_with("not JSON at"));
    CHECK(error_of("{'a': 1}").problem.starts_with("not JSON at"));
    CHECK(error_of("{/* */}").problem.starts_with("not JSON at"));
    CHECK(error_of("{\"a\": \"\\ud800\"}").problem.starts_with("not JSON at"));
    CHECK(error_of("{\"a\": \"tab\there\"}").problem.starts_with("not JSON at"));
    CHECK(error_of("{\"a\": 1e999}").problem == "1e999 is out of range");
    CHECK(error_of("[1]").problem == "is a list");
    CHECK(error_of("12").problem == "is a number");
    CHECK(error_of("null").problem == "is null");
    CHECK(error_of(std::string_view("{\"a\": 1}\0x", 10)).problem == "there is a zero byte");
}

TEST_CASE("a repeated key is refused with its path") {
    CHECK(error_of(R"({"a": 1, "a": 1})").where == "a");
    CHECK(error_of(R"({"a": {"b": 1, "c": 2, "b": 3}})").where == "a.b");
    CHECK(error_of(R"({"x": [{"b": 1}, {"b": 1, "b": 1}]})").where == "x[1].b");
    CHECK(error_of(R"({"a": 1, "\u0061": 1})").where == "a");  // the same key, spelled otherwise
    CHECK(json::read(R"({"x": [{"b": 1}, {"b": 1}]})").ok());
}

TEST_CASE("depth, size and length are bounded") {
    const auto nested = [](std::size_t n) {
        return "{\"a\": " + std::string(n - 1, '[') + std::string(n - 1, ']') + "}";
    };
    CHECK(json::read(nested(json::most_depth)).ok());
    CHECK(error_of(nested(json::most_depth + 1)).problem == "is nested too deep");
    CHECK(error_of(nested(200'000)).problem == "is nested too deep");

    const auto listed = [](std::size_t n) {
        std::string text = "{\"a\": [0";
        while (--n > 0) text += ",0";
        return text + "]}";
    };
    CHECK(json::read(listed(json::most_items)).ok());
    CHECK(error_of(listed(json::most_items + 1)).where == "a[1000]");

    std::string large = "{\"a\": \"";
    large.append(json::most_bytes - large.size() - 2, 'x');
    CHECK(json::read(large + "\"}").ok());
    CHECK(error_of(large + "x\"}").problem.starts_with("is larger than"));
}

TEST_CASE("UTF-8 is valid or refused: every sequence of one, two and three bytes counted") {
    // By RFC 3629: 128 characters of one byte, 1920 of two, 61 440 of three (65 536 less what is shorter and
    // less the 2048 surrogates), 1 048 576 of four.
    const auto valid = [](const unsigned char* bytes, std::size_t n) {
        return json::valid_utf8({reinterpret_cast<const char*>(bytes), n}) == n;
    };
    std::array<unsigned char, 3> b{};
    long one = 0, two = 0, three = 0;
    for (unsigned i = 0; i < 256; ++i) {
        b[0] = static_cast<unsigned char>(i);
        one += valid(b.data(), 1);
        for (unsigned j = 0; j < 256; ++j) {
            b[1] = static_cast<unsigned char>(j);
            two += valid(b.data(), 2);
            for (unsigned k = 0; k < 256; ++k) {
                b[2] = static_cast<unsigned char>(k);
                three += valid(b.data(), 3);
            }
        }
    }
    CHECK(one == 128);
    CHECK(two == 128L * 128 + 1920);
    CHECK(three == 128L * 128 * 128 + 2L * 128 * 1920 + 61'440);

    long four = 0;
    for (unsigned lead = 0xE0; lead < 0x100; ++lead)
        for (unsigned second = 0; second < 256; ++second) {
            const unsigned char bytes[] = {static_cast<unsigned char>(lead),
                                           static_cast<unsigned char>(second), 0x80, 0xBF};
            four += valid(bytes, 4);
        }
    CHECK(four == 1'048'576 / 64 / 64);
    CHECK(error_of("{\"a\":\n\"\xC3\"}").where == "line 2, column 2");
}

TEST_CASE("a decimal is taken exactly, or refused") {
    CHECK(decimal("50", 1, 0, 1000).n == 500);
    CHECK(decimal("50.5", 1, 0, 1000).n == 505);
    CHECK(decimal("50.50", 1, 0, 1000).n == 505);
    CHECK(decimal("0.29", 2, 0, 100).n == 29);  // 0.29 x 100 is 28.999... in binary floating point
    CHECK(decimal("-0.5", 1, -10, 10).n == -5);
    CHECK(decimal("-0", 0, 0, 10).n == 0);
    CHECK(decimal("999999999999.99", 2, 0, 99'999'999'999'999).n == 99'999'999'999'999);
    CHECK(decimal("50.25", 1, 0, 1000).problem == "50.25 has too many decimals");
    CHECK(decimal("50.5", 0, 0, 1000).problem == "50.5 is not a whole number");
    CHECK(decimal("5e1", 1, 0, 1000).problem == "5e1 is written with an exponent");
    CHECK(decimal("5E+1", 1, 0, 1000).problem == "5E+1 is written with an exponent");
    CHECK(decimal("100.1", 1, 0, 1000).problem == "100.1 is too large");
    CHECK(decimal("-0.1", 1, 0, 1000).problem == "-0.1 is too small");
    CHECK(decimal("1234567890123", 1, 0, 1000).problem == "1234567890123 is out of range");
    CHECK(decimal("18446744073709551616", 0, 0, 1000).problem.ends_with("is out of range"));
    CHECK(decimal("\"50\"", 1, 0, 1000).problem == "is text");
    CHECK(decimal("true", 1, 0, 1000).problem == "is true or false");

    for (const int places : {0, 1, 2, 3})
        for (std::int64_t n = -2500; n <= 2500; ++n) {
            const Taken back = decimal(json::decimal_text(n, places), places, -2500, 2500);
            if (back.n != n || !back.problem.empty()) FAIL(n << " with " << places << " decimals");
        }
    CHECK(json::decimal_text(505, 1) == "50.5");
    CHECK(json::decimal_text(500, 1) == "50");
    CHECK(json::decimal_text(-5, 2) == "-0.05");
}

TEST_CASE("an error keeps the first place, and says what is accepted") {
    const json::Value tree = tree_of(R"({"a": {"b": [1, "x", true]}})");
    json::Report report;
    const json::Object top = json::Field(report, &tree, "").object({"a", "c"});
    const auto items = top.at("a").object({"b"}).at("b").list(1, 3);
    CHECK(items[0].integer(1, 5) == 1);
    CHECK(report.ok());
    CHECK(items[1].integer(2, 5) == 2);  // the least accepted one, harmless
    CHECK(report.error().where == "a.b[1]");
    CHECK(report.error().problem == "is text");
    CHECK(report.error().accepted == "a number, without quotes");
    CHECK_FALSE(top.at("c").boolean());
    CHECK(items[2].text(0, 5).empty());
    CHECK(report.error().where == "a.b[1]");
}

TEST_CASE("an unknown key is refused, and the unit that was meant is named") {
    const std::array<std::string_view, 5> accepted = {"weight_kg", "dose_ml", "dose_ml_per_kg", "kind",
                                                      "first_rate_ml_per_h"};
    CHECK(json::why_unknown("name", accepted) == "is not known here");
    CHECK(json::why_unknown("weight_lb", accepted) ==
          "has another unit in its name than this tool reads: \"weight_kg\"");
    CHECK(json::why_unknown("weight", accepted) == "has no unit in its name; this tool reads \"weight_kg\"");
    CHECK(json::why_unknown("dose_mg", accepted) ==
          "has another unit in its name than this tool reads: \"dose_ml\" or \"dose_ml_per_kg\"");
    CHECK(json::why_unknown("first_rate_ml", accepted) ==
          "has another unit in its name than this tool reads: \"first_rate_ml_per_h\"");
    CHECK(json::why_unknown("kind_ml", accepted) == "is not known here");

    const json::Value tree = tree_of(R"({"a": {"weight_lb": 1}})");
    json::Report report;
    json::Field(report, &tree, "").object({"a"}).at("a").object({"weight_kg", "kind"});
    CHECK(report.error().where == "a.weight_lb");
    CHECK(report.error().accepted == "only weight_kg or kind");
}

TEST_CASE("what is written is read back") {
    json::Writer w;
    w.begin_object().text("text", "\"\\\n\t\x01</script>\xC3\xA9 \xC0").decimal("half", 5, 1);
    w.key("list").begin_list(json::Writer::Layout::along).integer(1).integer(-2).begin_object().end_object();
    w.end_list().key("empty").begin_list().end_list().boolean("yes", true).null("none");
    w.key("deep").begin_object().integer("n", 7).end_object().end_object();
    const std::string text = w.take();
    CHECK(text == "{\n"
                  "  \"text\": \"\\\"\\\\\\n\\t\\u0001\\u003c/script>\xC3\xA9 \xEF\xBF\xBD\",\n"
                  "  \"half\": 0.5,\n"
                  "  \"list\": [1, -2, {}],\n"
                  "  \"empty\": [],\n"
                  "  \"yes\": true,\n"
                  "  \"none\": null,\n"
                  "  \"deep\": {\n"
                  "    \"n\": 7\n"
                  "  }\n"
                  "}\n");
    CHECK(tree_of(text).find("text")->text == "\"\\\n\t\x01</script>\xC3\xA9 \xEF\xBF\xBD");
    CHECK(w.take() == "\n");
}
