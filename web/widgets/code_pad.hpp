#pragma once

/// What is printed on a label, typed sign by sign where it cannot be scanned: capitals and digits on keys
/// that are drawn, or on a keyboard. At each place only the signs that may stand there are taken, and nothing
/// is folded: a small letter is no capital, and the letter O is not the digit 0.

#include "web/widgets/keypad.hpp"

#include <array>
#include <cstdint>
#include <string_view>

namespace hangtime::ui {

/// Signs while they are typed. They stand here and nowhere else, so that they can be overwritten.
class Signs {
public:
    static constexpr std::size_t most = 16;
    using MayStand = bool (*)(char sign, std::size_t at);

    /// `whole`: how many there are, at most 16.
    void start(MayStand may_stand, std::size_t whole, bool letters);
    std::string_view view() const { return {text_.data(), size_}; }
    std::size_t whole() const { return whole_; }
    bool letters() const { return letters_; }
    bool accepts(char sign) const;
    bool type(char sign); // false: not accepted
    void remove_last();
    void clear(); // overwrites them

private:
    std::array<char, most> text_{};
    std::uint8_t size_ = 0, whole_ = 0;
    bool letters_ = true;
    MayStand may_stand_ = nullptr;
};

/// The keys. `shown` is how far it has come, as it is printed. `Typed::now` never comes.
Typed code_pad(Ui& ui, Box box, Signs& signs, std::string_view shown, std::string_view done_label);
float code_pad_height(const Ui& ui, float width, bool letters);

} // namespace hangtime::ui
