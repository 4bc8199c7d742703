#pragma once

/// The program between the platform and the screens: start, input, frame; which screen is shown; and the platform's
/// word about the store, the clock and reminders on its way to the desk.

#include "core/protocol/protocol.hpp"
#include "web/desk/desk.hpp"
#include "web/platform/platform.hpp"
#include "web/render/renderer.hpp"
#include "web/screens/bedside.hpp"
#include "web/screens/doors.hpp"
#include "web/screens/front.hpp"
#include "web/screens/page_wishes.hpp"
#include "web/screens/plan.hpp"
#include "web/screens/round_view.hpp"
#include "web/screens/sequence_view.hpp"
#include "web/widgets/mirror.hpp"
#include "web/widgets/ui.hpp"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime {

class Rehearsals;
class Teach;
namespace screens {
class Workshop;
}

class App final : public platform::Guest {
public:
    App();
    ~App();

    void start() override;
    void frame() override;
    bool input(const platform::Event& event) override;
    void before_print() override;

    void store_state(platform::StoreState state, bool writer) override;
    void record_found(std::string_view session, int n, std::string_view text) override;
    void records_complete() override;
    void session_gone(std::string_view session) override;
    void stored(std::string_view session, int n, platform::Stored outcome) override;
    void removed(std::string_view session, platform::Stored outcome) override;
    void cleared(const platform::Left& left) override;
    void woken() override;
    void awake() override;
    void clock_jumped(Seconds by) override;
    void slept(Seconds by) override;
    void file_opened(platform::FileOutcome outcome, std::string_view text) override;
    void files_chosen(int count) override;
    void file_read(platform::FileOutcome outcome, std::string_view text) override;

    ui::Ui& ui() { return ui_; }
    const ui::Mirror& mirror() const { return mirror_; }
    const screens::Plan& plan() const { return *plan_; }
    desk::Desk& desk() { return desk_; }
    Rehearsals& rehearsals() { return *rehearsals_; }
    Teach& teach() { return *teach_; }
    /// All of them; reads those that are still waiting. Whoever looks for one asks here.
    const std::vector<Protocol>& protocols();
    const std::string& trouble() const { return trouble_; }
    int builds() const { return builds_; } // frames put together for the last picture

private:
    enum class Paper : std::uint8_t { sheet, report, slip };
    enum class Where : std::uint8_t {
        plan,
        front,
        session,
        round,
        sequence,
        more,     // the doors
        rehearse,
        teach,    // the review, a class
        rules,    // the protocol workshop
    };

    // app.cpp
    void build(Instant now, const WallClock& wall);
    void set_night(bool night);
    void toggle_night();
    void read_next_protocol();
    /// True when the picture has to be made again at once.
    bool do_wishes();
    std::int64_t next_wake() const;

    // app_sessions.cpp
    bool do_plan_wishes();
    bool do_front_wishes();
    bool do_session_wishes();
    bool do_page_wishes(const screens::PageWishes& wishes, Where to);
    bool work_on_round();

    // app_more.cpp
    bool do_more_wishes();
    bool do_rehearse_wishes();
    void rehearse_open_session();
    void enter_rules();
    void say_whose_rules();

    // app_sessions.cpp: on top, where the screen does not show it by itself
    void show_reminder();

    // app_sessions.cpp
    void go(Where where);
    void open_session(std::string_view key, bool joins = false);
    void begin_session(screens::Front::Begin how);
    void carry_over(desk::Case& c);
    void note_clock();
    void remind();
    void set_title(std::string title);

    ui::Ui ui_;
    ui::Mirror mirror_;
    render::Renderer renderer_;
    std::vector<std::string_view> files_; // the protocols' texts
    std::size_t next_file_ = 0;           // the first that has not been read
    std::vector<Protocol> protocols_;
    desk::Desk desk_{protocols_};
    std::optional<screens::Plan> plan_;
    screens::Front front_{desk_};
    screens::Bedside bedside_{desk_};
    screens::RoundView round_{protocols_};
    screens::SequenceView sequence_{protocols_};
    screens::Doors doors_;
    std::unique_ptr<Rehearsals> rehearsals_;
    std::unique_ptr<Teach> teach_;
    std::unique_ptr<screens::Workshop> workshop_; // once somebody has been there
    Where where_ = Where::plan;
    Paper paper_ = Paper::sheet; // of a session; another one after its button, until something else is touched
    std::string trouble_; // why there are no protocols; shown instead of a screen
    std::string title_;
    std::string reminder_; // of a real session
    std::string was_in_;  // the session that a question about the clock took somebody away from
    bool reminder_shown_ = false;
    std::optional<Instant> reminded_until_; // by the charted clock
    int builds_ = 0;
};

} // namespace hangtime
