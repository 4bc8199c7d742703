#include "tests/core/observe_support.hpp"

#include <catch2/catch_test_macros.hpp>

namespace hangtime::test {

Observation unremarkable() {
    Observation set;
    set.temperature = tenths_c(368);
    set.pulse_per_min = number(76);
    set.systolic_mmhg = number(124);
    set.diastolic_mmhg = number(76);
    set.mean_mmhg = number(92);
    set.respirations_per_min = number(16);
    set.saturation_percent = number(98);
    set.on_oxygen = false;
    set.consciousness = Consciousness::alert;
    set.lungs = Lungs::clear;
    set.site = Site::good;
    set.urine = Urine::usual;
    set.symptoms = Symptoms{};
    return set;
}

const RuleSet& rule_set(const Protocol& protocol, const std::string& id) {
    const RuleSet* found = protocol.observations.find(id);
    if (!found) FAIL("there are no rules " << id);
    return *found;
}

}  // namespace hangtime::test
