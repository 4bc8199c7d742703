#include "core/cli/common.hpp"
#include "core/cli/files.hpp"
#include "core/cli/rehearse.hpp"
#include "core/rehearse/class.hpp"
#include "core/rehearse/review.hpp"
#include "core/words/format.hpp"

namespace hangtime::cli {

Outcome run_review(const Options& options) {
    Review review;
    std::vector<LeftOut> left_out;
    for (const std::string& path : options.files) {
        const Result<std::string> text = read_file(path);
        if (!text.ok()) {
            left_out.push_back({shown(path), text.error().problem});
            continue;
        }
        if (const auto error = review.add_file(text.value()))
            left_out.push_back({shown(path), joined({error->where, ": ", error->problem})});
    }
    std::string err;
    for (const LeftOut& file : left_out) err += joined({file.file, ": ", file.why, "; this file is left out\n"});
    if (review.sessions() == 0) return {Status::bad_input, {}, err + "hangtime: no file can be used\n"};
    const std::int32_t floor = options.floor.value_or(usual_floor);
    const Status status = left_out.empty() ? Status::fits : Status::does_not_fit;
    const std::string text = options.as == Format::json  ? review_json(review, floor, left_out)
                             : options.as == Format::csv ? review_csv(review, floor)
                                                         : written_as(options.as, review_sheet(review, floor, left_out), {});
    Outcome out = delivered(options, status, text);
    if (out.status == status) out.err += err;
    return out;
}

// A result is not named in what is made of it, only by its place among the files; here it is, for who has to look.
Outcome run_class(const Options& options) {
    ClassSummary summary;
    std::vector<LeftOut> left_out;
    std::string err;
    for (std::size_t i = 0; i < options.files.size(); ++i) {
        const Result<std::string> text = read_file(options.files[i]);
        const std::optional<Error> error = text.ok() ? summary.add_file(text.value()) : std::optional(text.error());
        if (!error) continue;
        const std::string why = joined({error->where, error->where.empty() ? "" : ": ", error->problem});
        left_out.push_back({joined({"file ", std::to_string(i + 1)}), why});
        err += joined({shown(options.files[i]), ": ", why, "; this file is left out\n"});
    }
    if (summary.attempts() == 0) return {Status::bad_input, {}, err + "hangtime: no file can be used\n"};
    const Status status = left_out.empty() ? Status::fits : Status::does_not_fit;
    const std::string text = options.as == Format::json  ? class_json(summary, left_out)
                             : options.as == Format::csv ? class_csv(summary)
                                                         : written_as(options.as, class_sheet(summary, left_out), {});
    Outcome out = delivered(options, status, text);
    if (out.status == status) out.err += err;
    return out;
}

}  // namespace hangtime::cli
