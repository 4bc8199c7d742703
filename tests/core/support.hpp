#pragma once

/// Files of the tree, for tests. HANGTIME_ROOT says where it is; scripts/test sets it.

#include "core/json/value.hpp"
#include "core/protocol/protocol.hpp"
#include "core/session/read.hpp"

#include <functional>
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

/// A copy of `text` without "revised ..." of the rules that it names: the one date that a sheet may hold.
std::string without_revision(std::string text, const Protocol& rules);

/// A copy of `text` with the first `old` replaced; fails the test where there is none.
std::string replaced(const std::string& text, const std::string& old, const std::string& by);

/// A tree as JSON text, and back.
std::string text_of(const json::Value& tree);
json::Value tree_of(const std::string& text);

/// The step of a test that damages a file in every place: each place natively, and one in `places` as WebAssembly,
/// where the same code is built to be small and reads six to eight times as long.
constexpr std::size_t in_steps([[maybe_unused]] std::size_t places) {
#ifdef __EMSCRIPTEN__
    return places;
#else
    return 1;
#endif
}

/// Changes one value at a time: calls `change` for every value below the top (its parent and its index there)
/// and, unless that says false, `with` for the whole text with that one change; then it is undone. Returns
/// how many changes there were; `with` sees one in `step` of them.
std::size_t each_change(const json::Value& tree,
                        const std::function<bool(json::Value& parent, std::size_t index)>& change,
                        const std::function<void(const std::string& path, const std::string& text)>& with,
                        std::size_t step = 1);

}  // namespace hangtime::test
