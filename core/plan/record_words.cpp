#include "core/plan/record_words.hpp"

#include "core/words/match_words.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"

namespace hangtime {

namespace {

std::string set_text(const facts::PrimedWith& set) {
    std::string out = joined({name(set.with), ", holds ", volume_text(set.holds)});
    if (set.lost > Volume{}) out += joined({", lost ", volume_text(set.lost)});
    return out;
}

std::string numbers_text(const std::vector<std::int32_t>& of) {
    std::string out;
    for (const std::int32_t n : of) out += (out.empty() ? "record " : ", ") + std::to_string(n);
    return out;
}

struct Said {
    const DayClock& day;

    std::string operator()(const std::monostate&) const { return {}; }
    std::string operator()(const facts::Opened& f) const {
        return joined({name(f.object), ", ", f.rules.protocol->title, f.rehearsal ? ", a rehearsal" : ""});
    }
    std::string operator()(const facts::ClockSet& f) const {
        std::string out;
        if (f.ahead != Seconds{})
            out = joined({"this machine is ", span_text(f.ahead), f.ahead > Seconds{} ? " behind" : " ahead"});
        if (f.jumped != Seconds{}) out += joined({out.empty() ? "" : ", ", "it jumped by ", span_text(f.jumped)});
        return out;
    }
    std::string operator()(const facts::ProtocolChanged& f) const { return f.rules.protocol->title; }
    std::string operator()(const facts::Linked& f) const { return std::string(name(f.object)); }
    std::string operator()(const facts::Ordered& f) const {
        std::string out(lower_first(name(f.component)));
        if (f.order.dose) out += joined({", ", volume_text(*f.order.dose)});
        if (f.order.dose_per_kg) out += joined({", ", dose_per_kg_text(*f.order.dose_per_kg)});
        switch (f.order.pace) {
        case Order::Pace::usual: break;
        case Order::Pace::within: out += joined({", within ", span_text(f.order.duration)}); break;
        case Order::Pace::at_least: out += joined({", over at least ", span_text(f.order.duration)}); break;
        case Order::Pace::at_rate: out += joined({", at ", rate_text(f.order.rate)}); break;
        case Order::Pace::at_rate_per_kg: out += joined({", at ", rate_per_kg_text(f.order.rate_per_kg)}); break;
        }
        if (f.order.most) out += joined({", at most ", rate_text(*f.order.most)});
        if (f.expected) out += joined({", usually ", volume_text(*f.expected)});
        return out;
    }
    std::string operator()(const facts::RecipientTold& f) const {
        const Recipient& r = f.recipient;
        std::string out = joined({"weight ", mass_text(r.weight), r.weight_estimated ? " (an estimate)" : "",
                                  ", overload risk ", name(r.overload_risk), ", can report ", name(r.can_report)});
        if (r.gauge > 0) out += ", " + std::to_string(r.gauge) + " G";
        return out;
    }
    std::string operator()(const facts::EquipmentChosen& f) const {
        std::string out(name(f.device.kind));
        if (f.device.kind == DeviceKind::gravity) out += joined({", ", drop_factor_text(f.device.drops)});
        return out + joined({", line of ", volume_text(f.line.holds), ", ", name(f.line.primed_with)});
    }
    std::string operator()(const facts::ItemNoted& f) const {
        std::string out = joined({lower_first(name(f.item)), ": ", name(f.how)});
        if (f.count > 0) out += ", " + std::to_string(f.count) + (f.count == 1 ? " unit" : " units");
        if (f.how == ItemHow::waived) out += joined({", ", name(f.reason), ", by ", name(f.role)});
        else if (f.checker) out += joined({", ", name(*f.checker)});
        return out;
    }
    std::string operator()(const facts::Issued& f) const {
        std::string out = joined({lower_first(name(f.component)), ", ", volume_text(f.bag)});
        if (f.expires) out += joined({", expires ", clock_text(f.expires->at, day)});
        if (f.expires_far) out += ", expires a week or more away";
        if (f.thawed) out += joined({", thawed ", clock_text(f.thawed->at, day)});
        if (f.digits) out += joined({", ends in ", std::string_view(f.digits->data(), f.digits->size())});
        return out;
    }
    std::string operator()(const facts::StorageNoted& f) const { return std::string(name(f.change)); }
    std::string operator()(const facts::BagTemperature& f) const { return measured_number(f.tenths_c) + " degrees C"; }
    std::string operator()(const facts::MatchNoted& f) const {
        const std::string out(name(f.outcome));
        return f.outcome == MatchOutcome::interrupted
                   ? out
                   : joined({"step ", std::to_string(f.step + 1), ": ", out,
                             !f.can_say   ? ""
                             : *f.can_say ? ", the person can say who they are"
                                          : ", the person cannot say who they are"});
    }
    std::string operator()(const facts::GroupsJudged& f) const {
        return groups_text(GroupsNote{f.because, f.unmet, f.by, f.reason, f.role, {}, 0});
    }
    std::string operator()(const facts::OtherFluid& f) const { return joined({volume_text(f.total), " since the start"}); }
    std::string operator()(const facts::RuleSetChosen& f) const { return f.rule_set; }
    std::string operator()(const facts::PrimedWith& f) const { return set_text(f); }
    std::string operator()(const facts::DeviceTotal& f) const {
        return f.kind == TotalKind::read ? volume_text(f.total) : std::string(name(f.kind));
    }
    std::string operator()(const facts::RateSet& f) const {
        return joined({rate_text(f.rate), f.as_it_happened ? ", as it happened" : "",
                       f.waived_by ? ", decided by: " : "", f.waived_by ? name(*f.waived_by) : ""});
    }
    std::string operator()(const facts::Paused& f) const { return std::string(name(f.reason)); }
    std::string operator()(const facts::Resumed& f) const {
        return f.decided_by ? joined({"decided by ", name(*f.decided_by)}) : std::string();
    }
    std::string operator()(const facts::Observed& f) const {
        return f.extra ? "between the checks" : lower_first(check_title(f.kind));
    }
    std::string operator()(const facts::HandedOver& f) const { return std::string(name(f.role)); }
    std::string operator()(const facts::Moved& f) const { return std::string(name(f.place)); }
    std::string operator()(const facts::ConsentWithdrawn& f) const { return std::string(name(f.reason)); }
    std::string operator()(const facts::Stopped& f) const { return std::string(name(f.reason)); }
    std::string operator()(const facts::SetChanged& f) const { return set_text(f.set); }
    std::string operator()(const facts::Returned& f) const { return joined({name(f.to), ", ", name(f.reason)}); }
    std::string operator()(const facts::Discarded& f) const { return std::string(name(f.reason)); }
    std::string operator()(const facts::ActionTicked& f) const {
        return joined({lower_first(name(f.action)), !f.agrees ? "" : *f.agrees ? ": all agree" : ": something differs"});
    }
    std::string operator()(const facts::CeilingLowered& f) const { return "at most " + rate_text(f.most); }
    std::string operator()(const facts::Restarted& f) const {
        return joined({rate_text(f.rate), ", by the word of: ", name(f.role)});
    }
    std::string operator()(const facts::Numbers& f) const { return numbers_text(f.of); }
};

}  // namespace

std::string groups_text(const GroupsNote& note) {
    std::string out(name(note.answer()));
    for (const CompatibleReason why : note.because) out += joined({out.ends_with('.') ? " " : ": ", sentence(why)});
    std::string unmet;
    for (int i = 0; i < requirement_count; ++i)
        if (note.unmet.has(static_cast<Requirement>(i)))
            unmet += joined({unmet.empty() ? " Not on the label: " : ", ", lower_first(name(static_cast<Requirement>(i)))});
    if (!unmet.empty()) out += unmet + ".";
    if (note.by == GroupsBy::laboratory) out += " The laboratory's instruction is followed.";
    if (note.by == GroupsBy::waiver) out += joined({" Waived: ", name(note.reason), ", by ", name(note.role), "."});
    return out;
}

std::string record_text(const Event& event, const DayClock& day) {
    std::string out = std::visit(Said{day}, event.facts);
    if (!event.replaces.empty()) out += joined({out.empty() ? "" : " ", "(in the place of ", numbers_text(event.replaces), ")"});
    return out;
}

std::string record_time_text(const Event& event, const DayClock& day) {
    std::string out = event.at.precision == Precision::minute ? minute_text(event.at.at, day) : clock_text(event.at.at, day);
    if (event.noted - event.at.at > minutes(2)) out += joined({", noted ", minute_text(event.noted, day)});
    return out;
}

std::string to_do_text(const ToDo& todo, const Reckoning& r) {
    if (todo.what == Doing::observe && todo.check >= 0)
        return std::string(check_title(r.checks[static_cast<std::size_t>(todo.check)].kind));
    std::string out(name(todo.what));
    const bool part = r.planned && (r.volumes.left_in_bag > Volume{} || r.volumes.left_in_line > Volume{});
    if (todo.what == Doing::end && part && !r.ended) out = "Stop: the dose should be in";
    if (todo.rate > Rate{}) {
        if (todo.what == Doing::raise_rate) out += " to " + rate_text(todo.rate);
        if (todo.what == Doing::start || todo.what == Doing::go_on) out += " at " + rate_text(todo.rate);
    }
    return out;
}

DayClock day_clock_of(const Session& s) {
    Instant first = s.opened;
    if (s.state.times.issued && s.state.times.issued->at < first) first = s.state.times.issued->at;
    return DayClock(s.wall, first);
}

}  // namespace hangtime
