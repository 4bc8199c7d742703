#include "core/plan/record_words.hpp"
#include "core/words/bedside_words.hpp"
#include "core/words/session_spelling.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/bedside.hpp"

/// The one thing to do now, from the list of what is to be done.

namespace hangtime::screens {

void Bedside::primary_for_item(Item item, Primary& out) const {
    out.question = question(item);
    out.label = name(item);
    out.about.item = item;
    const auto confirm = [&] {
        facts::ItemNoted f;
        f.item = item;
        f.how = ItemHow::confirmed;
        out.note = EventKind::item_noted;
        out.facts = f;
        out.label = joined({name(item), ": confirm"});
    };
    switch (item) {
    case Item::authorisation:
    case Item::second_checker: out.ask = EventKind::item_noted; break;
    case Item::baseline:
        out.note = EventKind::observed;
        out.facts = facts::Observed{CheckKind::baseline, 0, false, {}};
        out.label = "Baseline observations taken";
        break;
    case Item::overload_risk:
    case Item::can_report:
        out.ask = EventKind::recipient_told;
        out.label = action(EventKind::recipient_told);
        break;
    case Item::plan_fits:
        if (live().reckoning.missing.weight) {
            out.ask = EventKind::recipient_told;
            out.label = action(EventKind::recipient_told);
        } else if (tab_ == Tab::ready) {
            out.label.clear(); // what can be done about it stands with the verdict
        } else {
            out.go = Tab::ready;
        }
        break;
    case Item::match: out.go = Tab::match; break;
    case Item::in_date: out.go = Tab::unit; break;
    case Item::groups: out.read = true; break;
    case Item::line_connected:
        out.note = EventKind::connected;
        out.label = action(EventKind::connected);
        break;
    case Item::sample:
    case Item::consent:
    case Item::premedication:
    case Item::access:
    case Item::set_and_saline:
    case Item::report_explained:
    case Item::bag_looked_at:
    case Item::only_saline:
    case Item::warmer_considered:
    case Item::rate_read_back: confirm(); break;
    }
}

bool Bedside::primary_for(const ToDo& todo, Primary& out) const {
    const auto touch = [&](EventKind kind, Facts facts = {}) {
        out.note = kind;
        out.facts = std::move(facts);
    };
    out.id = joined({"do.", code(todo.what)});
    out.label = to_do_text(todo, live().reckoning);
    out.due = todo.due;
    out.about.rate = todo.rate;
    switch (todo.what) {
    case Doing::decide:
    case Doing::stay:
    case Doing::ask_about_limit: return false; // said, and nothing that one touch does
    case Doing::enter_order: out.ask = EventKind::ordered; break;
    case Doing::get_ready: primary_for_item(*live().open_before_call, out); break;
    case Doing::call: touch(EventKind::requested); break;
    case Doing::wait_for_unit:
        if (desk_.rehearses()) { // the blood bank sends it by itself
            out.label.clear();
            out.question = "The bag is not here yet. Let the clock run.";
            return true;
        }
        out.ask = EventKind::issued;
        out.label = action(EventKind::issued);
        break;
    case Doing::match: out.go = Tab::match; break;
    case Doing::settle_groups: out.read = true; break;
    case Doing::prime:
        out.ask = EventKind::primed;
        out.label = action(EventKind::primed);
        break;
    case Doing::hang:
        touch(EventKind::spiked);
        out.label = action(EventKind::spiked);
        break;
    case Doing::connect:
        touch(EventKind::connected);
        out.label = action(EventKind::connected);
        break;
    case Doing::settle_open: primary_for_item(*live().open_before_start, out); break;
    case Doing::start: out.ask = EventKind::started; break;
    case Doing::observe: {
        if (todo.check < 0) { // after a suspected reaction, as often as these rules say
            touch(EventKind::observed, facts::Observed{CheckKind::interval, 0, true, {}});
            break;
        }
        const Check& check = live().reckoning.checks[static_cast<std::size_t>(todo.check)];
        // Before the minute at which it counts it is a set between the checks, and the check stays.
        const bool counts = now_ >= check.counts_from;
        touch(EventKind::observed, facts::Observed{check.kind, check.index, !counts, {}});
        if (!todo.due)
            out.label += joined({", at ", clock_text(check.due, day_)});
        if (!counts)
            out.question = joined({"It counts from ", clock_text(check.counts_from, day_), " on."});
        break;
    }
    case Doing::raise_rate: out.ask = EventKind::rate_set; break;
    case Doing::go_on:
        out.ask = EventKind::resumed;
        if (session().pause_reason == PauseReason::symptoms)
            out.question = sentence(Refusal::needs_decision);
        break;
    case Doing::look_at_end:
        touch(EventKind::bag_empty);
        out.label = action(EventKind::bag_empty);
        break;
    case Doing::clear_line:
        touch(EventKind::clearing_begun);
        out.label = action(EventKind::clearing_begun);
        break;
    case Doing::end:
        // Before its time it is asked about: what the rates still have to come stands there.
        if (todo.due)
            touch(EventKind::all_in);
        else
            out.ask = EventKind::all_in;
        out.label = action(EventKind::all_in);
        break;
    case Doing::dispose:
        if (session().match.standing == MatchStanding::differed || session().state.run.flows.empty())
            out.ask = EventKind::returned, out.label = action(EventKind::returned);
        else if (session().state.run.stopped)
            out.ask = EventKind::returned, out.label = action(EventKind::returned);
        else
            touch(EventKind::bag_kept), out.label = action(EventKind::bag_kept);
        break;
    case Doing::chart: {
        facts::Numbers all;
        for (const Event& e : case_->log.events()) {
            const auto n = static_cast<std::size_t>(e.number);
            const bool open = n < session().to_chart.size() && session().to_chart[n] &&
                              !(n < session().is_charted.size() && session().is_charted[n]);
            if (open && !case_->log.is_void(e.number))
                all.of.push_back(e.number);
        }
        if (tab_ != Tab::finish) {
            out.go = Tab::finish;
        } else {
            touch(EventKind::charted, std::move(all));
            out.label = action(EventKind::charted);
        }
        break;
    }
    case Doing::hold_and_ask:
        if (tab_ == Tab::signs)
            return false; // it stands there already
        out.go = Tab::signs;
        break;
    case Doing::stop: out.ask = EventKind::stopped; break;
    case Doing::react:
        out.go = Tab::reaction; // the list stands there, each action to be ticked
        break;
    case Doing::finished:
        out.leave = true;
        out.label = "Nothing more to do: to the sessions";
        break;
    }
    if (desk_.rehearses() && out.leave)
        out.label = "Nothing more to do: to the menu";
    if (!todo.due && todo.what != Doing::observe && !out.label.empty())
        out.label += joined({", at ", clock_text(todo.at, day_)});
    return true;
}

Bedside::Primary Bedside::primary() const {
    // There is one thing to do on a screen: where stopping is offered it is that.
    if ((tab_ == Tab::reaction && !session().reaction) || (tab_ == Tab::signs && signs_.offers_to_stop()))
        return {};
    if (matching())
        return {}; // the match has buttons of its own
    for (const ToDo& todo : live().to_do) {
        Primary out;
        if (!primary_for(todo, out))
            continue;
        // What is read before the match has buttons of its own on the match's screen.
        if ((out.go == Tab::match || out.read) && tab_ == Tab::match)
            return {};
        if (out.go == tab_)
            out.go.reset(), out.label.clear();
        if (todo.latest && out.question.empty() && *todo.latest > now_)
            out.question = joined({clock_text(*todo.latest, day_), " at the latest, ",
                                   minutes_left_text(*todo.latest - now_), " left."});
        return out;
    }
    return {};
}

} // namespace hangtime::screens
