#include "web/widgets/practice_band.hpp"

#include <imgui.h>

namespace hangtime::ui {

void practice_band(Ui& ui, Box box) {
    ImDrawList* draw = ui.draw();
    const Palette& p = ui.palette();
    draw->AddRectFilled({box.x, box.y}, {box.right(), box.bottom()}, p.sunk);
    draw->PushClipRect({box.x, box.y}, {box.right(), box.bottom()}, true);
    const float step = ui.px(20), width = ui.px(10), lean = box.h;
    for (float x = box.x - lean; x < box.right(); x += step)
        draw->AddQuadFilled({x + lean, box.y}, {x + lean + width, box.y}, {x + width, box.bottom()}, {x, box.bottom()}, p.ink);
    draw->PopClipRect();
}

} // namespace hangtime::ui
