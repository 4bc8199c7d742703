#pragma once

/// A transfusion file -> what is known about the transfusion. The format is described in
/// core/session/transfusion.schema.json; it has no place for anything that says who the recipient is. What
/// the file leaves out is as the protocol has it, or not recorded.

#include "core/clock.hpp"
#include "core/component.hpp"
#include "core/protocol/protocol.hpp"
#include "core/result.hpp"
#include "core/session/objects.hpp"
#include "core/session/state.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace hangtime {

/// All that a transfusion file says.
struct Request {
    std::string protocol;                   // the id of the protocol that it asks for
    WallClock wall;
    std::optional<Stated> now;              // none: the caller decides
    std::optional<NotCovered> not_covered;  // then the state has no component, and there is no plan to make
    State state;
    std::string bag_digits;                 // the last four of the donation number, or empty
    std::optional<SpokenObject> object;
};

/// The id of the protocol that a transfusion file asks for; read first, because the rest of the file is read
/// against that protocol. Checks no more of the file than it needs.
Result<std::string> read_protocol_id(std::string_view json);

/// All of the file, or the first thing that is wrong with it: where (a JSON path, or a line and a column),
/// what and what would be accepted. `protocol` must be the one that the file asks for.
Result<Request> read_request(std::string_view json, const Protocol& protocol);

}  // namespace hangtime
