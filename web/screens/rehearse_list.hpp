#pragma once

/// The rehearsals to choose from: by a line of the list, by a case number that somebody else has given out, or from
/// a file.

#include "web/rehearse/library.hpp"
#include "web/screens/form.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>

namespace hangtime::screens {

class RehearseList {
public:
    explicit RehearseList(const rehearse::Library& library) : library_(library) {}

    struct Shown {
        bool may_write = true;   // another window writes on the shelf otherwise
        std::string_view store;  // what is to be said about the store; empty: nothing
        bool interrupted = false; // one was under way when the page was closed
        rehearse::Shared kept;    // which one, with its seed; null: it cannot be gone on with
        bool results = false;    // there are attempts to look at
    };
    void build(ui::Ui& ui, ui::Box area, const Shown& shown);

    struct Wishes {
        bool back = false, night = false, open_file = false, results = false, take_over = false, go_on = false, give_up = false;
        rehearse::Shared start, change, sheet; // one of them at most
        std::int32_t seed = 0;
        bool cards = false; // of the sheet: the practice cards of this case
    };
    Wishes take_wishes();

    void say(std::string text) { message_ = std::move(text); }
    /// A rehearsal out of a file: it stands first, and is opened.
    void add(rehearse::Shared own);
    const rehearse::Shared& own() const { return own_; }

private:
    void case_number(ui::Ui& ui, ui::Box area);
    float interrupted(ui::Ui& ui, ui::Box box, const rehearse::Shared& kept);
    float row(ui::Ui& ui, ui::Box box, const rehearse::Shared& one, std::string_view id, const Shown& shown);

    const rehearse::Library& library_;
    rehearse::Shared own_;
    std::string open_;    // the line that is opened
    std::string message_;
    bool asks_case_ = false;
    Form form_;
    Wishes wishes_;
};

} // namespace hangtime::screens
