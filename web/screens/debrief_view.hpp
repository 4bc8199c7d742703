#pragma once

/// What came of a rehearsal: its debrief as a picture and as a sheet, kept while the page is open, saved as a file
/// that holds no name, and two of them side by side.

#include "core/rehearse/debrief_file.hpp"
#include "core/rehearse/score.hpp"
#include "core/sheet/document.hpp"
#include "web/rehearse/library.hpp"
#include "web/screens/form.hpp"
#include "web/widgets/ui.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace hangtime::screens {

class DebriefView {
public:
    /// Of a rehearsal that has ended; it is shown.
    void add(const Rehearsal& rehearsal, rehearse::Shared scenario);
    /// Out of a file. The first thing that is wrong with it.
    std::optional<Error> open(std::string_view text, const rehearse::Library& library);
    void show_list() { mode_ = Mode::list; }
    bool empty() const { return attempts_.empty(); }

    void build(ui::Ui& ui, ui::Box area);
    /// What would be printed of what is shown; none: nothing.
    std::optional<sheet::Document> document() const;

    /// Of the attempt that is shown; null: of none, or it came from a file.
    const Protocol* rules() const;

    struct Wishes {
        bool back = false, night = false, print = false, open_file = false;
        rehearse::Shared again; // the same case once more
        std::int32_t seed = 0;
    };
    Wishes take_wishes();
    void say(std::string text) { message_ = std::move(text); }

private:
    enum class Mode : std::uint8_t { list, one, two };
    struct Attempt {
        SavedDebrief saved;
        sheet::Document sheet;
        std::string title, file;       // the text that is saved; empty where it came from a file
        rehearse::Shared scenario;     // null where it came from a file
        std::int32_t seed = 0;
        std::vector<UnitEnd> ends;     // for the picture
        std::vector<std::unique_ptr<Live>> live;
    };

    void list(ui::Ui& ui, ui::Box area);
    void one(ui::Ui& ui, ui::Box area);
    void two(ui::Ui& ui, ui::Box area);
    void picture(ui::Ui& ui, ui::Box box, const Attempt& attempt);
    std::string line_of(std::size_t i) const;

    std::vector<Attempt> attempts_;
    Mode mode_ = Mode::list;
    std::size_t shown_ = 0;
    std::vector<std::size_t> picked_;
    sheet::Document compared_;
    std::string message_;
    Wishes wishes_;
};

} // namespace hangtime::screens
