#pragma once

/// A rehearsal changed in a form: its numbers, the person, when each thing happens and what is scored, and which of these
/// are left out; checked as they are entered by what checks files, then played, or saved as a file for a text editor.
/// What a happening waits for, signs and texts are written in the file: there is no free text in the page.

#include "web/rehearse/library.hpp"
#include "web/screens/form.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtime::screens {

class RehearseAuthor {
public:
    explicit RehearseAuthor(const rehearse::Library& library) : library_(library) {}

    void open(Scenario scenario);
    void build(ui::Ui& ui, ui::Box area);

    struct Wishes {
        bool back = false, night = false;
        rehearse::Shared play;
    };
    Wishes take_wishes();
    /// As it stands, without what is left out.
    Scenario edited() const;
    const Protocol* rules() const { return scenario_.rules.get(); }
    const std::optional<Error>& error() const { return error_; }

private:
    enum class Part : std::uint8_t { frame, person, happenings, scored };
    static constexpr int part_count = 4;

    void load();
    void load_frame();
    void load_person();
    void load_happenings();
    void load_scored();
    void store();
    void store_frame();
    void store_person();
    void store_happenings();
    void store_scored();
    void check();
    std::string error_text() const;

    const rehearse::Library& library_;
    Scenario scenario_; // also what is left out, so that it can come back
    std::vector<bool> happens_, scored_; // along its happenings and its scored items
    rehearse::Shared checked_; // as it stands; null where something is wrong
    std::optional<Error> error_;
    Part part_ = Part::frame;
    Form form_;
    std::string message_;
    Wishes wishes_;
};

} // namespace hangtime::screens
