#include "core/session/state.hpp"

namespace hangtime {

State new_state(const Protocol& protocol) {
    State state;
    if (!protocol.lines.empty()) state.line.holds = protocol.lines.front().holds;
    state.line.primed_with = protocol.primed_with.value;
    // Where it is left open, clearing is planned: all in comes later with it, and a limit is not overlooked.
    state.line.cleared = protocol.clearing.value != Clearing::forbidden;
    state.device.step = protocol.pump.step;
    state.device.most = protocol.pump.most;
    state.device.drops = protocol.drop_factor;
    return state;
}

}  // namespace hangtime
