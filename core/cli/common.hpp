#pragma once

/// What the commands share: how a file is shown, how an error is told, where a result goes.

#include "core/cli/options.hpp"
#include "core/cli/run.hpp"
#include "core/protocol/protocol.hpp"
#include "core/sheet/document.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace hangtime::cli {

/// A path as an error names it: "-" is "standard input".
std::string shown(const std::string& path);

/// "FILE: path: problem; accepted: ..."
Outcome refused(const std::string& file, const Error& error);

/// To --out, or to standard output.
Outcome delivered(const Options& options, Status status, std::string text);

/// A document in any of the forms that documents have.
std::string written_as(Format form, const sheet::Document& document, Instant now);

/// A protocol's file, read; `failure` is set where it cannot be.
std::optional<Protocol> load_protocol(const std::string& path, Outcome& failure);

/// Where the protocol that a file asks for is looked up.
Result<std::string> protocol_path(const Options& options, const std::string& id);

using ReadId = Result<std::string> (*)(std::string_view text);

/// The first of the files, with the protocol that it names; `failure` is set where there is none.
struct NamesProtocol {
    std::string file, text;  // as an error names it; all that it holds
    Protocol protocol;
};
std::optional<NamesProtocol> load_naming_protocol(const Options& options, ReadId read_id, Outcome& failure);

/// The same, and read: first for its protocol's id, then, by that protocol, all of it.
template <class Whole>
struct Loaded {
    std::string file;
    Protocol protocol;
    Whole whole;
};
template <class Whole>
std::optional<Loaded<Whole>> load_with_protocol(const Options& options, ReadId read_id,
                                                Result<Whole> (*read)(std::string_view, const Protocol&),
                                                Outcome& failure) {
    auto found = load_naming_protocol(options, read_id, failure);
    if (!found) return std::nullopt;
    Result<Whole> whole = read(found->text, found->protocol);
    if (whole.ok()) return Loaded<Whole>{found->file, std::move(found->protocol), std::move(whole.value())};
    failure = refused(found->file, whole.error());
    return std::nullopt;
}

}  // namespace hangtime::cli
