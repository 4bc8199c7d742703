#include "core/words/round_words.hpp"

#include <array>

namespace hangtime {

namespace {

struct Spelled {
    std::string_view code, name;
};

constexpr std::array<Spelled, 2> uses = {{
    {"new_for_each", "a new set for each unit"},
    {"may_be_kept", "a set may carry several units"},
}};
constexpr std::array<Spelled, 2> set_changes = {{
    {"any", "any change of component"},
    {"as_component_says", "only to a component that asks for one"},
}};
constexpr std::array<Spelled, 3> reassessments = {{
    {"each_unit", "after each unit"},
    {"at_risk", "after each unit for somebody at risk of overload"},
    {"not_asked", "not asked for"},
}};
constexpr std::array<Spelled, 7> new_sets = {{
    {"kept", "same set"},
    {"first_unit", "new set: first unit"},
    {"each_unit", "new set: one for each unit here"},
    {"component_asks", "new set: this component never goes through a used one"},
    {"component_changes", "new set: another component"},
    {"units", "new set: it has carried as many units as it may"},
    {"would_expire", "new set: the old one would have to be changed before this unit is all in"},
}};
constexpr std::array<Spelled, 4> holds = {{
    {"none", "may be called for while the unit before it runs"},
    {"reassess_first", "not before somebody has looked again after the unit before it"},
    {"at_risk", "at risk of overload: one unit, then look again before any other is called for"},
    {"risk_not_recorded", "the risk of overload is not recorded: one unit, then look again"},
}};

template <std::size_t n, class E>
std::string_view code_in(const std::array<Spelled, n>& list, E value) {
    const auto i = static_cast<std::size_t>(value);
    return i < n ? list[i].code : std::string_view{};
}
template <std::size_t n, class E>
std::string_view name_in(const std::array<Spelled, n>& list, E value) {
    const auto i = static_cast<std::size_t>(value);
    return i < n ? list[i].name : std::string_view{};
}

}  // namespace

std::string_view code(SetUse x) { return code_in(uses, x); }
std::string_view code(SetChange x) { return code_in(set_changes, x); }
std::string_view code(Reassess x) { return code_in(reassessments, x); }
std::string_view code(NewSet x) { return code_in(new_sets, x); }
std::string_view code(CallHold x) { return code_in(holds, x); }
std::string_view name(SetUse x) { return name_in(uses, x); }
std::string_view name(SetChange x) { return name_in(set_changes, x); }
std::string_view name(Reassess x) { return name_in(reassessments, x); }
std::string_view name(NewSet x) { return name_in(new_sets, x); }
std::string_view name(CallHold x) { return name_in(holds, x); }

}  // namespace hangtime
