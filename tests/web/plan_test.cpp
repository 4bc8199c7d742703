/// The first screen, through the list of what is on it.

#include "tests/web/harness.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using test::Page;

TEST_CASE("the first screen asks for four entries and nothing else", "[plan]") {
    Page page;
    CHECK(page.says("unit.component", "not recorded"));
    CHECK(page.says("verdict", "Choose the component"));
    CHECK(page.says("rate.set", "not yet"));
    page.write_png("empty");
}

TEST_CASE("four entries give the whole answer", "[plan]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    CHECK(page.says("start.by", "14:10"));
    CHECK(page.says("finish.by", "17:40"));
    CHECK(page.says("rate.first", "50 mL/h"));
    CHECK(page.says("rate.set", "174 mL/h"));
    CHECK(page.says("all_in", "15:51:40"));
    page.write_png("plan");
}
