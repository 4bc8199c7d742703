// Every broken file is refused where it is broken, with what is wrong: tests/broken/ holds the cases (a demo
// file, what is replaced in it, and the path and the words of the error). tests/oracle/test_schemas.py holds
// the JSON Schemas to the same cases.

#include "support.hpp"

#include "core/json/field.hpp"
#include "core/json/read.hpp"
#include "core/protocol/read.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

namespace {

struct Case {
    std::string name, text, where, problem;
};

std::vector<Case> cases_of(const std::string& folder) {
    const auto tree = json::read(file_text("tests/broken/" + folder + ".json"));
    if (!tree.ok()) FAIL(tree.error().where << " " << tree.error().problem);
    json::Report report;
    std::vector<Case> out;
    const json::Object top = json::Field(report, &tree.value(), "").object({"cases"});
    for (const json::Field& item : top.at("cases").list(1, 500)) {
        const json::Object o = item.object({"name", "file", "old", "new", "where", "problem", "schema"});
        out.push_back({o.at("name").text(1, 200), {}, o.at("where").text(1, 200),
                       o.at("problem").text(1, 200)});
        // What is replaced may have line breaks in it, which a field of a product's file may not.
        const auto& values = tree.value().find("cases")->items[out.size() - 1];
        const std::string file = "demo-data/" + folder + "/" + o.at("file").text(1, 60) + ".json";
        out.back().text = replaced(file_text(file), values.find("old")->text, values.find("new")->text);
    }
    if (!report.ok()) FAIL(report.error().where << " " << report.error().problem);
    return out;
}

void refused(const Case& c, const Error& error) {
    INFO(c.name << ": " << error.where << ": " << error.problem << "; accepted: " << error.accepted);
    CHECK(error.where.starts_with(c.where));
    CHECK(error.problem.find(c.problem) != error.problem.npos);
    CHECK_FALSE(error.accepted.empty());
}

}  // namespace

TEST_CASE("every broken protocol is refused where it is broken") {
    for (const Case& c : cases_of("protocols")) {
        const auto read = read_protocol(c.text);
        INFO(c.name);
        CHECK_FALSE(read.ok());
        if (!read.ok()) refused(c, read.error());
    }
}

TEST_CASE("every broken transfusion is refused where it is broken") {
    for (const Case& c : cases_of("transfusions")) {
        const auto id = read_protocol_id(c.text);
        INFO(c.name);
        if (!id.ok()) {
            refused(c, id.error());
            continue;
        }
        const auto read = read_request(c.text, shipped_protocol(id.value()));
        CHECK_FALSE(read.ok());
        if (!read.ok()) refused(c, read.error());
    }
}
