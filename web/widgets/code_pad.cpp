#include "web/widgets/code_pad.hpp"

#include "web/input/wipe.hpp"
#include "web/widgets/typed_keys.hpp"

#include <algorithm>

namespace hangtime::ui {

namespace {

constexpr std::string_view digits = "1234567890";
constexpr std::string_view all = "1234567890ABCDEFGHIJKLMNOPQRSTUVWXYZ*";
constexpr float least_px = 44;

int columns_for(const Ui& ui, float width, bool letters) {
    if (!letters)
        return 5;
    const float gap = ui.px(gap_px);
    return width >= 10 * ui.px(least_px) + 9 * gap ? 10 : width >= 8 * ui.px(least_px) + 7 * gap ? 8 : 7;
}

int rows_for(int columns, bool letters) {
    const int keys = static_cast<int>(letters ? all.size() : digits.size());
    return (keys + columns - 1) / columns;
}

float shown_height(const Ui& ui) {
    return ui.line_height(Face::title) + ui.px(10);
}

} // namespace

void Signs::start(MayStand may_stand, std::size_t whole, bool letters) {
    clear();
    may_stand_ = may_stand;
    whole_ = static_cast<std::uint8_t>(std::min(whole, most));
    letters_ = letters;
}

bool Signs::accepts(char sign) const {
    return size_ < whole_ && may_stand_ != nullptr && may_stand_(sign, size_);
}

bool Signs::type(char sign) {
    if (!accepts(sign))
        return false;
    text_[size_++] = sign;
    return true;
}

void Signs::remove_last() {
    if (size_ > 0)
        text_[--size_] = '\0';
}

void Signs::clear() {
    input::wipe(text_);
    size_ = 0;
}

float code_pad_height(const Ui& ui, float width, bool letters) {
    const int rows = rows_for(columns_for(ui, width, letters), letters) + 1;
    return shown_height(ui) + static_cast<float>(rows) * ui.px(row_px) +
           static_cast<float>(rows - 1) * ui.px(gap_px);
}

Typed code_pad(Ui& ui, Box box, Signs& signs, std::string_view shown, std::string_view done_label) {
    const auto accepts = [&](char32_t c) { return c < 0x80 && signs.type(static_cast<char>(c)); };
    Typed result = typed_keys(ui, signs, accepts);
    const float gap = ui.px(gap_px);
    const Box line = box.cut_top(ui.line_height(Face::title), ui.px(10));
    ui.note({.id = "code.typed", .label = "Typed", .value = shown, .role = Role::text, .box = line});
    ui.put_text(line, Face::title, signs.view().empty() ? ui.palette().quiet : ui.palette().ink, shown);

    const std::string_view keys = signs.letters() ? all : digits;
    const int columns = columns_for(ui, box.w, signs.letters()),
              rows = rows_for(columns, signs.letters()) + 1;
    box.h = static_cast<float>(rows) * ui.px(row_px) + static_cast<float>(rows - 1) * gap;
    for (int i = 0; i < static_cast<int>(keys.size()); ++i) {
        const std::string_view sign = keys.substr(static_cast<std::size_t>(i), 1);
        if (button(ui, ui.id("code.", i), box.cell(columns, rows, i % columns, i / columns, gap), sign,
                   Look::key, signs.accepts(sign[0]), sign == "*" ? std::string_view("star") : sign))
            if (accepts(static_cast<unsigned char>(sign[0])))
                result = Typed::changed;
    }
    Box last = box.cell(1, rows, 0, rows - 1, gap);
    const Box done = last.cut_right(last.w * 0.4f, gap);
    if (take_back_keys(ui, last.cell(2, 1, 0, 0, gap), last.cell(2, 1, 1, 0, gap), signs, signs.view().empty(), "Delete the last sign"))
        result = Typed::changed;
    if (button(ui, "key.done", done, done_label, Look::primary))
        result = Typed::done;
    return result;
}

} // namespace hangtime::ui
