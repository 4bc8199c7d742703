#include "web/teach.hpp"

namespace hangtime {

// One reads files at a time.
void Teach::enter(Shown shown) {
    if (shown != shown_) {
        review_.stop();
        class_.stop();
    }
    shown_ = shown;
}

void Teach::build(ui::Ui& ui, const std::string& reminder) {
    ui.set_editing(false);
    const ui::Box area = ui.screen().inset(ui.px(12), ui.px(6));
    if (shown_ == Shown::review) {
        review_.remind(reminder);
        review_.build(ui, area);
    } else {
        class_.remind(reminder);
        class_.build(ui, area);
    }
}

void Teach::tick() {
    if (shown_ == Shown::review)
        review_.work();
    else
        class_.work();
}

void Teach::files_chosen(int count) {
    if (shown_ == Shown::review)
        review_.files_chosen(count);
    else
        class_.files_chosen(count);
}

void Teach::file_read(platform::FileOutcome outcome, std::string_view text) {
    if (shown_ == Shown::review)
        review_.file_read(outcome, text);
    else
        class_.file_read(outcome, text);
}

void Teach::cleared() {
    review_.cleared();
    class_.cleared();
}

Teach::Wishes Teach::take_wishes() {
    if (shown_ == Shown::review) {
        const auto w = review_.take_wishes();
        return {w.back, w.print, w.night};
    }
    const auto w = class_.take_wishes();
    return {w.back, w.print, w.night};
}

std::optional<sheet::Document> Teach::document() const {
    return shown_ == Shown::review ? review_.document() : class_.document();
}

std::string_view Teach::title() const { return shown_ == Shown::review ? "Hangtime: review" : "Hangtime: a class"; }

} // namespace hangtime
