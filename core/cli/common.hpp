#pragma once

/// What the commands share: how a file is shown, how an error is told, where a result goes.

#include "core/cli/options.hpp"
#include "core/cli/run.hpp"
#include "core/protocol/protocol.hpp"
#include "core/sheet/document.hpp"

#include <optional>
#include <string>

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

}  // namespace hangtime::cli
