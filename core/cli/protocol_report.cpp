#include "core/cli/protocol_report.hpp"

#include "core/cli/common.hpp"
#include "core/cli/files.hpp"
#include "core/plan/card.hpp"
#include "core/plan/case_changes.hpp"
#include "core/plan/float_card.hpp"
#include "core/plan/protocol_sheet.hpp"
#include "core/session/read.hpp"

namespace hangtime::cli {

namespace {

// The transfusions of a folder; one that is no such file is refused as by `sheet`.
std::optional<std::vector<DemoCase>> load_cases(const std::string& folder, Outcome& failure) {
    const Result<std::vector<std::string>> names = names_in(folder, ".json");
    if (!names.ok()) {
        failure = refused(folder, names.error());
        return std::nullopt;
    }
    std::vector<DemoCase> out;
    for (const std::string& name : names.value()) {
        const std::string path = folder + "/" + name + ".json";
        Result<std::string> text = read_file(path);
        if (!text.ok()) {
            failure = refused(path, text.error());
            return std::nullopt;
        }
        if (const Result<std::string> id = read_protocol_id(text.value()); !id.ok()) {
            failure = refused(path, id.error());
            return std::nullopt;
        }
        out.push_back({name, std::move(text.value())});
    }
    return out;
}

}  // namespace

Outcome run_protocol(const Options& options) {
    Outcome failure;
    const auto first = load_protocol(options.files[0], failure);
    if (!first) return failure;
    if (options.files.size() == 1)
        return delivered(options, Status::fits, written_as(options.as, protocol_sheet(*first), {}));
    const auto second = load_protocol(options.files[1], failure);
    if (!second) return failure;
    if (options.cases.empty())
        return delivered(options, Status::fits, written_as(options.as, difference_sheet(*first, *second), {}));
    const auto cases = load_cases(options.cases, failure);
    if (!cases) return failure;
    return delivered(options, Status::fits, written_as(options.as, case_sheet(*first, *second, *cases), {}));
}

Outcome run_card(const Options& options) {
    Outcome failure;
    const auto first = load_protocol(options.files[0], failure);
    if (!first) return failure;
    if (options.files.size() == 1) return delivered(options, Status::fits, written_as(options.as, card(*first), {}));
    const auto second = load_protocol(options.files[1], failure);
    if (!second) return failure;
    return delivered(options, Status::fits, written_as(options.as, float_card(*first, *second), {}));
}

}  // namespace hangtime::cli
