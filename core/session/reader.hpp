#pragma once

/// The parts that readers of files about transfusions share, and the writers of what they read; for readers and
/// writers only.

#include "core/json/field.hpp"
#include "core/json/read.hpp"
#include "core/json/write.hpp"
#include "core/session/read.hpp"

namespace hangtime::session_reader {

/// The form of a file that names its protocol. Such a file is read twice: first for the protocol's id, then, with that
/// protocol at hand, all of it.
struct FileForm {
    std::string_view version;                       // the key that says which format it is; version 1
    json::Object (*top)(const json::Field& file);   // the whole file, with the keys that it may have
};

/// The version, and the id of the protocol that is asked for.
std::string read_protocol_key(const json::Object& top, const FileForm& form);
Result<std::string> read_protocol_key(std::string_view text, const FileForm& form);

/// All of a file of this form: `read` is given its top and the report, once the protocol is the one that it names.
template <class Whole, class Read>
Result<Whole> read_whole(std::string_view text, const FileForm& form, const Protocol& protocol, Read read) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    const json::Object top = form.top(json::Field(report, &tree.value(), ""));
    const std::string id = read_protocol_key(top, form);
    if (report.ok() && id != protocol.id)
        top.named("protocol").fail("\"" + id + "\" is not the protocol at hand", protocol.id);
    if (!report.ok()) return report.error();
    Whole out = read(top, report);
    if (!report.ok()) return report.error();
    return out;
}

WallClock read_clock(const json::Field& field);
/// The member "clock" that `read_clock` reads.
void write_clock(json::Writer& out, const WallClock& wall,
                 json::Writer::Layout layout = json::Writer::Layout::across);
/// "2026-03-14T12:40Z", or to the second "2026-03-14T12:40:30Z": a time that can be read without knowing any clock.
std::string utc_text(Instant at, Precision precision);

Times read_times(const json::Field& field, const WallClock& wall);
Stated read_stated(const json::Field& field, const WallClock& wall);
/// A member that `read_stated` reads, as the wall clock shows it and with its offset; none where it is not known.
void write_time(json::Writer& out, std::string_view key, const std::optional<Instant>& at, const WallClock& wall);

Component read_component(const json::Field& field);
Recipient read_recipient(const json::Object& o);
Order read_order(const json::Field& field);
void read_line(const json::Field& field, const Protocol& protocol, Line& line);
void read_device(const json::Field& field, Device& device);

/// Reports the first pair of entries that cannot both be right, and a weight that a rule needs and that is
/// missing.
void report_contradictions(const Request& request, const Protocol& protocol, json::Report& report);

}  // namespace hangtime::session_reader
