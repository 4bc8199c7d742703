#include "core/cli/rehearse.hpp"

#include "core/cli/common.hpp"
#include "core/cli/files.hpp"
#include "core/rehearse/debrief.hpp"
#include "core/rehearse/cards.hpp"

#include <memory>

namespace hangtime::cli {

namespace {

std::optional<Scenario> load_scenario(const Options& options, Outcome& failure) {
    const std::string file = shown(options.files[0]);
    const auto fail = [&](const std::string& where, const Error& error) {
        failure = refused(where, error);
        return std::nullopt;
    };
    const Result<std::string> text = read_file(options.files[0]);
    if (!text.ok()) return fail(file, text.error());
    const Result<std::string> id = read_scenario_protocol(text.value());
    if (!id.ok()) return fail(file, id.error());
    std::shared_ptr<const Protocol> rules;
    if (!id.value().empty()) {
        const Result<std::string> path = protocol_path(options, id.value());
        if (!path.ok()) return fail(file, path.error());
        std::optional<Protocol> read = load_protocol(path.value(), failure);
        if (!read) return std::nullopt;
        rules = std::make_shared<const Protocol>(std::move(*read));
    }
    Result<Scenario> scenario = read_scenario(text.value(), std::move(rules));
    if (!scenario.ok()) return fail(file, scenario.error());
    // What stands at the beginning has to be a legal log.
    const Rehearsal begun(scenario.value(), scenario.value().seed);
    if (!begun.tried().empty()) return fail(file, problem_at_the_beginning(begun));
    return std::move(scenario.value());
}

std::optional<Actions> load_actions(const std::string& path, const Scenario& scenario, Outcome& failure) {
    const Result<std::string> text = read_file(path);
    if (!text.ok()) {
        failure = refused(shown(path), text.error());
        return std::nullopt;
    }
    Result<Actions> actions = read_actions(text.value(), scenario);
    if (actions.ok()) return std::move(actions.value());
    failure = refused(shown(path), actions.error());
    return std::nullopt;
}

Outcome run_make(const Options& options) {
    const std::string file = shown(options.files[0]);
    const Result<std::string> text = read_file(options.files[0]);
    if (!text.ok()) return refused(file, text.error());
    const Result<LogRead> log = read_log(text.value());
    if (!log.ok()) return refused(file, log.error());
    const Result<Scenario> scenario = scenario_from(log.value().log);
    if (!scenario.ok()) return refused(file, scenario.error());
    std::string damaged;
    for (const Damage& damage : log.value().damaged)
        damaged += file + ": " + damage.error.where + ": " + damage.error.problem + "; this record is left out\n";
    const Status status = damaged.empty() ? Status::fits : Status::does_not_fit;
    Outcome out = delivered(options, status, write_scenario(scenario.value()));
    if (out.status == status) out.err += damaged;
    return out;
}

}  // namespace

Outcome run_rehearse(const Options& options) {
    if (options.make) return run_make(options);
    Outcome failure;
    const std::optional<Scenario> scenario = load_scenario(options, failure);
    if (!scenario) return failure;
    if (options.cards)
        return delivered(options, Status::fits, written_as(options.as, practice_cards(*scenario, options.seed.value_or(scenario->seed)), {}));
    if (options.actions.empty()) {
        const std::string text = options.as == Format::json ? write_scenario(*scenario)
                                                            : written_as(options.as, scenario_sheet(*scenario), {});
        return delivered(options, Status::fits, text);
    }
    const std::optional<Actions> actions = load_actions(options.actions, *scenario, failure);
    if (!actions) return failure;
    const std::int32_t seed = options.seed.value_or(scenario->seed);
    const Played first = play(*scenario, seed, *actions);
    const hangtime::Outcome outcome = outcome_of(*first.rehearsal);
    const Status status = outcome.points == outcome.most ? Status::fits : Status::does_not_fit;
    if (options.log) return delivered(options, status, write_log(first.rehearsal->log()));
    if (!options.compare.empty()) {
        const std::optional<Actions> others = load_actions(options.compare, *scenario, failure);
        if (!others) return failure;
        const Played second = play(*scenario, seed, *others);
        const sheet::Document document = comparison_sheet(*first.rehearsal, outcome, *second.rehearsal,
                                                          outcome_of(*second.rehearsal));
        return delivered(options, status, written_as(options.as, document, {}));
    }
    if (options.as == Format::json) return delivered(options, status, debrief_json(*first.rehearsal, outcome));
    return delivered(options, status, written_as(options.as, debrief_sheet(*first.rehearsal, outcome), {}));
}

}  // namespace hangtime::cli
