#pragma once

/// Where bag and tag are read: by scan or sign by sign, in any order, each for itself; what differs stands
/// side by side, and whether the groups fit is said from what was read.
///
/// What was read is held here alone, for one match, and never stored: the record of the issue gets the last
/// four characters and the expiry. `forget` overwrites it: when the match is over, when the session is left,
/// and when nobody has looked for `unseen_for`. A scan that is refused leaves a sentence and no byte.

#include "core/match/compare.hpp"
#include "core/match/compatible.hpp"
#include "core/session/session.hpp"
#include "core/words/format.hpp"
#include "web/screens/form.hpp"
#include "web/widgets/code_pad.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>

namespace hangtime::screens {

class BagAndTag {
public:
    enum class Side : std::uint8_t { bag, tag };
    /// Common practice, no source: whoever comes back after this long starts the match again anyway.
    static constexpr Seconds unseen_for = minutes(5);

    struct Context {
        const MatchRules* rules = nullptr;
        Component component{};
        bool emergency = false;          // the sample is waived by the emergency path
        std::optional<BagDigits> digits; // as the issue was recorded
        bool writes = true;
        bool may_close = true; // the unit is here and its match is open
        bool settles = false;  // whether groups and requirements fit is to be noted before the bag hangs
        const GroupsNote* groups = nullptr; // as it was noted
        std::optional<AgeGroup> age;        // as the session knows it
        Instant now{};
        const WallClock& wall;
        const DayClock& day;
    };
    /// What is to be put right in the record of the issue, once somebody has confirmed it against the label.
    struct Confirmed {
        std::optional<BagDigits> digits;
        std::optional<Stated> expires;
    };

    bool is_open() const { return open_; }
    bool editing() const { return open_ && (typing_ != Typing::nothing || form_.editing()); }
    void open(ui::Ui& ui);
    void close(ui::Ui& ui);

    /// What was scanned, for the side that is chosen, or for the bag's own label.
    /// False where it was refused, or says something else than what was read there before.
    bool take(const Scan& scan) { return take(scan, side_); }
    bool take(const Scan& scan, Side side);
    bool anything_read() const;
    bool holds_anything() const { return anything_read() || !signs_.view().empty(); }
    const UnitData& bag() const { return bag_; }
    UnitComparison comparison() const { return compare_unit(bag_, tag_); }
    bool differs() const { return comparison().unit == Agreement::differs; }
    Compatibility judged(const Context& context) const;
    /// What became of the last scan, or of what was typed last; one sentence, empty: nothing yet.
    const std::string& said() const { return said_; }
    void forget();
    /// A scan began to be typed into the entry that is open.
    void scan_leaked();

    void build(ui::Ui& ui, ui::Box body, ui::Box foot, const Context& context);
    std::optional<Confirmed> take_confirmed();
    bool take_close_unit();
    /// The answer about groups and requirements, to be noted; and whether it still has to be.
    std::optional<facts::GroupsJudged> take_judged();
    bool to_be_settled(const Context& context) const;

private:
    enum class Typing : std::uint8_t { nothing, number, product, group, expiry };

    UnitData& unit_of(Side side) { return side == Side::bag ? bag_ : tag_; }
    static std::string_view name_of(Side side) { return side == Side::bag ? "bag" : "tag"; }
    // bag_and_tag.cpp: what was read
    bool take(const LabelData& data, Side side);
    float read_part(ui::Ui& ui, ui::Box box, const Context& context);
    float expiry_part(ui::Ui& ui, ui::Box box, const Context& context);

    // bag_and_tag_typing.cpp: what is typed
    void type(ui::Ui& ui, Typing what);
    void typed(ui::Ui& ui);
    void stop_typing(ui::Ui& ui);
    float dock_height(const ui::Ui& ui, float width) const;
    void dock(ui::Ui& ui, ui::Box box);

    // bag_and_tag_person.cpp: what has to be known of the person, none of which says who that is
    void ask(std::optional<AgeGroup> age);
    RecipientFacts recipient(bool emergency) const;
    UnitFacts unit(const Context& context) const;
    float person_part(ui::Ui& ui, ui::Box box, const Context& context);

    // bag_and_tag_decision.cpp: what is settled of it
    facts::GroupsJudged judgement(const Context& context, GroupsBy by) const;
    float decision_part(ui::Ui& ui, ui::Box box, const Context& context);

    bool open_ = false;
    Side side_ = Side::bag;
    UnitData bag_, tag_;
    Typing typing_ = Typing::nothing;
    ui::Signs signs_;
    Form form_;
    bool asked_ = false;
    std::string said_, typed_said_;
    std::optional<LabelTime> confirmed_;
    std::optional<Confirmed> wished_;
    bool close_unit_ = false;
    bool waiving_ = false;
    int waive_reason_ = -1, waive_role_ = -1;
    std::optional<facts::GroupsJudged> judged_;
};

} // namespace hangtime::screens
