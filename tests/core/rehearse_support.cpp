#include "rehearse_support.hpp"

#include "support.hpp"

#include <catch2/catch_test_macros.hpp>

namespace hangtime::test {

Scenario shipped_scenario(const std::string& name) {
    const std::string text = file_text("demo-data/rehearsals/" + name + ".json");
    const auto id = read_scenario_protocol(text);
    if (!id.ok()) FAIL(name << ": " << id.error().where << " " << id.error().problem);
    auto out = read_scenario(text, std::make_shared<const Protocol>(shipped_protocol(id.value())));
    if (!out.ok()) FAIL(name << ": " << out.error().where << " " << out.error().problem);
    return std::move(out.value());
}

Actions shipped_actions(const std::string& name, const std::string& which, const Scenario& scenario) {
    auto out = read_actions(file_text("demo-data/rehearsals/actions/" + name + "." + which + ".json"), scenario);
    if (!out.ok()) FAIL(name << "." << which << ": " << out.error().where << " " << out.error().problem);
    return std::move(out.value());
}

}  // namespace hangtime::test
