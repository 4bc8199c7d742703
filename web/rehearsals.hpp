#pragma once

/// All that lies behind the door "Rehearse": the list, a rehearsal on the screens of a session with a desk, a shelf and
/// a clock of its own, its debrief, and changing one. App hands it the picture while it is shown.

#include "core/sheet/document.hpp"
#include "web/desk/desk.hpp"
#include "web/platform/platform.hpp"
#include "web/rehearse/library.hpp"
#include "web/rehearse/scene.hpp"
#include "web/screens/bedside.hpp"
#include "web/screens/debrief_view.hpp"
#include "web/screens/page_wishes.hpp"
#include "web/screens/practice_head.hpp"
#include "web/screens/practice_menu.hpp"
#include "web/screens/rehearse_author.hpp"
#include "web/screens/rehearse_list.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime {

class Rehearsals final : private platform::Keeper {
public:
    explicit Rehearsals(const std::vector<Protocol>& protocols) : protocols_(protocols) {}

    /// Through the door. Reads what the page carries and opens the shelf, once; what was played is gone on with. What was
    /// under way when the page was closed is offered by the list.
    void enter(ui::Ui& ui);
    /// A rehearsal made of a log, opened to be changed; why not, where none can be made of it.
    std::optional<Error> make_of(ui::Ui& ui, const Log& log);
    /// A file that was opened while this is shown: a rehearsal, a log, a saved result.
    void file_opened(ui::Ui& ui, platform::FileOutcome outcome, std::string_view text);
    /// Everything on this machine was cleared.
    void cleared();

    /// Nobody has looked for a while, hidden or asleep: what was read of bag and tag is overwritten.
    void forget_unseen();
    /// When that is to be asked, by the machine's clock; none: nothing is held.
    std::optional<Instant> forget_at() const;
    /// Before each picture: time passes.
    void tick(ui::Ui& ui);
    /// `reminder`: of a real session.
    void build(ui::Ui& ui, std::string_view reminder);

    struct Wishes {
        bool again = false; // the picture has to be made anew
        screens::PageWishes page;
    };
    Wishes do_wishes(ui::Ui& ui);

    /// What is printed of what is shown; it says that it is a rehearsal.
    std::optional<sheet::Document> document();
    std::string title() const;
    /// Those by which what is shown was worked out; null: by none.
    const Protocol* rules() const;
    /// Until something changes by itself; -1: nothing does.
    std::int64_t wake_ms() const;

    rehearse::Scene& scene() { return scene_; }
    desk::Desk& desk() { return desk_; }
    const rehearse::Library& library() const { return library_; }

private:
    enum class Place : std::uint8_t { list, play, menu, console, debrief, author };
    enum class Paper : std::uint8_t { sheet, report, slip };

    // What the shelf has to say: a log goes to the desk, what was kept of a course to the scene.
    void store_state(platform::StoreState state, bool writer) override { desk_.store_state(state, writer); }
    void record_found(std::string_view session, int n, std::string_view text) override;
    void records_complete() override { desk_.records_complete(); }
    void session_gone(std::string_view session) override { desk_.session_gone(session); }
    void stored(std::string_view session, int n, platform::Stored outcome) override { desk_.stored(session, n, outcome); }
    void removed(std::string_view session, platform::Stored outcome) override { desk_.store().removed(session, outcome); }

    void go(ui::Ui& ui, Place place);
    void look_at_kept();
    void go_on(ui::Ui& ui);
    void begin(ui::Ui& ui, rehearse::Shared scenario, std::int32_t seed);
    void finish(ui::Ui& ui);
    void reckon();
    bool look_for_console(ui::Ui& ui);
    bool do_list(ui::Ui& ui, Wishes& out);
    bool do_play(ui::Ui& ui, Wishes& out);
    bool do_menu(ui::Ui& ui, Wishes& out);
    bool do_debrief(ui::Ui& ui, Wishes& out);

    const std::vector<Protocol>& protocols_;
    desk::Desk desk_{protocols_, platform::Shelf::rehearsal};
    rehearse::Library library_;
    rehearse::Scene scene_{desk_};
    screens::Bedside bedside_{desk_};
    screens::RehearseList list_{library_};
    screens::RehearseAuthor author_{library_};
    screens::PracticeHead head_;
    screens::PracticeMenu menu_;
    screens::DebriefView debrief_;
    Place place_ = Place::list;
    Place before_console_ = Place::play;
    Paper paper_ = Paper::sheet;
    Instant looked_{}; // when the last picture was made, by the machine's clock
    bool opened_ = false, heard_ = false;
    bool paused_before_ = false; // before the menu or the console made the clock stand
    std::optional<std::int32_t> cards_; // the seed, where the practice cards are to be printed
    std::string kept_key_;        // of what was kept, when it was last looked at
    rehearse::Shared kept_;       // the scenario of it, with its seed; null: it cannot be gone on with
    rehearse::Shared sheet_;      // of which the teacher's sheet is to be printed
};

} // namespace hangtime
