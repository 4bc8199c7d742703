#include "core/words/words.hpp"
#include "web/screens/plan.hpp"

/// The verdict in words: whether it fits, what has to be known first, and if it does not fit, whom to ask.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;


void Plan::tell_verdict() {
    const Reckoning& r = reckoning_;
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
    told_ = told_of(r, day_);
}

float Plan::verdict_height(Ui& ui, float width) { return told_height(ui, told_, width); }

void Plan::say_verdict(Ui& ui, Box box) {
    ui::verdict(ui, "verdict", box, told_.seal, told_.title, told_.detail);
}

} // namespace hangtime::screens
