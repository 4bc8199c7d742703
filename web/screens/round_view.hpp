#pragma once

/// A round on screen: lanes, another start by dragging or by buttons and what breaks, the search as it goes, and
/// the entries that it is made of.

#include "core/round/draft.hpp"
#include "core/sheet/document.hpp"
#include "web/screens/form.hpp"
#include "web/screens/round_plan.hpp"
#include "web/widgets/lanes.hpp"
#include "web/screens/page_wishes.hpp"
#include "web/widgets/ui.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace hangtime::screens {

class RoundView {
public:
    /// `protocols` must outlive it.
    explicit RoundView(const std::vector<Protocol>& protocols) : protocols_(protocols) {}

    /// A round that was read, shown at once; its entries can then not be changed here.
    void show(const Protocol& protocol, rounds::Round round);

    /// "Clear this device": nothing of it is left, here or on the machine.
    void forget();

    /// One frame. The first one takes up what was kept when the page was open last.
    void build(ui::Ui& ui, ui::Box area, Instant now, const WallClock& wall);

    /// A slice of the search; true while there is more. Call it once a picture, and make another picture at once
    /// while it says so.
    bool work(std::int64_t nodes);

    using Wishes = PageWishes;
    Wishes take_wishes();

    /// The printed round sheet, or what was entered where that is on the screen; none where no rules plan a round.
    std::optional<sheet::Document> document() const;
    const RoundPlan* plan() const { return plan_.get(); }
    /// By which it is planned; null where no rules say anything about rounds.
    const Protocol* rules() const { return plan_ ? &plan_->protocol() : protocol(); }

private:
    enum class Mode : std::uint8_t { entries, board, happened };

    // round_view.cpp: the board
    void board(ui::Ui& ui, ui::Box area);
    void header(ui::Ui& ui, ui::Box box, std::string_view title, bool can_print);
    void picture(ui::Ui& ui, ui::Box box);
    float panel(ui::Ui& ui, ui::Box box);
    float search(ui::Ui& ui, ui::Box box);
    float clash(ui::Ui& ui, ui::Box box);
    float trial(ui::Ui& ui, ui::Box box);
    float chosen(ui::Ui& ui, ui::Box box);
    float moving(ui::Ui& ui, ui::Box box);
    float changes(ui::Ui& ui, ui::Box box);
    float left_out(ui::Ui& ui, ui::Box box);
    void move_by(int slots);
    std::string spoken(std::size_t job) const;

    // round_happened.cpp: what has happened to one of them, and planning the rest again
    void open_happened(ui::Ui& ui, std::size_t transfusion);
    void happened(ui::Ui& ui, ui::Box area);
    void store_happened();

    // round_keep.cpp: over a reload of the page
    void recall();
    void keep();
    void keep_plan();

    // round_entries.cpp
    void entries(ui::Ui& ui, ui::Box area);
    float list(ui::Ui& ui, ui::Box box);
    void load(ui::Ui& ui, int item);
    void store();
    void load_round();
    void load_nurse(const rounds::DraftNurse& n);
    void load_transfusion(const rounds::DraftTransfusion& t, std::size_t index);
    std::vector<const Protocol*> with_rounds() const;
    const Protocol* protocol() const;
    void check();
    void draw_plan(ui::Ui& ui);
    void begin_draft();
    void remove_item(ui::Ui& ui);
    void plan_it(rounds::Round round);
    std::string item_name(int item) const;
    std::string refused_text() const;

    const std::vector<Protocol>& protocols_;
    Mode mode_ = Mode::entries;
    Instant now_{};
    WallClock wall_;
    DayClock day_;
    Wishes wishes_;

    // the board
    std::unique_ptr<RoundPlan> plan_;
    ui::LaneDrag drag_;
    int chosen_ = -1;             // job
    std::size_t told_ = 0;        // the transfusion of which something is told that has happened
    std::optional<rounds::Draft> after_;  // the draft with that in it
    rounds::Promise told_promise_;        // of that transfusion, while it has not begun
    bool recalled_ = false;
    std::string kept_, kept_plan_;  // what is kept on the machine
    bool fixed_ = false;          // its entries were not made here

    // the entries: item -1 is the round itself, then nurses, then transfusions
    std::optional<rounds::Draft> draft_;
    int rules_ = -1;              // of those with rules for rounds; -1: not chosen
    int item_ = -2;
    Form form_;
    std::string text_;            // that was read last
    std::optional<Error> refused_;
    std::optional<rounds::Round> round_;
};

} // namespace hangtime::screens
