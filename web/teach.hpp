#pragma once

/// The screens of the review and of a class, on their way between the App and the platform's files.

#include "web/screens/class_view.hpp"
#include "web/screens/review_view.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace hangtime {

class Teach {
public:
    explicit Teach(const desk::Desk& desk) : review_(desk) {}

    enum class Shown : std::uint8_t { review, a_class };
    void enter(Shown shown);
    void build(ui::Ui& ui, const std::string& reminder);
    /// Asks for the next files; once a picture.
    void tick() { view().work(); }

    void files_chosen(int count) { view().files_chosen(count); }
    void file_read(platform::FileOutcome outcome, std::string_view text) { view().file_read(outcome, text); }
    void cleared();

    screens::PageWishes take_wishes() { return view().take_wishes(); }
    std::optional<sheet::Document> document() { return view().document(); }
    std::string_view title() { return view().page_title(); }
    screens::ReviewView& review() { return review_; }
    screens::ClassView& a_class() { return class_; }

private:
    screens::TeachView& view();

    Shown shown_ = Shown::review;
    screens::ReviewView review_;
    screens::ClassView class_;
};

} // namespace hangtime
