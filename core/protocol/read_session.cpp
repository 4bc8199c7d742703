#include "core/protocol/read.hpp"
#include "core/protocol/reader.hpp"

namespace hangtime::protocol_reader {

SessionRules read_session(const json::Field& field, const BasisReader& basis) {
    const json::Object o = field.object({"sample", "finished"});
    const auto rule = [&](std::string_view name, std::string_view key, std::int64_t least, std::int64_t most) {
        const json::Object group = o.at(name).object({key, "source", "grade"});
        return Given<Seconds>{fields::minutes_of(group.at(key), least, most), basis(group)};
    };
    SessionRules out;
    out.sample_valid = rule("sample", "valid_min", 60, 21 * 24 * 60);
    out.keep_finished = rule("finished", "kept_min", 0, 7 * 24 * 60);
    return out;
}

}  // namespace hangtime::protocol_reader
