#pragma once

/// What the screens of the review and of a class are made of: files, any number of them, are chosen on one side and read a
/// few at a time, what they come to stands on the other; a table for the spreadsheet, and a sheet.

#include "core/sheet/document.hpp"
#include "web/screens/many_files.hpp"
#include "web/screens/page_wishes.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace hangtime::screens {

class TeachView {
public:
    TeachView(const TeachView&) = delete;
    TeachView& operator=(const TeachView&) = delete;

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

    using Wishes = PageWishes;
    Wishes take_wishes();

    /// The printed sheet; none before something was counted.
    virtual std::optional<sheet::Document> document() const = 0;
    virtual std::string_view page_title() const = 0;

protected:
    /// The words in which the two differ. They must stay.
    struct Words {
        std::string_view id, title;
        std::string_view files;   // "result files"
        std::string_view reading; // "Reading results"
        std::string_view intro;   // before anything was read
    };
    TeachView(const Words& words, ManyFiles::Take take) : words_(words), files_(std::move(take)) {}
    ~TeachView() = default;

    virtual bool any() const = 0; // something was counted
    /// Another source than files; returns its height.
    virtual float other_source(ui::Ui&, ui::Box) { return 0; }
    /// What is said beneath the sources.
    virtual float told(ui::Ui&, ui::Box) { return 0; }
    /// Which part of what was counted is shown.
    virtual float parts(ui::Ui& ui, ui::Box box) = 0;
    virtual float figures(ui::Ui& ui, ui::Box box) = 0;
    virtual void save() = 0; // the table
    /// Begins again; also of the files, by `files_`.
    virtual void forget() = 0;
    std::string_view id(ui::Ui& ui, std::string_view part) const;

    ManyFiles& files() { return files_; }
    const ManyFiles& files() const { return files_; }

private:
    void header(ui::Ui& ui, ui::Box box);
    float side(ui::Ui& ui, ui::Box box);
    float sources(ui::Ui& ui, ui::Box box);
    float left_out(ui::Ui& ui, ui::Box box);

    Words words_;
    ManyFiles files_;
    std::string reminder_;
    Wishes wishes_;
};

} // namespace hangtime::screens
