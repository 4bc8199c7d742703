#pragma once

/// The screens of one session: what stands open, the one thing to do now, and what follows from what happened. A strip
/// on top says which session this is; the foot holds the primary action and the way back from the last record.

#include "web/desk/desk.hpp"
#include "web/screens/bag_and_tag.hpp"
#include "web/screens/match_view.hpp"
#include "web/screens/observe_entry.hpp"
#include "web/screens/reaction_view.hpp"
#include "web/screens/record_entry.hpp"
#include "web/screens/reckoned.hpp"
#include "web/screens/signs_view.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::screens {

class Bedside {
public:
    enum class Tab : std::uint8_t { ready, unit, match, run, signs, reaction, finish, hand_over, record };
    static constexpr int tab_count = 9;

    explicit Bedside(desk::Desk& desk) : desk_(desk) {}

    /// Shows a session; the tab is the one where its next thing to do stands. `joins`: asks for what happened before.
    void show(ui::Ui& ui, std::string_view key, bool joins = false);
    const std::string& key() const { return key_; }
    /// Something was noted by another: to the tab where its next thing stands, unless something is being entered.
    void follow(ui::Ui& ui);
    /// What the plan's entries say of a bag that is not issued yet, or was just now; for the entry of it.
    void build(ui::Ui& ui, Instant machine_now, const WallClock& wall, const std::vector<Protocol>& protocols);

    struct Wishes {
        bool front = false, print = false, night = false, licences = false, take_over = false;
        bool report = false, slip = false; // of a suspected reaction, on paper
        bool rehearse = false;             // a rehearsal is to be made of it
        bool read = false;                 // the sheet, on the screen
    };
    Wishes take_wishes();
    /// Milliseconds until a press counts again after one that noted something; -1: it does.
    std::int64_t quiet_ms(std::int64_t now_ms) const;
    /// The session is left: what was read of bag and tag is overwritten.
    void left() { reading_.forget(); }
    /// The same when nobody has looked for a while, hidden or asleep; true: there was something, draw again.
    bool forget_unseen(Instant machine_now);
    /// When that is to be asked; none: nothing is held.
    std::optional<Instant> forget_at() const;
    /// Something is being entered or read: that takes the whole screen, and shows no reminder by itself.
    bool entering() const { return entry_.is_open() || reading_.is_open() || observe_.is_open(); }
    /// A reminder that stands on the screen; empty: none.
    void remind(std::string text) { reminder_ = std::move(text); }

private:
    /// After a touch that noted something, for so long no other one does: the button under the finger is another one now.
    static constexpr std::int64_t quiet_for_ms = 400; // common practice, no source: a double tap is faster

    /// The one thing to do: what stands on its button, and what the button does.
    struct Primary {
        std::string id, label, question;
        bool due = true;                // else it is only to come
        std::optional<Tab> go;          // it stands on another screen
        bool read = false;              // where bag and tag are read
        bool leave = false;             // nothing more to do here
        std::optional<EventKind> ask;   // it has to be entered
        std::optional<EventKind> note;  // one touch notes it
        Facts facts;
        RecordEntry::About about;
    };
    struct Offer {
        std::string_view id;
        EventKind kind{};
        bool enabled = true;
        bool at_once = false; // noted by the touch, now
    };

    // bedside.cpp: the arrangement
    void header(ui::Ui& ui, ui::Box box);
    void tabs(ui::Ui& ui, ui::Box box);
    float tabs_height(const ui::Ui& ui, float width) const;
    void foot(ui::Ui& ui, ui::Box box, const Primary& primary);
    float foot_height(ui::Ui& ui, float width, const Primary& primary) const;
    void body(ui::Ui& ui, ui::Box box, ui::Box match_foot);
    void unreadable(ui::Ui& ui, ui::Box box);
    void go_to(ui::Ui& ui, Tab tab);
    Tab tab_of_now() const;
    float offers(ui::Ui& ui, ui::Box box, const std::vector<Offer>& all, int columns);
    const Session& session() const { return case_->session(); }
    const Live& live() const { return case_->live; }

    // bedside_note.cpp: what is noted
    void note(ui::Ui& ui, EventKind kind, Facts facts);
    void note_wishes(ui::Ui& ui);
    void ask(ui::Ui& ui, EventKind kind, const RecordEntry::About& about = {});
    void press(ui::Ui& ui, const Primary& primary);
    /// Opens the entry of a set of observations; `old`: the record that is put right.
    void observe(ui::Ui& ui, const facts::Observed& what, std::string title, const Event* old = nullptr);
    void observing(ui::Ui& ui, ui::Box body, ui::Box foot);
    std::string why(const desk::NotNoted& no) const;
    RecordEntry::Context context() const;

    // bedside_strip.cpp
    void strip(ui::Ui& ui, ui::Box box);
    float strip_height(const ui::Ui& ui, float width) const;
    std::string window_text() const;

    // bedside_primary.cpp
    Primary primary() const;
    bool primary_for(const ToDo& todo, Primary& out) const;
    void primary_for_item(Item item, Primary& out) const;

    // bedside_ready.cpp
    float ready(ui::Ui& ui, ui::Box box);
    float ready_group(ui::Ui& ui, ui::Box box, ItemGroup group, bool before_call);
    float ready_item(ui::Ui& ui, ui::Box box, const ReadyItem& item);
    float summaries(ui::Ui& ui, ui::Box box);
    std::string last_said(EventKind kind) const;
    float folded_list(ui::Ui& ui, ui::Box box, std::string_view id, std::string_view title, std::string_view above,
                      const std::vector<std::string>& lines);

    // bedside_unit.cpp
    float unit(ui::Ui& ui, ui::Box box);
    float windows(ui::Ui& ui, ui::Box box, int columns);
    float facts_of_unit(ui::Ui& ui, ui::Box box);

    // bedside_match.cpp
    void match(ui::Ui& ui, ui::Box box, ui::Box foot);
    /// The match is under way: its buttons stand in the foot, in the place of the primary action.
    bool matching() const;
    void groups_first(ui::Ui& ui, ui::Box box, const BagAndTag::Context& bag);
    void note_match(ui::Ui& ui, MatchOutcome outcome, std::uint8_t step);
    bool takes_scans() const;
    void take_scans(ui::Ui& ui);
    void reading(ui::Ui& ui, ui::Box box);
    void note_label(const BagAndTag::Confirmed& confirmed);
    void note_groups(ui::Ui& ui, const facts::GroupsJudged& judged);
    MatchScript shown_script() const;
    BagAndTag::Context bag_context() const;

    // bedside_run.cpp
    float run(ui::Ui& ui, ui::Box box);
    float figures(ui::Ui& ui, ui::Box box);
    float device(ui::Ui& ui, ui::Box box);
    float verdict(ui::Ui& ui, ui::Box box);

    // bedside_signs.cpp
    float signs(ui::Ui& ui, ui::Box box);
    float reaction(ui::Ui& ui, ui::Box box);
    bool reaction_stands() const;
    void observed(ui::Ui& ui, Instant at);

    // bedside_finish.cpp
    float finish(ui::Ui& ui, ui::Box box);
    float uncharted(ui::Ui& ui, ui::Box box);
    float fluid(ui::Ui& ui, ui::Box box); // bedside_fluid.cpp
    float hand_over(ui::Ui& ui, ui::Box box);
    float record(ui::Ui& ui, ui::Box box);
    float record_row(ui::Ui& ui, ui::Box box, const Event& event);

    desk::Desk& desk_;
    desk::Case* case_ = nullptr; // of this frame
    std::string key_;
    Tab tab_ = Tab::ready;
    bool joins_ = false;         // to be asked for in the next frame
    RecordEntry entry_;
    MatchView match_;
    BagAndTag reading_;
    std::optional<bool> says_;   // whether the person says who they are, until the first step is noted
    ObserveEntry observe_;
    SignsView signs_;
    ReactionView reaction_;
    facts::Observed observed_;   // the check that its set belongs to
    std::int32_t observe_replaces_ = 0;
    std::string said_;           // why the last touch noted nothing
    std::string reminder_;
    std::pair<std::string, std::string> first_to_do_; // its id and its words, as they were last shown
    std::string open_;           // the row that is opened: an item, a record, a list
    std::string open_sum_;
    std::int64_t quiet_until_ms_ = 0;
    int scans_seen_ = 0;
    std::int64_t seen_ms_ = 0; // when the last picture was made, by both clocks
    Instant seen_at_{};
    bool scan_said_ = false;
    Instant machine_now_{}, now_{};
    WallClock wall_;
    DayClock day_;
    const std::vector<Protocol>* protocols_ = nullptr;
    Wishes wishes_;
};

/// How far what was noted of a session is kept, in plain words; empty: there is nothing to say but "saved".
std::string store_trouble_text(const store::SessionStore& store, std::string_view key);
/// The store as a whole, where it is not as it should be; empty: it is.
std::string store_mode_text(const store::SessionStore& store);

} // namespace hangtime::screens
