#include "web/rehearse/library.hpp"

#include "core/protocol/read.hpp"
#include "core/rehearse/run.hpp"
#include "web/json_list.hpp"
#include "web/platform/platform.hpp"

#include <algorithm>

namespace hangtime::rehearse {

void Library::open(const std::vector<Protocol>& protocols) {
    if (opened_)
        return;
    opened_ = true;
    for (const Protocol& p : protocols)
        rules_.push_back(std::make_shared<const Protocol>(p));
    if (!platform::protocols_are_examples())
        for (const std::string_view text : elements_of(platform::examples())) {
            Result<Protocol> example = read_protocol(text);
            if (example.ok() && !rules_of(example.value().id))
                rules_.push_back(std::make_shared<const Protocol>(std::move(example.value())));
        }
    for (const std::string_view text : elements_of(platform::rehearsals())) {
        Result<Shared> one = read(text);
        if (one.ok())
            all_.push_back(one.value());
        else
            trouble_ = one.error().where + ": " + one.error().problem;
    }
    std::stable_sort(all_.begin(), all_.end(), [](const Shared& a, const Shared& b) { return a->number < b->number; });
}

std::shared_ptr<const Protocol> Library::rules_of(std::string_view id) const {
    for (const auto& rules : rules_)
        if (rules->id == id)
            return rules;
    return nullptr;
}

Shared Library::by_number(std::int32_t number) const {
    for (const Shared& one : all_)
        if (one->number == number)
            return one;
    return nullptr;
}

Result<Shared> Library::read(std::string_view text) const {
    const Result<std::string> id = read_scenario_protocol(text);
    if (!id.ok())
        return id.error();
    std::shared_ptr<const Protocol> rules = id.value().empty() ? nullptr : rules_of(id.value());
    if (!id.value().empty() && !rules) {
        std::string ids;
        for (const auto& one : rules_)
            ids += (ids.empty() ? "" : ", ") + one->id;
        return Error{"protocol", "\"" + id.value() + "\" is not in this page", "one of " + ids + ", or the whole protocol"};
    }
    Result<Scenario> scenario = read_scenario(text, std::move(rules));
    if (!scenario.ok())
        return scenario.error();
    Shared out = std::make_shared<const Scenario>(std::move(scenario.value()));
    const Rehearsal begun(*out, out->seed);
    if (!begun.tried().empty())
        return problem_at_the_beginning(begun);
    return out;
}

} // namespace hangtime::rehearse
