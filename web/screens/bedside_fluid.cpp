#include "core/report/fluid_total.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/bedside.hpp"
#include "web/screens/signs_view.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>
#include <string>
#include <vector>

/// What all of it adds up to against the weight; and, once it has ended, how long the empty bag is kept and late symptoms
/// are to be reported.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

float Bedside::fluid(Ui& ui, Box box) {
    const Session& s = session();
    if (s.state.run.flows.empty())
        return 0;
    const float top = box.y, gap = ui.px(ui::gap_px);
    const std::vector<FluidBeside> beside = desk_.beside(*case_);
    const FluidTotal total = fluid_total(s, live(), beside);
    ui::subheading(ui, "fluid", box.cut_top(ui.line_height(Face::small), ui.px(4)), "All fluid into the person");
    box.cut_top(ui::paragraph(ui, "fluid.total", box,
                              joined({fluid_text(total), total.since ? joined({", since ", clock_text(*total.since, day_)}) : std::string()})),
                ui.px(4));
    box.cut_top(ui::paragraph(ui, "fluid.parts", box, joined({fluid_parts_text(total.all), "."}), Face::small, true), ui.px(4));
    int n = 0;
    for (const std::string& counted : total.counted)
        box.cut_top(ui::paragraph(ui, ui.id("fluid.counted.", n++), box, counted, Face::small, true), ui.px(4));
    n = 0;
    for (const std::string& not_known : total.not_known)
        box.cut_top(ui::paragraph(ui, ui.id("fluid.not_known.", n++), box, not_known, Face::small, true), ui.px(4));
    box.cut_top(gap - ui.px(4));
    const bool writes = desk_.store().may_write() && !case_->read_only();
    const auto row = [&] {
        Box line = box.cut_top(ui.px(ui::row_px), gap);
        line.w = std::min(line.w, ui.px(340));
        return line;
    };
    if (ui::button(ui, "fluid.other", row(), "Fluid through other lines ...", ui::Look::plain, writes)) {
        ask(ui, EventKind::other_fluid);
        return box.y - top;
    }
    if (!s.state.run.ended)
        return box.y - top;
    const ReactionRules& rules = s.protocol->reaction;
    const std::string keep = clock_text(keep_bag_until(rules, *s.state.run.ended), day_);
    const std::string late = clock_text(report_late_until(rules, *s.state.run.ended), day_);
    box.cut_top(ui::paragraph(ui, "fluid.keep_bag", box,
                              joined({"Keep the empty bag until ", keep, " (", basis_text(*s.protocol, rules.keep_bag.basis), ")."})),
                ui.px(4));
    box.cut_top(ui::paragraph(ui, "fluid.late", box,
                              joined({"Late symptoms are to be reported until ", late, " (",
                                      basis_text(*s.protocol, rules.late_symptoms.basis), "). Whoever goes home gets the slip."})),
                gap);
    if (ui::button(ui, "fluid.slip", row(), "Print the slip about late symptoms"))
        wishes_.slip = true;
    return box.y - top;
}

} // namespace hangtime::screens
