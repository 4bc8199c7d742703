#include "tests/web/logged.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>
#include <fstream>
#include <sstream>

namespace hangtime::test {

Protocol shipped(const std::string& name) {
    std::stringstream text;
    text << std::ifstream(root_folder() + "/demo-data/protocols/" + name + ".json").rdbuf();
    Result<Protocol> read = read_protocol(text.str());
    REQUIRE(read.ok());
    return std::move(read.value());
}

Observation unremarkable() {
    Observation o;
    o.temperature = tenths_c(368);
    o.pulse_per_min = 78;
    o.systolic_mmhg = 124;
    o.diastolic_mmhg = 72;
    o.respirations_per_min = 16;
    o.saturation_percent = 97;
    o.on_oxygen = false;
    o.consciousness = Consciousness::alert;
    o.lungs = Lungs::clear;
    o.site = Site::good;
    o.urine = Urine::usual;
    o.symptoms = Symptoms{};
    return o;
}

Logged::Logged(const std::string& protocol, bool started) {
    facts::Opened opened;
    opened.object = SpokenObject::kite;
    opened.wall = wall;
    opened.rules = {std::make_shared<Protocol>(shipped(protocol))};
    add(EventKind::opened, opened, at(13, 30));
    // What happened until then was seen by somebody else.
    add(EventKind::joined, std::monostate{}, at(14, 0));
    Recipient person{Mass{60'000}, false, Answer::no, Answer::yes, 20};
    person.age = AgeGroup::adult;
    add(EventKind::recipient_told, facts::RecipientTold{person}, at(13, 31));
    if (started) {
        facts::Issued issued;
        issued.component = Component::red_cells;
        issued.bag = ml(300);
        issued.digits = BagDigits{'5', '6', '6', '3'};
        add(EventKind::issued, issued, at(13, 45));
        add(EventKind::spiked, std::monostate{}, at(13, 55));
        observe(CheckKind::baseline, unremarkable(), at(13, 50));
        add(EventKind::started, facts::RateSet{ml_per_h(50), false, {}}, at(14, 0));
    }
    reckon_at(now);
}

std::optional<Refusal> Logged::try_add(EventKind kind, Facts facts, Instant when, std::vector<std::int32_t> replaces) {
    Event e;
    e.kind = kind;
    e.at = {when, Precision::second};
    e.noted = std::max(when, now);
    e.facts = std::move(facts);
    e.replaces = std::move(replaces);
    now = e.noted;
    const auto refused = log.append(std::move(e), now);
    if (!log.empty())
        reckon_at(now);
    return refused;
}

void Logged::add(EventKind kind, Facts facts, Instant when, std::vector<std::int32_t> replaces) {
    const auto refused = try_add(kind, std::move(facts), when, std::move(replaces));
    INFO("record " << static_cast<int>(kind) << " refused with " << static_cast<int>(refused.value_or(Refusal{})));
    REQUIRE_FALSE(refused);
}

void Logged::observe(CheckKind kind, const Observation& set, Instant when) {
    add(EventKind::observed, facts::Observed{kind, 0, false, set}, when);
}

void Logged::reckon_at(Instant t) {
    now = t;
    reckon_live(log.session(), now, live);
}

} // namespace hangtime::test
