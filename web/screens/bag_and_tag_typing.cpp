#include "core/match/label_shapes.hpp"
#include "core/words/match_words.hpp"
#include "web/input/wipe.hpp"
#include "web/screens/bag_and_tag.hpp"
#include "web/screens/match_parts.hpp"
#include "web/widgets/controls.hpp"

/// What is printed on the label, typed sign by sign: the number with its check character, the product code,
/// the expiry; and the group, chosen.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Typed;
using ui::Ui;

namespace {

constexpr std::size_t number_signs = 14, product_signs = 8, expiry_digits = 10, expiry_day_digits = 6;

bool in_typed_number(char c, std::size_t at) {
    return at < 13 ? label_shapes::may_stand_in_number(c, at)
                   : at == 13 && label_shapes::character_value(c).has_value();
}
bool in_product(char c, std::size_t at) {
    return label_shapes::may_stand_in_product(c, at);
}
bool in_expiry(char c, std::size_t) {
    return label_shapes::is_digit(c);
}

// As it is printed, with a low line where the next signs go.
std::string spaced(std::string_view typed, std::string_view pattern) {
    std::string out;
    std::size_t n = 0;
    for (const char c : pattern) {
        if (c != '#')
            out += c;
        else
            out += n < typed.size() ? typed[n] : '_', ++n;
    }
    return out;
}

int number_at(std::string_view digits, std::size_t at) {
    return (digits[at] - '0') * 10 + digits[at + 1] - '0';
}

} // namespace

void BagAndTag::type(Ui& ui, Typing what) {
    form_.close(ui);
    typed_said_.clear();
    typing_ = what;
    switch (what) {
    case Typing::number:
        signs_.start(in_typed_number, number_signs, true);
        break;
    case Typing::product:
        signs_.start(in_product, product_signs, true);
        break;
    case Typing::expiry:
        signs_.start(in_expiry, expiry_digits, false);
        break;
    case Typing::group:
    case Typing::nothing:
        signs_.clear();
        break;
    }
    ui.change_screen();
}

void BagAndTag::stop_typing(Ui& ui) {
    typing_ = Typing::nothing;
    typed_said_.clear();
    signs_.clear();
    ui.change_screen();
}

void BagAndTag::typed(Ui& ui) {
    LabelData data;
    const std::string_view text = signs_.view();
    switch (typing_) {
    case Typing::number: {
        const TypedNumber read = read_typed_number(text);
        if (!read.number) {
            typed_said_ = std::string(sentence(read.reason));
            return;
        }
        data.number = read.number;
        data.number_checked = true;
        break;
    }
    case Typing::product: {
        const TypedProduct read = read_typed_product(text);
        if (!read.product) {
            typed_said_ = "Type all eight signs of the product code, the division with it.";
            return;
        }
        data.product = read.product;
        break;
    }
    case Typing::expiry: {
        if (text.size() != expiry_digits && text.size() != expiry_day_digits) {
            typed_said_ = "Six digits for the day, and four more where the label states a time.";
            return;
        }
        std::optional<HourMinute> time;
        if (text.size() == expiry_digits)
            time = HourMinute{number_at(text, 6), number_at(text, 8)};
        data.expiry = label_time(2000 + number_at(text, 0), number_at(text, 2), number_at(text, 4), time);
        if (!data.expiry) {
            typed_said_ = "The calendar has no such day, or the day no such time.";
            return;
        }
        break;
    }
    case Typing::group:
    case Typing::nothing:
        return;
    }
    take(data, side_);
    input::wipe(data);
    stop_typing(ui);
}

float BagAndTag::dock_height(const Ui& ui, float width) const {
    if (typing_ == Typing::nothing)
        return form_.dock_height(ui, width);
    const float head = ui.line_height(Face::body) + ui.px(8);
    if (typing_ == Typing::group)
        return head + 4 * ui.px(ui::row_px + ui::gap_px);
    return head + ui::code_pad_height(ui, width, signs_.letters()) + 3 * ui.line_height(Face::body);
}

void BagAndTag::dock(Ui& ui, Box box) {
    if (typing_ == Typing::nothing) {
        form_.dock(ui, box);
        return;
    }
    const std::string_view what =
        typing_ == Typing::number    ? "Donation number with the check character in its box"
        : typing_ == Typing::product ? "Product code with its division"
        : typing_ == Typing::group   ? "Group of the unit"
                                     : "Expiry: year, month, day; then the time, if one is stated";
    const std::string title = with_capital(name_of(side_)) + ": " + std::string(what);
    box.cut_top(ui::paragraph(ui, "code.title", box, title), ui.px(8));
    if (typing_ == Typing::group) {
        for (const platform::Event& e : ui.keys())
            if (e.key == platform::Key::escape) {
                stop_typing(ui);
                return;
            }
        Box line{};
        for (int i = 0; i < 2 * abo_count; ++i) {
            if (i % 2 == 0)
                line = box.cut_top(ui.px(ui::row_px), ui.px(ui::gap_px));
            const LabelGroup group = label_group(static_cast<Abo>(i / 2), static_cast<Rhd>(i % 2));
            if (ui::choice(ui, ui.id("choice.", i), line.cell(2, 1, i % 2, 0, ui.px(ui::gap_px)),
                           group_text(group.abo, group.rhd), unit_of(side_).group == group)) {
                LabelData data;
                data.group = group;
                take(data, side_);
                stop_typing(ui);
                return;
            }
        }
        return;
    }
    if (!typed_said_.empty())
        box.cut_top(ui::caution(ui, "code.refused", box, "", typed_said_), ui.px(8));
    std::string shown = spaced(signs_.view(), typing_ == Typing::number    ? "##### ## ###### [#]"
                                              : typing_ == Typing::product ? "##### # ##"
                                                                           : "20##-##-## ##:##");
    const Typed did = ui::code_pad(ui, box, signs_, shown, "Done");
    input::wipe_bytes(shown.data(), shown.size());
    if (did == Typed::changed)
        typed_said_.clear();
    if (did == Typed::cancelled)
        stop_typing(ui);
    if (did == Typed::done)
        typed(ui);
}

} // namespace hangtime::screens
