#include "core/plan/plan_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/plan.hpp"

#include <algorithm>

/// The verdict in words: whether it fits, what has to be known first, and if it does not fit, whom to ask.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

// What holds up goes first, then what the person's first millilitres depend on (hazard 9).
bool goes_before(const Warned& a, const Warned& b) {
    const auto rank = [](const Warned& w) {
        if (w.severity == Severity::stop)
            return 0;
        const bool saline =
            w.code == Warning::component_after_slow_stage || w.code == Warning::early_check_before_component;
        return saline ? 1 : 2;
    };
    return rank(a) < rank(b);
}

} // namespace

void Plan::tell_verdict() {
    const Reckoning& r = reckoning_;
    const Judgement& j = r.judgement;
    told_ = {};
    if (entries_.not_covered()) {
        told_.seal = ui::Seal::broken;
        told_.title = name(*entries_.not_covered());
        told_.detail = not_covered_sentence();
        return;
    }
    if (!r.planned) {
        const State& s = entries_.state();
        const char* wanted = !s.unit.component  ? "Choose the component"
                             : !s.unit.bag      ? "Enter the volume on the label"
                             : !s.times.issued  ? "Enter when the bag was issued"
                             : !s.times.start   ? "Enter when it will start"
                             : r.missing.weight ? "Enter the weight: these rules need it"
                                                : "Enter what is missing";
        told_.title = wanted;
        told_.detail = r.finish_by ? "What can be told already stands below." : "Four entries give the plan.";
        return;
    }
    const auto reasons = [&] {
        for (const Reason reason : j.reasons) {
            if (!told_.detail.empty() && told_.detail.back() != '\n')
                told_.detail.append(" ");
            told_.detail.append(sentence(reason));
        }
    };
    // Cautions stand far below on a small screen: how many there are is part of the verdict, and so is the first.
    int cautions = 0;
    std::string first_caution;
    const Warned* first = nullptr;
    for (const Warned& w : r.warnings) {
        if (w.severity == Severity::note)
            continue;
        ++cautions;
        if (first == nullptr || goes_before(w, *first))
            first = &w;
    }
    if (first != nullptr)
        first_caution = warning_text(first->code, first->figures, day_) +
                        (cautions > 2 ? " The others stand below." : cautions > 1 ? " The other one stands below." : "") +
                        "\n";
    const bool holds = first != nullptr && first->severity == Severity::stop;
    const std::string with_cautions =
        "with " + (cautions == 1 ? std::string("1 caution") : dose_number(cautions, 1, 0) + " cautions");
    switch (j.verdict) {
    case Verdict::fits:
        told_.seal = cautions > 0 ? ui::Seal::noted : ui::Seal::whole;
        told_.title = holds          ? "Hold and ask. The times fit."
                      : cautions > 0 ? "Fits, " + with_cautions
                                     : "Fits.";
        told_.detail = first_caution;
        if (r.finish_by) {
            told_.detail += "All in at " + clock_text(r.all_in, day_) + ", " +
                           minutes_left_text(*r.finish_by - r.all_in) + " before the limit at " +
                           clock_text(*r.finish_by, day_) + ".";
        }
        break;
    case Verdict::fits_without_reserve:
        told_.seal = ui::Seal::thin;
        told_.title = name(j.verdict);
        if (holds)
            told_.title = "Hold and ask. " + told_.title;
        else if (cautions > 0)
            told_.title += ", and " + with_cautions;
        told_.detail = first_caution;
        reasons();
        break;
    case Verdict::does_not_fit:
        told_.seal = ui::Seal::broken;
        told_.title = name(j.verdict);
        if (j.would_be_left.units > 0)
            told_.title += ": " + volume_text(j.can_give, Rounding::down) + " can be given, " +
                           volume_text(j.would_be_left, Rounding::up) + " would be left";
        for (const Advised& a : j.advice) {
            if (!told_.detail.empty())
                told_.detail.append(" ");
            told_.detail.append(advice_text(a.code, a.figures, day_));
        }
        if (told_.detail.empty())
            reasons();
        break;
    }
}

float Plan::verdict_height(Ui& ui, float width) {
    const float w = width - ui.px(32) - (told_.seal == ui::Seal::none ? 0 : ui.px(48));
    return std::max(ui.px(64), ui.px(20) + ui.text_height(Face::title, told_.title, w) + ui.px(2) +
                                   (told_.detail.empty() ? 0 : ui.text_height(Face::body, told_.detail, w)));
}

void Plan::say_verdict(Ui& ui, Box box) {
    ui::verdict(ui, "verdict", box, told_.seal, told_.title, told_.detail);
}

} // namespace hangtime::screens
