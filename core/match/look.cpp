#include "core/match/look.hpp"

namespace hangtime {

namespace {

bool is_looked_for(LookFor what, Component component) {
    const bool red = component == Component::red_cells || component == Component::whole_blood ||
                     component == Component::granulocytes;
    switch (what) {
        case LookFor::leak:
        case LookFor::seal:
        case LookFor::ports:
        case LookFor::clots:
        case LookFor::colour:
        case LookFor::label:
        case LookFor::expiry: return true;
        case LookFor::haemolysis: return red;
        case LookFor::cloudiness: return !red;
        case LookFor::swirl: return component == Component::platelets;
    }
    return true;
}

}  // namespace

FixedList<LookFor, look_for_count> look_list(Component component) {
    FixedList<LookFor, look_for_count> out;
    for (int i = 0; i < look_for_count; ++i)
        if (const auto what = static_cast<LookFor>(i); is_looked_for(what, component)) out.add(what);
    return out;
}

Agreement LookResult::all(Component component) const {
    Agreement out = Agreement::same;
    for (const LookFor what : look_list(component)) {
        if (at(what) == Agreement::differs) return Agreement::differs;
        if (at(what) == Agreement::cannot_tell) out = Agreement::cannot_tell;
    }
    return out;
}

}  // namespace hangtime
