// Logs written by hand before the code that folds them was run: what each adds up to stands in the file itself, with the
// arithmetic. See log_script.hpp for how they are written.

#include "core/session/record.hpp"
#include "tests/core/log_script.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

TEST_CASE("each log written by hand adds up to what was worked out for it", "[log]") {
    for (const std::string& name : hand_log_names())
        DYNAMIC_SECTION(name) {
            const Log log = played(name);
            // As a file and back it is the same, with sums and to the byte.
            const std::string file = write_log(log);
            const auto read = read_log(file);
            REQUIRE(read.ok());
            CHECK(read.value().damaged.empty());
            CHECK(read.value().sealed);
            CHECK(write_log(read.value().log) == file);
        }
}
