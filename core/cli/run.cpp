#include "core/cli/run.hpp"

#include "core/cli/common.hpp"
#include "core/cli/files.hpp"
#include "core/cli/match_report.hpp"
#include "core/cli/options.hpp"
#include "core/cli/protocol_report.hpp"
#include "core/cli/replay_json.hpp"
#include "core/cli/rehearse.hpp"
#include "core/cli/report_json.hpp"
#include "core/cli/round.hpp"
#include "core/cli/sequence.hpp"
#include "core/json/field.hpp"
#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/report/session_report.hpp"
#include "core/report/observe_file.hpp"
#include "core/report/observe_sheet.hpp"
#include "core/session/read.hpp"
#include "core/session/record.hpp"
#include "core/words/words.hpp"

#include <memory>
#include <optional>

namespace hangtime::cli {

namespace {

// The reckoning of a log at a moment: as it stood then, by what had been noted by then. Without --at: when the last
// record was noted.
Outcome run_replay(const Options& options) {
    const std::string file = shown(options.files[0]);
    const Result<std::string> text = read_file(options.files[0]);
    if (!text.ok()) return refused(file, text.error());
    const Result<LogRead> read = read_log(text.value());
    if (!read.ok()) return refused(file, read.error());
    const Log& whole = read.value().log;
    Instant now = whole.events().back().noted;
    if (!options.at.empty()) {
        const Result<Stated> at = read_time(options.at, whole.session().wall, "--at");
        if (!at.ok()) return refused("", at.error());
        now = at.value().at;
        if (now < whole.events().front().noted)
            return refused("", {"--at", options.at + " is before the first record", "a moment at or after it"});
    }
    const Log log = whole.as_noted_at(now);
    const auto live = std::make_unique<Live>();
    reckon_live(log.session(), now, *live);

    std::string damaged;
    for (const Damage& damage : read.value().damaged)
        damaged += file + ": " + damage.error.where + ": " + damage.error.problem + "; this record is left out\n";
    const bool good = damaged.empty() && live->reckoning.judgement.verdict != Verdict::does_not_fit &&
                      !limit_passed(live->reckoning);
    const Status status = good ? Status::fits : Status::does_not_fit;
    Outcome out = delivered(options, status,
                            options.as == Format::json ? replay_json(log, *live)
                                                       : written_as(options.as, session_document(log, *live), now));
    if (out.status == status) out.err += damaged;
    return out;
}

// The last thing that is recorded: what the sheet is made for where nothing says when.
std::optional<Instant> last_recorded(const State& state) {
    std::optional<Instant> last;
    const auto see = [&last](Instant at) {
        if (!last || at > *last) last = at;
    };
    const Times& times = state.times;
    for (const auto* stated : {&times.issued, &times.left_storage, &times.thawed, &times.spiked})
        if (*stated) see((*stated)->at);
    if (times.start && times.start->happened) see(times.start->when.at);
    for (const CheckDone& done : state.checks_done) see(done.when.at);
    if (!last && times.start) last = times.start->when.at;
    return last;
}

Result<Instant> moment_of(const Options& options, const Request& request) {
    if (!options.now.empty()) {
        const Result<Stated> now = read_time(options.now, request.wall, "--now");
        if (!now.ok()) return now.error();
        return now.value().at;
    }
    if (request.now) return request.now->at;
    const auto last = last_recorded(request.state);
    if (last) return *last;
    return Error{"now", "is not recorded, and no other time is", "\"now\" in the file, or --now TIME"};
}

Outcome not_covered(const Options& options, const Request& request, const Protocol& protocol) {
    const NotCovered what = *request.not_covered;
    if (options.as == Format::json) return delivered(options, Status::does_not_fit, not_covered_json(what));
    sheet::Document document;
    document.title = name(what);
    document.headline(std::string(not_covered_sentence()));
    add_rules_and_cautions(document, protocol);
    // Only a calendar asks when, and nothing in this one depends on it.
    const Result<Instant> now = moment_of(options, request);
    return delivered(options, Status::does_not_fit,
                     written_as(options.as, document, now.ok() ? now.value() : bounds::earliest));
}

Outcome run_sheet(const Options& options) {
    Outcome failure;
    const auto loaded = load_with_protocol<Request>(options, read_protocol_id, read_request, failure);
    if (!loaded) return failure;
    const auto& [file, protocol, request] = *loaded;
    if (request.not_covered) return not_covered(options, request, protocol);
    const Result<Instant> now = moment_of(options, request);
    if (!now.ok()) return refused(options.now.empty() ? file : "", now.error());

    const auto reckoning = std::make_unique<Reckoning>();
    reckon(protocol, request.state, now.value(), *reckoning);
    const bool good = reckoning->planned && reckoning->judgement.verdict != Verdict::does_not_fit &&
                      !limit_passed(*reckoning);
    const Status status = good ? Status::fits : Status::does_not_fit;
    SheetLabels labels;
    labels.bag_digits = request.bag_digits;
    if (request.object) labels.object = name(*request.object);
    if (options.as == Format::json)
        return delivered(options, status, report_json(protocol, request, *reckoning));

    sheet::Document document = plan_sheet(protocol, request.state, *reckoning, request.wall, labels);
    add_moments(document, protocol, request.state, *reckoning, request.wall);
    return delivered(options, status, written_as(options.as, document, reckoning->now));
}

// Each text as it was given; "-" stands for the lines of standard input.
Result<std::vector<Scan>> scans_of(const Options& options) {
    std::vector<Scan> out;
    for (const std::string& text : options.files) {
        if (text != "-") {
            out.push_back(read_scan(text));
            continue;
        }
        const Result<std::string> lines = read_file(text);
        if (!lines.ok()) return lines.error();
        std::string_view rest = lines.value();
        while (!rest.empty()) {
            const std::size_t end = rest.find('\n');
            out.push_back(read_scan(rest.substr(0, end)));
            rest = end == std::string_view::npos ? std::string_view() : rest.substr(end + 1);
        }
    }
    return out;
}

Outcome run_scan(const Options& options) {
    const Result<std::vector<Scan>> scans = scans_of(options);
    if (!scans.ok()) return refused("standard input", scans.error());
    bool all = true;
    for (const Scan& scan : scans.value()) all &= recognised(scan);
    return {all ? Status::fits : Status::does_not_fit,
            options.as == Format::json ? scans_json(scans.value()) : scans_text(scans.value()), {}};
}

Outcome run_compatible(const Options& options) {
    const std::string& word = options.files[0];
    if (const auto what = not_covered_from(word))
        return {Status::does_not_fit,
                std::string(name(*what)) + ": " + std::string(not_covered_sentence()) + "\n", {}};
    const auto component = component_from(word);
    if (!component)
        return refused("hangtime", {word, "is no component", json::listed(component_codes)});
    std::string path = options.protocol;
    if (path.empty()) {
        const std::vector<std::string> folders =
            options.protocols.empty() ? std::vector<std::string>{"protocols", "demo-data/protocols"}
                                      : std::vector<std::string>{options.protocols};
        const Result<std::string> found = find_in(folders, "general-ward.json");
        if (!found.ok()) return refused("hangtime", found.error());
        path = found.value();
    }
    Outcome failure;
    const auto protocol = load_protocol(path, failure);
    if (!protocol) return failure;
    const Status status = protocol->match ? Status::fits : Status::does_not_fit;
    if (options.as == Format::json)
        return delivered(options, status, compatible_json(*protocol, *component));
    sheet::Document document = compatible_sheet(*protocol, *component);
    add_rules_and_cautions(document, *protocol);
    return delivered(options, status, written_as(options.as, document, {}));
}

Outcome run_observe(const Options& options) {
    Outcome failure;
    const auto loaded = load_with_protocol<ObserveFile>(options, read_observe_protocol, read_observe_file, failure);
    if (!loaded) return failure;
    const auto& [file, protocol, observed] = *loaded;
    const RuleSet& rules = chosen_rules(protocol, observed);
    const Status status = asks_to_hold(protocol, rules, observed) ? Status::does_not_fit : Status::fits;
    if (options.as == Format::json) return delivered(options, status, observe_json(protocol, rules, observed));
    return delivered(options, status, written_as(options.as, observe_sheet(protocol, rules, observed), {}));
}

}  // namespace

Outcome run(const std::vector<std::string>& words) {
    const Result<Options> read = read_options(words);
    if (!read.ok()) return refused("hangtime", read.error());
    const Options& options = read.value();
    if (options.help) return {Status::fits, help_text(options.command), {}};
    switch (*options.command) {
        case Command::sheet: return run_sheet(options);
        case Command::protocol: return run_protocol(options);
        case Command::card: return run_card(options);
        case Command::replay: return run_replay(options);
        case Command::scan: return run_scan(options);
        case Command::compatible: return run_compatible(options);
        case Command::observe: return run_observe(options);
        case Command::sequence: return run_sequence(options);
        case Command::round: return run_round(options);
        case Command::rehearse: return run_rehearse(options);
        case Command::review: return run_review(options);
        case Command::class_of: return run_class(options);
    }
    return {};
}

}  // namespace hangtime::cli
