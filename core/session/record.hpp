#pragma once

/// A record of the log as one line of JSON, and back. A log file is such lines, one a record (JSON Lines). Each line
/// ends in a sum that is chained to the line before: a 64-bit FNV-1a over that line's sum and this line's text. It
/// finds every single damaged byte for certain and more than one all but certainly; it is no protection against
/// somebody who means to deceive. A log that was written by hand may leave the sums out.
///
/// Times stand in UTC ("2026-03-14T12:40Z" to the minute, with ":30Z" to the second), so that no clock has to be
/// known to read them; `second` says where in its minute a time to the minute was placed. The keys of each kind of
/// record are described in core/session/log.schema.json.

#include "core/json/field.hpp"
#include "core/json/write.hpp"
#include "core/result.hpp"
#include "core/session/log.hpp"
#include "core/session/protocol_cache.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime {

/// The chain before the first record.
inline constexpr std::uint64_t first_sum = 14695981039346656037ULL;

/// One line without its newline; `sum` is the chain so far and becomes the chain with this line.
std::string write_record(const Event& event, std::uint64_t& sum);

/// What a line says, its sum not looked at. `where` goes before the path in errors ("line 3").
Result<Event> read_record(std::string_view line, std::string_view where);

/// What a record says beside its number and its times: "what" and the facts of its kind, as they stand in a log.
/// For files that hold records before they have happened.
Event read_facts_of(const json::Field& field);
/// The same, as the members of an object that has been begun.
void write_facts_of(json::Writer& out, const Event& event);
/// Without "what": for a place that says by itself which kind of record it holds.
void write_only_facts(json::Writer& out, const Event& event);

/// How a line's sum stands against the chain so far.
enum class Sealed { fits, broken, absent };
Sealed check_sum(std::string_view line, std::uint64_t& sum, ProtocolCache* cache = nullptr);

/// The chain after a line whose sum cannot be trusted, from what else it says.
std::uint64_t sum_of_text(std::string_view line, std::uint64_t before);

/// Something that is wrong with a line of a log, while the rest of it can be used.
struct Damage {
    std::int32_t number = 0;  // of the record
    Error error;
};

/// A log as it was read. A record that is damaged, or that makes no sense without a damaged one before it, is left
/// out and named; its number stays taken. Then, and where it is of a newer version, nothing may be added.
struct LogRead {
    Log log;
    std::uint64_t sum = first_sum;  // the chain at its end
    bool sealed = true;             // every record had a sum
    bool newer = false;
    std::vector<Damage> damaged;
    bool read_only() const { return newer || !damaged.empty(); }
};

/// Reads a log file. An error where nothing can be made of it: no first record, or none that opens a session. Who reads
/// many keeps a cache of protocols beside them; it changes nothing but the time.
Result<LogRead> read_log(std::string_view text, ProtocolCache* cache = nullptr);
/// The same from the lines of a store.
Result<LogRead> read_log(const std::vector<std::string_view>& lines, ProtocolCache* cache = nullptr);

/// All of a log, as a file.
std::string write_log(const Log& log);

}  // namespace hangtime
