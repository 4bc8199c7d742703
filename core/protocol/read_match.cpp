#include "core/protocol/read.hpp"
#include "core/protocol/reader.hpp"
#include "core/words/match_words.hpp"

namespace hangtime {

bool stands_there(MatchField field, MatchPlace place) {
    switch (field) {
        case MatchField::names:
        case MatchField::birth_date:
        case MatchField::person_number: return place != MatchPlace::bag;
        case MatchField::recipient_group: return place != MatchPlace::wristband && place != MatchPlace::bag;
        case MatchField::donation_number:
        case MatchField::product_code:
        case MatchField::expiry:
        case MatchField::unit_group: return place != MatchPlace::wristband && place != MatchPlace::order;
        case MatchField::component:
        case MatchField::requirements: return place != MatchPlace::wristband;
    }
    return false;
}

namespace protocol_reader {

namespace {

MatchLine read_line(const json::Field& item, const BasisReader& basis) {
    const json::Object o = item.object({"field", "read_from", "compare_with", "source", "grade"});
    MatchLine line;
    line.field = fields::choice<MatchField>(o.at("field"));
    line.read_from = fields::choice<MatchPlace>(o.at("read_from"));
    for (const json::Field& other : o.at("compare_with").list(1, match_place_count - 1)) {
        const auto place = fields::choice<MatchPlace>(other);
        if (line.compare_with.has(place)) other.fail("is there twice", "each place once");
        line.compare_with.add(place);
    }
    line.basis = basis(o);
    return line;
}

template <class E>
Given<E> rule_of(const json::Object& group, std::string_view name, const BasisReader& basis) {
    const json::Object o = group.at(name).object({"rule", "source", "grade"});
    return {fields::choice<E>(o.at("rule")), basis(o)};
}

CompatibilityRules read_compatibility(const json::Field& field, const BasisReader& basis) {
    const json::Object o =
        field.object({"plasma", "plasma_unknown_group", "cryoprecipitate", "platelets", "whole_blood",
                      "rhd_negative_listed", "rhd_negative_others"});
    CompatibilityRules out;
    out.plasma = rule_of<PlasmaRule>(o, "plasma", basis);
    out.plasma_unknown = rule_of<UnknownPlasma>(o, "plasma_unknown_group", basis);
    out.cryoprecipitate = rule_of<PlasmaRule>(o, "cryoprecipitate", basis);
    out.platelets = rule_of<PlasmaRule>(o, "platelets", basis);
    out.whole_blood = rule_of<WholeBloodRule>(o, "whole_blood", basis);
    const json::Object listed = o.at("rhd_negative_listed").object({"rule", "female_up_to_years",
                                                                   "male_up_to_years", "source", "grade"});
    out.rhd_listed = {fields::choice<RhdRule>(listed.at("rule")), basis(listed)};
    out.rhd_female_up_to_years = static_cast<std::int32_t>(listed.at("female_up_to_years").integer(0, 120));
    out.rhd_male_up_to_years = static_cast<std::int32_t>(listed.at("male_up_to_years").integer(0, 120));
    out.rhd_others = rule_of<RhdRule>(o, "rhd_negative_others", basis);
    return out;
}

class MatchCheck {
public:
    MatchCheck(const MatchRules& rules, json::Report& report) : rules_(rules), report_(report) {}

    void run() {
        bool number = false, person = false;
        for (std::size_t i = 0; i < rules_.lines.size(); ++i) {
            line(i);
            number |= rules_.lines[i].field == MatchField::donation_number;
            person |= rules_.lines[i].read_from == MatchPlace::wristband;
        }
        if (!number)
            fail("fields", "has no donation_number", "at least donation_number among the fields");
        if (!person)
            fail("fields", "has nothing that is read from the wristband",
                 "at least one field with \"read_from\": \"wristband\"");
        plasma();
        if (rank(rules_.compatibility.rhd_listed.value) < rank(rules_.compatibility.rhd_others.value))
            fail("compatibility.rhd_negative_listed.rule", "is less strict than for the others",
                 "at least as strict as rhd_negative_others");
    }

private:
    static int rank(RhdRule rule) { return static_cast<int>(rule); }  // in the order of strictness

    void fail(const std::string& where, std::string problem, std::string accepted) {
        report_.fail("match." + where, std::move(problem), std::move(accepted));
    }

    void line(std::size_t i) {
        const MatchLine& line = rules_.lines[i];
        const std::string at = "fields[" + std::to_string(i) + "].";
        for (std::size_t j = 0; j < i; ++j)
            if (rules_.lines[j].field == line.field)
                fail(at + "field", "is there twice: \"" + std::string(code(line.field)) + "\"",
                     "each field once");
        if (line.compare_with.has(line.read_from))
            fail(at + "compare_with", "has the place that it is read from", "other places than read_from");
        for (int k = 0; k < match_place_count; ++k) {
            const auto place = static_cast<MatchPlace>(k);
            const bool read = line.read_from == place;
            if (!read && !line.compare_with.has(place)) continue;
            const std::string where = at + (read ? "read_from" : "compare_with");
            if (!stands_there(line.field, place))
                fail(where, "has \"" + std::string(code(place)) + "\", where no " +
                                std::string(code(line.field)) + " stands",
                     "a place where it stands");
            if (place == MatchPlace::lab_form && !rules_.lab_form.value)
                fail(where, "has \"lab_form\", which lab_form.may_be_used forbids",
                     "other places, or \"may_be_used\": true");
        }
    }

    void plasma() {
        const auto only = [this](const Given<PlasmaRule>& rule, PlasmaRule never, const std::string& name,
                                 std::string accepted) {
            if (rule.value == never || (name == "plasma" && rule.value == PlasmaRule::any_group))
                fail("compatibility." + name + ".rule",
                     "\"" + std::string(code(rule.value)) + "\" is no choice here", std::move(accepted));
        };
        const CompatibilityRules& c = rules_.compatibility;
        only(c.plasma, PlasmaRule::low_titre, "plasma", "compatible_only or low_titre_a_or_b");
        only(c.cryoprecipitate, PlasmaRule::low_titre, "cryoprecipitate",
             "compatible_only, low_titre_a_or_b or any_group");
        only(c.platelets, PlasmaRule::low_titre_a_or_b, "platelets",
             "compatible_only, low_titre or any_group");
    }

    const MatchRules& rules_;
    json::Report& report_;
};

}  // namespace

MatchRules read_match(const json::Field& field, const BasisReader& basis) {
    const json::Object o =
        field.object({"people", "cannot_say", "fields", "lab_form", "stale", "compatibility"});
    MatchRules out;
    const json::Object people = o.at("people").object({"how", "source", "grade"});
    out.people = {fields::choice<MatchPeople>(people.at("how")), basis(people)};
    const json::Object cannot = o.at("cannot_say").object({"then", "source", "grade"});
    out.cannot_say = {fields::choice<CannotSay>(cannot.at("then")), basis(cannot)};
    for (const json::Field& item : o.at("fields").list(1, MatchRules::most_lines))
        out.lines.add(read_line(item, basis));
    const json::Object form = o.at("lab_form").object({"may_be_used", "source", "grade"});
    out.lab_form = {form.at("may_be_used").boolean(), basis(form)};
    const json::Object stale = o.at("stale").object({"after_min", "source", "grade"});
    out.stale = {fields::minutes_of(stale.at("after_min"), 1, 60), basis(stale)};
    out.compatibility = read_compatibility(o.at("compatibility"), basis);
    return out;
}

void report_match_contradictions(const MatchRules& rules, json::Report& report) {
    MatchCheck(rules, report).run();
}

}  // namespace protocol_reader

}  // namespace hangtime
