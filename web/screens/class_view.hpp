#pragma once

/// A class on screen: the saved results of a rehearsal, any number of them, and what they come to together. Nothing says
/// whose a result is.

#include "core/rehearse/class.hpp"
#include "core/sheet/document.hpp"
#include "web/screens/many_files.hpp"
#include "web/widgets/ui.hpp"

#include <optional>

namespace hangtime::screens {

class ClassView {
public:
    ClassView() = default;
    ClassView(const ClassView&) = delete;
    ClassView& operator=(const ClassView&) = delete;

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
    void cleared();
    /// A reminder of a real session; empty: none.
    void remind(std::string text) { reminder_ = std::move(text); }

    struct Wishes {
        bool back = false, print = false, night = false;
    };
    Wishes take_wishes();

    /// The printed sheet; none before something was read.
    std::optional<sheet::Document> document() const;
    const ClassSummary& summary() const { return summary_; }

private:
    float sources(ui::Ui& ui, ui::Box box);
    float figures(ui::Ui& ui, ui::Box box);

    ClassSummary summary_;
    ManyFiles files_{[this](std::string_view text) { return summary_.add_file(text); }};
    std::size_t case_ = 0;
    std::string reminder_;
    Wishes wishes_;
};

} // namespace hangtime::screens
