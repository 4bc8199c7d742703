// Devices that a component must not go through.

#include "core/protocol/read.hpp"
#include "tests/core/plan_support.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

TEST_CASE("granulocytes never by pump, where the rules say so", "[device]") {
    // NZ Blood Service, ward quick guide, equipment: granulocytes are not given by pump (seen, clinical facts B2).
    const Protocol p = shipped_protocol("half-hour-checks");
    const ComponentRules& rules = p.rules(Component::granulocytes);
    REQUIRE(rules.never_by);
    CHECK(rules.never_by->value == DeviceKind::pump);
    CHECK(rules.never_by->basis.grade == Grade::published);
    REQUIRE(rules.never_by->basis.source < p.sources.size());
    CHECK(p.sources[rules.never_by->basis.source].key == "nz-eq");

    State s = ordinary(p);
    s.unit.component = Component::granulocytes;
    s.device.kind = DeviceKind::pump;
    const Reckoning by_pump = reckoned(p, s);
    REQUIRE(warned(by_pump, Warning::never_by_pump));
    for (const Warned& w : by_pump.warnings)
        if (w.code == Warning::never_by_pump) {
            CHECK(w.severity == Severity::stop);
            CHECK(w.basis == rules.never_by->basis);
        }
    s.device.kind = DeviceKind::gravity;
    s.device.drops = {20};
    CHECK_FALSE(warned(reckoned(p, s), Warning::never_by_pump));
    s.unit.component = Component::red_cells;
    s.device.kind = DeviceKind::pump;
    CHECK_FALSE(warned(reckoned(p, s), Warning::never_by_pump));
}

TEST_CASE("never by gravity is the same rule the other way round", "[device]") {
    Protocol p = plain_protocol();
    red_cells(p).never_by = Given<DeviceKind>{DeviceKind::gravity, {}};
    State s = ordinary(p);
    CHECK_FALSE(warned(reckoned(p, s), Warning::never_by_gravity));
    s.device.kind = DeviceKind::gravity;
    s.device.drops = {20};
    CHECK(warned(reckoned(p, s), Warning::never_by_gravity));
    CHECK_FALSE(warned(reckoned(p, s), Warning::never_by_pump));
}
