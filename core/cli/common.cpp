#include "core/cli/common.hpp"

#include "core/cli/files.hpp"
#include "core/protocol/read.hpp"

namespace hangtime::cli {

std::string shown(const std::string& path) { return path == "-" ? "standard input" : path; }

Outcome refused(const std::string& file, const Error& error) {
    std::string line = file;
    if (!error.where.empty()) line += (line.empty() ? "" : ": ") + error.where;
    line += (line.empty() ? "" : ": ") + error.problem;
    if (!error.accepted.empty()) line += "; accepted: " + error.accepted;
    return {Status::bad_input, {}, line + "\n"};
}

Outcome delivered(const Options& options, Status status, std::string text) {
    if (options.out.empty()) return {status, std::move(text), {}};
    const Result<Done> written = write_file(options.out, text);
    if (!written.ok()) return refused(options.out, written.error());
    return {status, {}, {}};
}

std::string written_as(Format form, const sheet::Document& document, Instant now) {
    switch (form) {
        case Format::text: return sheet::to_text(document);
        case Format::html: return sheet::to_html_page(document);
        case Format::csv: return sheet::to_csv(document);
        case Format::ics: return sheet::to_calendar(document, now);
        case Format::json: break;  // is written from the reckoning itself
    }
    return {};
}

std::optional<Protocol> load_protocol(const std::string& path, Outcome& failure) {
    const Result<std::string> text = read_file(path);
    if (!text.ok()) {
        failure = refused(shown(path), text.error());
        return std::nullopt;
    }
    const Result<Protocol> protocol = read_protocol(text.value());
    if (!protocol.ok()) {
        failure = refused(shown(path), protocol.error());
        return std::nullopt;
    }
    return protocol.value();
}

Result<std::string> protocol_path(const Options& options, const std::string& id) {
    if (!options.protocol.empty()) return options.protocol;
    std::vector<std::string> folders;
    if (!options.protocols.empty()) {
        folders = {options.protocols};
    } else {
        if (options.files[0] != "-") {
            const std::string folder = folder_of(options.files[0]);
            folders = {folder, folder + "/protocols", folder + "/../protocols"};
        }
        folders.insert(folders.end(), {"protocols", "demo-data/protocols"});
    }
    return find_in(folders, id + ".json");
}

std::optional<NamesProtocol> load_naming_protocol(const Options& options, ReadId read_id, Outcome& failure) {
    const std::string file = shown(options.files[0]);
    const auto fail = [&](const std::string& where, const Error& error) {
        failure = refused(where, error);
        return std::nullopt;
    };
    Result<std::string> text = read_file(options.files[0]);
    if (!text.ok()) return fail(file, text.error());
    const Result<std::string> id = read_id(text.value());
    if (!id.ok()) return fail(file, id.error());
    const Result<std::string> path = protocol_path(options, id.value());
    if (!path.ok()) return fail(file, path.error());
    std::optional<Protocol> protocol = load_protocol(path.value(), failure);
    if (!protocol) return std::nullopt;
    if (protocol->id != id.value())
        return fail(path.value(), {"id", "\"" + protocol->id + "\" is not what " + file + " asks for",
                                   "the protocol \"" + id.value() + "\""});
    return NamesProtocol{file, std::move(text.value()), std::move(*protocol)};
}

}  // namespace hangtime::cli
