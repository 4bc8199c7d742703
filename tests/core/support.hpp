#pragma once

/// Files of the tree, for tests. HANGTIME_ROOT says where it is; scripts/test sets it.

#include "core/protocol/protocol.hpp"
#include "core/session/read.hpp"

#include <string>
#include <vector>

namespace hangtime::test {

/// The text of a file of the tree; fails the test, with its name, where there is none.
std::string file_text(const std::string& path);

/// "general-ward", ...: the names without ".json" of a folder under demo-data, in order.
std::vector<std::string> demo_names(const std::string& folder);

Protocol shipped_protocol(const std::string& id);
/// A demo transfusion, read against the protocol that it asks for.
Request demo_request(const std::string& name);

/// A copy of `text` with the first `old` replaced; fails the test where there is none.
std::string replaced(const std::string& text, const std::string& old, const std::string& by);

}  // namespace hangtime::test
