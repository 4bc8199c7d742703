#include "web/screens/device_lines.hpp"

#include "core/words/words.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <string>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

float device_lines(Ui& ui, Box box, std::string_view id, const DeviceEntry& entry) {
    const float top = box.y, gap = ui.px(4);
    const auto named = [&](std::string_view what) { return ui.keep(joined({id, what})); };
    ui::subheading(ui, ui.keep(std::string(id)), box.cut_top(ui.line_height(Face::small), gap), "To enter on the device");
    box.cut_top(ui::paragraph(ui, named(".volume"), box,
                              joined({"1. Volume to be infused: ", volume_text(entry.to_infuse)})),
                gap);
    box.cut_top(ui::paragraph(ui, named(".rate"), box, joined({"2. Rate: ", rate_text(entry.rate)})), gap);
    box.cut_top(ui::paragraph(ui, named(".duration"), box,
                              joined({"It then runs for ", span_text(entry.duration), "."}), Face::small, true),
                gap);
    if (entry.disagrees)
        box.cut_top(ui::caution(ui, named(".disagrees"), box, "Caution",
                                joined({"Enter the rate, not the duration. Told the duration, a device that divides what is "
                                        "left in the bag would run at ",
                                        ratio_text(exactly(entry.told_duration)), "."})),
                    gap);
    return box.y - top;
}

} // namespace hangtime::screens
