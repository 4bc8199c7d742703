#include "core/match/compatible.hpp"

namespace hangtime {

namespace {

using enum CompatibleReason;

constexpr Judged yes(CompatibleReason why) { return {Compatible::yes, why}; }
constexpr Judged by_rule(CompatibleReason why) { return {Compatible::local_rule, why}; }
constexpr Judged no(CompatibleReason why) { return {Compatible::no, why}; }
constexpr Judged cannot_tell(CompatibleReason why) { return {Compatible::cannot_tell, why}; }

// [recipient][unit], each O, A, B, AB.
constexpr bool red_cells_fit[abo_count][abo_count] = {
    {true, false, false, false},
    {true, true, false, false},
    {true, false, true, false},
    {true, true, true, true},
};
constexpr bool plasma_fits[abo_count][abo_count] = {
    {true, true, true, true},
    {false, true, false, true},
    {false, false, true, true},
    {false, false, false, true},
};

constexpr bool suits(const bool (&table)[abo_count][abo_count], Abo recipient, Abo unit) {
    return table[static_cast<std::size_t>(recipient)][static_cast<std::size_t>(unit)];
}

bool has_red_cells(Component c) {
    switch (c) {
        case Component::red_cells:
        case Component::whole_blood:
        case Component::granulocytes: return true;
        case Component::platelets:
        case Component::plasma:
        case Component::cryoprecipitate: return false;
    }
    return true;
}

class Judge {
public:
    Judge(const CompatibilityRules* rules, const RecipientFacts& r, const UnitFacts& u)
        : rules_(rules), r_(r), u_(u) {
        if (!r.conflicting) {
            abo_ = r.abo;
            rhd_ = r.rhd;
        }
    }

    Compatibility judge() const {
        Compatibility out;
        out.abo = after_laboratory(abo());
        out.rhd = after_laboratory(rhd());
        out.label = label();
        out.requirements = requirements(out.each);
        out.overall = out.abo;
        for (const Judged& j : {out.rhd, out.label, out.requirements})
            if (rank(j.is) > rank(out.overall.is)) out.overall = j;
        return out;
    }

private:
    static int rank(Compatible c) {
        switch (c) {
            case Compatible::yes: return 0;
            case Compatible::local_rule: return 1;
            case Compatible::cannot_tell: return 2;
            case Compatible::no: return 3;
        }
        return 3;
    }

    // The group is not known, and the ward has declared an emergency: its own way.
    bool emergency_way() const { return r_.emergency && !abo_; }

    Judged abo() const {
        if (!u_.group.abo) return cannot_tell(unit_group_missing);
        const Abo unit = *u_.group.abo;
        if (!abo_) return unknown(unit);
        if (*abo_ == unit) return yes(identical);
        if (has_red_cells(u_.component) && !suits(red_cells_fit, *abo_, unit)) return no(red_cells_clash);
        switch (u_.component) {
            case Component::red_cells:
            case Component::granulocytes: return yes(fits);
            case Component::whole_blood: return whole_blood(unit);
            case Component::plasma: return plasma(unit, &CompatibilityRules::plasma);
            case Component::cryoprecipitate: return plasma(unit, &CompatibilityRules::cryoprecipitate);
            case Component::platelets: return plasma(unit, &CompatibilityRules::platelets);
        }
        return cannot_tell(no_rules);
    }

    Judged whole_blood(Abo unit) const {
        if (!rules_) return cannot_tell(no_rules);
        const bool o = unit == Abo::o && rules_->whole_blood.value == WholeBloodRule::low_titre_o;
        return o ? with_low_titre() : no(not_identical);
    }

    Judged with_low_titre() const {
        switch (u_.low_titre) {
            case Answer::yes: return by_rule(low_titre);
            case Answer::no: return no(titre_not_low);
            case Answer::not_recorded: break;
        }
        return cannot_tell(titre_missing);
    }

    // What the rule allows beside what fits; for a child it is nothing.
    Judged plasma(Abo unit, Given<PlasmaRule> CompatibilityRules::* which) const {
        if (suits(plasma_fits, *abo_, unit)) return yes(fits);
        if (!rules_) return cannot_tell(no_rules);
        const PlasmaRule rule = (rules_->*which).value;
        const bool allowed = rule == PlasmaRule::any_group || rule == PlasmaRule::low_titre ||
                             (rule == PlasmaRule::low_titre_a_or_b && unit != Abo::o);
        if (!allowed || r_.child == Answer::yes) return no(plasma_clash);
        if (r_.child == Answer::not_recorded) return cannot_tell(child_missing);
        return rule == PlasmaRule::any_group ? by_rule(any_group) : with_low_titre();
    }

    // No group of the recipient is known.
    Judged unknown(Abo unit) const {
        const CompatibleReason missing = r_.conflicting ? group_conflicts : group_missing;
        const Judged fits_all = emergency_way() ? by_rule(emergency_unit) : cannot_tell(missing);
        if (has_red_cells(u_.component) && unit != Abo::o) return no(unknown_needs_o);
        switch (u_.component) {
            case Component::red_cells:
            case Component::granulocytes: return fits_all;
            case Component::whole_blood: {
                const Judged as_o = whole_blood(unit);
                return as_o.is == Compatible::local_rule ? fits_all : as_o;
            }
            case Component::plasma:
            case Component::cryoprecipitate:
            case Component::platelets: break;
        }
        if (unit == Abo::ab) return fits_all;
        const Judged other = unknown_plasma(unit);
        return other.is == Compatible::local_rule ? fits_all : other;
    }

    // Plasma that does not fit everybody: whether the rules let it through all the same.
    Judged unknown_plasma(Abo unit) const {
        if (!rules_) return cannot_tell(no_rules);
        bool any = false, titre = false;
        switch (u_.component) {
            case Component::plasma:
                titre = unit == Abo::a && rules_->plasma_unknown.value == UnknownPlasma::ab_or_low_titre_a;
                break;
            case Component::cryoprecipitate:
                any = rules_->cryoprecipitate.value == PlasmaRule::any_group;
                break;
            case Component::platelets:
                any = rules_->platelets.value == PlasmaRule::any_group;
                titre = unit != Abo::b && rules_->platelets.value == PlasmaRule::low_titre;
                break;
            case Component::red_cells:
            case Component::whole_blood:
            case Component::granulocytes: break;
        }
        if ((!any && !titre) || r_.child == Answer::yes) return no(unknown_needs_other);
        if (r_.child == Answer::not_recorded && !emergency_way()) return cannot_tell(child_missing);
        return any ? by_rule(any_group) : with_low_titre();
    }

    Judged rhd() const {
        const bool platelets = u_.component == Component::platelets;
        if (!has_red_cells(u_.component) && !platelets) return yes(rhd_not_needed);
        if (!u_.group.rhd) return cannot_tell(unit_rhd_missing);
        const bool positive = *u_.group.rhd == Rhd::positive;
        if (!rhd_) {
            if (!emergency_way()) return cannot_tell(r_.conflicting ? group_conflicts : rhd_missing);
            if (!positive) return by_rule(emergency_unit);
        } else {
            if (*rhd_ == *u_.group.rhd) return yes(identical);
            if (!positive) return yes(fits);
        }
        // RhD positive for somebody RhD negative, or not known in an emergency.
        if (r_.rhd_listed == Answer::not_recorded) return cannot_tell(listed_missing);
        const bool listed = r_.rhd_listed == Answer::yes;
        if (!listed && !rhd_) return by_rule(emergency_unit);
        if (!listed && platelets) return yes(fits);
        if (!rules_) return cannot_tell(no_rules);
        if (platelets) return by_rule(rhd_by_blood_bank);
        switch (listed ? rules_->rhd_listed.value : rules_->rhd_others.value) {
            case RhdRule::ask_blood_bank: return by_rule(rhd_by_blood_bank);
            case RhdRule::emergency_only:
                if (r_.emergency) return by_rule(rhd_in_emergency);
                break;
            case RhdRule::never: break;
        }
        return no(listed ? rhd_listed : rhd_not_allowed);
    }

    // For some people the laboratory says which group, and that is not always the one that was found. What
    // does not fit stays "no".
    Judged after_laboratory(Judged j) const {
        if (j.is == Compatible::no || j.is == Compatible::cannot_tell) return j;
        if (r_.infant == Answer::yes) return cannot_tell(infant);
        if (r_.transplant == Answer::yes) return cannot_tell(transplant);
        if (emergency_way()) return j;  // nothing of the person has to be known there
        if (r_.infant == Answer::not_recorded) return cannot_tell(infant_missing);
        if (r_.transplant == Answer::not_recorded) return cannot_tell(transplant_missing);
        return j;
    }

    Judged label() const {
        const LabelUse use = u_.group.use;
        if (!may_be_transfused(use)) return no(label_forbids);
        if (is_reserved(use)) return cannot_tell(label_reserved);
        if (use == LabelUse::not_recognised) return cannot_tell(label_unread);
        if (use == LabelUse::emergency) return by_rule(emergency_label);
        return yes(fits);
    }

    Judged requirements(std::array<RequirementState, requirement_count>& each) const {
        if (!r_.required) {
            each.fill(RequirementState::cannot_tell);
            return emergency_way() ? by_rule(emergency_unit) : cannot_tell(requirements_missing);
        }
        Judged out = yes(fits);
        for (std::size_t i = 0; i < each.size(); ++i) {
            const auto what = static_cast<Requirement>(i);
            if (!r_.required->has(what)) {
                each[i] = RequirementState::not_asked;
            } else if (!u_.stated) {
                each[i] = RequirementState::cannot_tell;
                out = cannot_tell(requirements_missing);
            } else if (u_.stated->has(what)) {
                each[i] = RequirementState::met;
            } else {
                each[i] = RequirementState::not_on_label;
                out = no(requirement_not_met);
            }
        }
        return out;
    }

    const CompatibilityRules* rules_;
    const RecipientFacts& r_;
    const UnitFacts& u_;
    std::optional<Abo> abo_;
    std::optional<Rhd> rhd_;
};

}  // namespace

Compatibility judge_compatibility(const CompatibilityRules* rules, const RecipientFacts& recipient,
                                  const UnitFacts& unit) {
    return Judge(rules, recipient, unit).judge();
}

Compatible answer_of(CompatibleReason why) {
    switch (why) {
        case identical:
        case fits:
        case rhd_not_needed: return Compatible::yes;
        case low_titre:
        case any_group:
        case emergency_unit:
        case emergency_label:
        case rhd_by_blood_bank:
        case rhd_in_emergency: return Compatible::local_rule;
        case red_cells_clash:
        case plasma_clash:
        case not_identical:
        case titre_not_low:
        case unknown_needs_o:
        case unknown_needs_other:
        case rhd_listed:
        case rhd_not_allowed:
        case label_forbids:
        case requirement_not_met: return Compatible::no;
        case unit_group_missing:
        case unit_rhd_missing:
        case group_missing:
        case group_conflicts:
        case rhd_missing:
        case listed_missing:
        case titre_missing:
        case infant_missing:
        case transplant_missing:
        case child_missing:
        case infant:
        case transplant:
        case label_reserved:
        case label_unread:
        case requirements_missing:
        case no_rules: break;
    }
    return Compatible::cannot_tell;
}

bool settles(CompatibleReason why, GroupsBy by) {
    switch (answer_of(why)) {
        case Compatible::yes:
        case Compatible::local_rule: return true;
        case Compatible::no: return by != GroupsBy::answer && may_be_waived(why);
        case Compatible::cannot_tell: break;
    }
    const bool group_unknown = why == unit_group_missing || why == group_missing || why == group_conflicts ||
                               why == rhd_missing || why == label_unread || why == infant || why == transplant;
    return group_unknown ? by == GroupsBy::laboratory : by != GroupsBy::answer;
}

GroupReasons reasons_of(const Compatibility& c) {
    GroupReasons out;
    for (const Judged& part : {c.abo, c.rhd, c.label, c.requirements}) {
        bool there = part.is == Compatible::yes;
        for (const CompatibleReason why : out) there = there || why == part.why;
        if (!there) out.add(part.why);
    }
    if (out.empty()) out.add(c.abo.why);
    return out;
}

RequirementSet unmet_of(const Compatibility& c) {
    RequirementSet out;
    if (c.requirements.why == requirements_missing || c.requirements.why == requirement_not_met)
        for (std::size_t i = 0; i < c.each.size(); ++i)
            if (c.each[i] == RequirementState::not_on_label) out.add(static_cast<Requirement>(i));
    return out;
}

bool settles(const GroupReasons& reasons, GroupsBy by) {
    for (const CompatibleReason why : reasons)
        if (!settles(why, by)) return false;
    return !reasons.empty();
}

bool may_be_waived(CompatibleReason why) {
    switch (why) {
        case rhd_by_blood_bank:
        case rhd_in_emergency:
        case rhd_listed:
        case rhd_not_allowed:
        case requirement_not_met:
        case requirements_missing:
        case label_reserved:
        case emergency_label:
        case infant:
        case transplant: return true;
        case identical:
        case fits:
        case rhd_not_needed:
        case low_titre:
        case any_group:
        case emergency_unit:
        case red_cells_clash:
        case plasma_clash:
        case not_identical:
        case titre_not_low:
        case unknown_needs_o:
        case unknown_needs_other:
        case label_forbids:
        case unit_group_missing:
        case unit_rhd_missing:
        case group_missing:
        case group_conflicts:
        case rhd_missing:
        case listed_missing:
        case titre_missing:
        case infant_missing:
        case transplant_missing:
        case child_missing:
        case label_unread:
        case no_rules: return false;
    }
    return false;
}

}  // namespace hangtime
