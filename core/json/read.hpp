#pragma once

/// Text -> tree, strictly. This folder is the only one that includes nlohmann_json, and uses its SAX
/// interface alone: a DOM would make doubles of the numbers and swallow repeated keys.

#include "core/json/value.hpp"
#include "core/result.hpp"

#include <string_view>

namespace hangtime::json {

/// Reads one JSON object (RFC 8259). Refused, with "line 3, column 14" or the path of the value: a text that
/// ends too early or goes on after its end, a zero byte, invalid UTF-8, comments, a key
/// that is repeated, and anything beyond the limits in value.hpp.
Result<Value> read(std::string_view text);

/// "line 3, column 14" of the byte at `offset`; columns count bytes from 1.
std::string place_in(std::string_view text, std::size_t offset);

/// The offset of the first byte that is not valid UTF-8 (RFC 3629), or the length of the text.
std::size_t valid_utf8(std::string_view text);

}  // namespace hangtime::json
