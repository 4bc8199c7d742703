// The command's words and its refusals; whole files go through it in tests/oracle/test_command.py.

#include "core/cli/options.hpp"
#include "core/cli/run.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime::cli;

namespace {

std::string refusal(std::vector<std::string> words) {
    const auto read = read_options(words);
    if (read.ok()) return {};
    return read.error().where + ": " + read.error().problem;
}

}  // namespace

TEST_CASE("options, in both spellings") {
    const auto read =
        read_options({"sheet", "a.json", "--as", "json", "--now=2026-03-14T13:45", "--out", "b.json"});
    REQUIRE(read.ok());
    CHECK(*read.value().command == Command::sheet);
    CHECK(read.value().as == Format::json);
    CHECK(read.value().now == "2026-03-14T13:45");
    CHECK(read.value().out == "b.json");
    CHECK(read.value().files == std::vector<std::string>{"a.json"});
    CHECK(read_options({"sheet", "-"}).ok());
    CHECK(read_options({"protocol", "a", "b"}).ok());
}

TEST_CASE("what a command does not take is refused") {
    CHECK(refusal({}) == ": no command is given");
    CHECK(refusal({"plan"}) == "plan: is no command");
    CHECK(refusal({"--as", "text"}) == "--as: comes before a command");
    CHECK(refusal({"sheet"}) == ": no file is given");
    CHECK(refusal({"sheet", "a", "b"}) == "b: is one file too many");
    CHECK(refusal({"protocol", "a", "b", "c"}) == "c: is one file too many");
    CHECK(refusal({"sheet", "a", "--as", "pdf"}) == "--as: \"pdf\" is no form that it can have");
    CHECK(refusal({"card", "a", "--as", "json"}) == "--as: \"json\" is no form that it can have");
    CHECK(refusal({"card", "a", "--now", "x"}) == "--now: is no option here");
    CHECK(refusal({"sheet", "a", "--now"}) == "--now: has no value");
    CHECK(refusal({"sheet", "a", "--now="}) == "--now: has no value");
    CHECK(refusal({"sheet", "a", "--as", "text", "--as", "text"}) == "--as: is given twice");
    CHECK(refusal({"sheet", "a", "--out=x", "--out=y"}) == "--out: is given twice");
    CHECK(refusal({"sheet", "a", "--quiet"}) == "--quiet: is no option here");
}

TEST_CASE("help for each command, with status 0 and nothing on standard error") {
    for (const char* command : {"sheet", "protocol", "card"}) {
        const Outcome outcome = run({command, "--help"});
        CHECK(outcome.status == Status::fits);
        CHECK(outcome.err.empty());
        CHECK(outcome.out.starts_with(std::string("hangtime ") + command + " FILE"));
    }
    const Outcome all = run({"--help"});
    CHECK(all.status == Status::fits);
    CHECK(all.out.find("not a medical device") != std::string::npos);
}

TEST_CASE("a refusal is one line that says where, what and what would do; standard output stays empty") {
    const Outcome outcome = run({"sheet", "there/is/no/such.json"});
    CHECK(outcome.status == Status::bad_input);
    CHECK(outcome.out.empty());
    CHECK(outcome.err == "there/is/no/such.json: cannot be opened; accepted: a file that can be read, or - "
                         "for standard input\n");
}
