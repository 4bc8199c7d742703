#include "web/teach.hpp"

namespace hangtime {

screens::TeachView& Teach::view() {
    if (shown_ == Shown::review)
        return review_;
    return class_;
}

// One reads files at a time.
void Teach::enter(Shown shown) {
    if (shown != shown_)
        view().stop();
    shown_ = shown;
}

void Teach::build(ui::Ui& ui, const std::string& reminder) {
    ui.set_editing(false);
    view().remind(reminder);
    view().build(ui, ui.screen().inset(ui.px(12), ui.px(6)));
}

void Teach::cleared() {
    review_.cleared();
    class_.cleared();
}

} // namespace hangtime
