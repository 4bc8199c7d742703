#include "core/words/bedside_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/bedside.hpp"

#include <algorithm>

/// What is noted on the screens of one session, by one touch or out of an entry, and why it is not.

namespace hangtime::screens {

using ui::Box;
using ui::Ui;

RecordEntry::Context Bedside::context() const {
    std::vector<SpokenObject> others;
    for (const auto& other : desk_.cases())
        if (other.get() != case_ && !other->unreadable && !other->log.empty())
            others.push_back(other->session().object);
    return {*case_, *protocols_, std::move(others), now_, wall_, day_};
}

std::string Bedside::why(const desk::NotNoted& no) const {
    if (no.read_only)
        return "This session can only be read here: it is damaged, or another window writes.";
    std::string out(sentence(no.refusal.value_or(Refusal::not_opened)));
    if (no.refusal == Refusal::not_ready) {
        const auto& open = session().phase <= Phase::called ? live().open_before_call : live().open_before_start;
        if (open)
            out += joined({" First of it: ", name(*open), "."});
    }
    return out;
}

void Bedside::note(Ui& ui, EventKind kind, Facts facts) {
    const Phase before = session().phase;
    const auto no = desk_.note_now(*case_, kind, std::move(facts), machine_now_);
    said_ = no ? why(*no) : std::string();
    quiet_until_ms_ = platform::now_ms() + quiet_for_ms;
    if (!no && session().phase != before)
        go_to(ui, tab_of_now());
    ui.change_screen();
}

void Bedside::ask(Ui& ui, EventKind kind, const RecordEntry::About& about) {
    said_.clear();
    entry_.open(ui, kind, context(), about);
}

void Bedside::note_wishes(Ui& ui) {
    const auto wishes = entry_.take_wishes();
    if (wishes.empty())
        return;
    const Phase before = session().phase;
    const std::int32_t first = case_->log.next_number();
    for (const RecordEntry::Wish& w : wishes) {
        const auto no = desk_.note(*case_, w.kind, w.facts, w.at, machine_now_, w.replaces);
        if (!no)
            continue;
        entry_.refuse(why(*no), no->refusal);
        // Several records of one entry stand or fall together.
        facts::Numbers taken_back;
        for (std::int32_t n = first; n < case_->log.next_number(); ++n)
            taken_back.of.push_back(n);
        if (!taken_back.of.empty())
            desk_.note_now(*case_, EventKind::withdrawn, taken_back, machine_now_);
        return;
    }
    entry_.close(ui);
    quiet_until_ms_ = platform::now_ms() + quiet_for_ms;
    if (session().phase != before)
        go_to(ui, tab_of_now());
}

void Bedside::press(Ui& ui, const Primary& p) {
    if (p.leave)
        wishes_.front = true;
    else if (p.read)
        reading_.open(ui);
    else if (p.go)
        go_to(ui, *p.go);
    else if (p.ask)
        ask(ui, *p.ask, p.about);
    else if (p.note == EventKind::observed && desk_.seen(*case_))
        observe(ui, *std::get_if<facts::Observed>(&p.facts), p.label); // somebody has to look first
    else if (p.note)
        note(ui, *p.note, p.facts);
}

void Bedside::observe(Ui& ui, const facts::Observed& what, std::string title, const Event* old) {
    said_.clear();
    observed_ = what;
    observe_replaces_ = old ? old->number : 0;
    const auto unit = platform::load_setting("fahrenheit", 0) == 1 ? TemperatureUnit::fahrenheit : TemperatureUnit::celsius;
    observe_.open(ui, std::move(title), unit, old ? &what.set : nullptr, old ? std::optional(old->at.at) : std::nullopt);
}

void Bedside::observing(Ui& ui, Box body, Box foot) {
    const ObservedSet* baseline = observed_.kind == CheckKind::baseline ? nullptr : baseline_set(session());
    const std::optional<Observation> seen = desk_.seen(*case_);
    ui.announce(observe_.title());
    observe_.build(ui, body, foot, {now_, wall_, day_, baseline ? &baseline->set : nullptr, seen ? &*seen : nullptr});
    if (const auto unit = observe_.take_unit())
        platform::save_setting("fahrenheit", *unit == TemperatureUnit::fahrenheit ? 1 : 0);
    const auto taken = observe_.take();
    if (!taken)
        return;
    facts::Observed facts = observed_;
    facts.set = taken->set;
    const Stated at = taken->at ? Stated{*taken->at, Precision::minute} : Stated{now_, Precision::second};
    std::vector<std::int32_t> replaces;
    if (observe_replaces_ > 0)
        replaces.push_back(observe_replaces_);
    if (const auto no = desk_.note(*case_, EventKind::observed, facts, at, machine_now_, std::move(replaces))) {
        observe_.refuse(why(*no));
        return;
    }
    observe_.close(ui);
    quiet_until_ms_ = platform::now_ms() + quiet_for_ms;
    ui.change_screen();
    observed(ui, at.at);
}

} // namespace hangtime::screens
