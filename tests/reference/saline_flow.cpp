// Saline through cannulae, 1000 mL each, minutes as printed (an Australian emergency handbook, IV cannulae;
// read in the source's own text): 22 G 22, 20 G 15, 18 G 10, 16 G 6, 14 G 3.5. The flows beside them (45, 67,
// 100, 167, 286 mL/min) were computed in the facts. This checks the arithmetic between volumes, times and
// rates over its whole range; blood is slower, and the tool takes no flow from a gauge.

#include "tests/reference/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::reference;

TEST_CASE("emergency handbook: 1000 mL of saline, minutes to mL/min") {
    struct Row { std::int64_t seconds, ml_per_min; };
    for (const Row row : {Row{22 * 60, 45}, Row{15 * 60, 67}, Row{600, 100}, Row{360, 167}, Row{210, 286}})
        CHECK(close_ml_per_h(ml(1000) / Seconds{row.seconds}, row.ml_per_min * 6000, 3000));
}
