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

TEST_CASE("what protocol and card take with two files") {
    CHECK(read_options({"protocol", "a", "b", "--cases", "c"}).value().cases == "c");
    CHECK(refusal({"protocol", "a", "--cases", "c"}) == "--cases: goes with two protocols");
    CHECK(refusal({"card", "a", "b", "--cases", "c"}) == "--cases: is no option here");
    CHECK(read_options({"card", "a", "b"}).ok());
    CHECK(refusal({"card", "a", "b", "c"}) == "c: is one file too many");
}

TEST_CASE("what scan and compatible take, and what they do not") {
    CHECK(read_options({"scan", "=%6200", "&>0260731340", "--as", "json"}).value().files.size() == 2);
    CHECK(read_options({"scan", "--", "--as", "-7319"}).value().files.size() == 2);
    CHECK(read_options({"scan", "-"}).ok());
    CHECK(read_options({"compatible", "plasma", "--protocol", "a.json"}).value().protocol == "a.json");
    CHECK(refusal({"scan"}) == ": no scan is given");
    CHECK(refusal({"scan", "a", "--as", "html"}) == "--as: this is no form that it can have");
    CHECK(refusal({"scan", "a", "--out", "b"}) == ": there is an option that is not known");
    CHECK(refusal({"compatible"}) == ": no component is given");
    CHECK(refusal({"compatible", "plasma", "platelets"}) == "platelets: is one component too many");
    CHECK(refusal({"compatible", "plasma", "--as", "csv"}) == "--as: \"csv\" is no form that it can have");
    CHECK(refusal({"compatible", "plasma", "--now", "x"}) == "--now: is no option here");
    const Outcome wrong = run({"compatible", "blood"});
    CHECK(wrong.status == Status::bad_input);
    CHECK(wrong.err == "hangtime: blood: is no component; accepted: red_cells, platelets, plasma, "
                       "cryoprecipitate, whole_blood or granulocytes\n");
    const Outcome not_covered = run({"compatible", "albumin"});
    CHECK(not_covered.status == Status::does_not_fit);
    CHECK(not_covered.out == "Albumin: Not covered here, follow your procedure.\n");
}

TEST_CASE("a scan that is refused is repeated nowhere, not even in an error") {
    const std::string card = "-KX7319044";
    for (const auto& words : {std::vector<std::string>{"scan", card}, {"scan", "--", card},
                              {"scan", "-" + card + "=x"}, {"scan", "=%6200", "KX7319044", "--as", "json"},
                              {"scan", "=%6200", "--as=" + card}}) {
        const Outcome outcome = run(words);
        CHECK(outcome.status != Status::fits);
        CHECK((outcome.out + outcome.err).find("7319") == std::string::npos);
        CHECK((outcome.out + outcome.err).find("KX") == std::string::npos);
    }
    const Outcome understood = run({"scan", "=A99992112345663=%6200", "--as", "json"});
    CHECK(understood.status == Status::fits);
    CHECK(understood.out.find("\"number\": \"A999921123456\"") != std::string::npos);
    CHECK(understood.out.find("\"check\": \"3\"") != std::string::npos);
}

TEST_CASE("a group code that is not recognised is read, and not understood") {
    const Outcome unknown = run({"scan", "=%9900"});
    CHECK(unknown.status == Status::does_not_fit);
    CHECK(unknown.out.find("understood") == std::string::npos);
    CHECK(unknown.out.find("not recognised") != std::string::npos);
    CHECK(run({"scan", "=%6200"}).status == Status::fits);
}

TEST_CASE("help for each command, with status 0 and nothing on standard error") {
    for (const char* command : {"sheet", "protocol", "card", "scan", "compatible", "observe"}) {
        const Outcome outcome = run({command, "--help"});
        CHECK(outcome.status == Status::fits);
        CHECK(outcome.err.empty());
        CHECK(outcome.out.starts_with(std::string("hangtime ") + command + " "));
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
