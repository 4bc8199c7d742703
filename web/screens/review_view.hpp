#pragma once

/// The review of past sessions on screen: logs from files, any number of them, and the sessions of this machine; what
/// they come to by component and protocol, with nothing below a floor.

#include "core/rehearse/review_told.hpp"
#include "core/sheet/document.hpp"
#include "web/desk/desk.hpp"
#include "web/screens/many_files.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>

namespace hangtime::screens {

class ReviewView {
public:
    explicit ReviewView(const desk::Desk& desk) : desk_(desk) {}
    ReviewView(const ReviewView&) = delete;
    ReviewView& operator=(const ReviewView&) = delete;

    void build(ui::Ui& ui, ui::Box area);

    /// Asks for the next files. Call it once a picture.
    void work() { files_.go_on(); }

    /// What is still to be read is not.
    void stop() {
        if (files_.busy())
            files_.cancel();
    }
    void files_chosen(int count) { files_.chosen(count); }
    void file_read(platform::FileOutcome outcome, std::string_view text) { files_.read(outcome, text); }
    /// What was counted is of this machine as well.
    void cleared() { forget(); }
    /// A reminder of a real session; empty: none.
    void remind(std::string text) { reminder_ = std::move(text); }

    struct Wishes {
        bool back = false, print = false, night = false;
    };
    Wishes take_wishes();

    /// The printed sheet; none before something was counted.
    std::optional<sheet::Document> document() const;
    const Review& review() const { return review_; }

private:
    void header(ui::Ui& ui, ui::Box box);
    float sources(ui::Ui& ui, ui::Box box);
    float groups(ui::Ui& ui, ui::Box box);
    float figures(ui::Ui& ui, ui::Box box);
    float left_out(ui::Ui& ui, ui::Box box);
    float reasons(ui::Ui& ui, ui::Box box, std::string_view id, std::string_view title, const ToldReasons& told, bool pauses);
    void add_sessions_here();
    void tell();
    void forget();
    const ToldGroup& shown() const;

    const desk::Desk& desk_;
    Review review_;
    ManyFiles files_{[this](std::string_view text) { return review_.add_file(text); }};
    int here_ = 0;               // sessions of this machine that are counted
    std::int32_t floor_ = usual_floor;
    int group_ = -1;             // of those that are told; -1: all together
    ReviewTold told_;
    std::int32_t told_sessions_ = -1; // of what `told_` was made
    Wishes wishes_;
    std::string message_, reminder_;
};

} // namespace hangtime::screens
