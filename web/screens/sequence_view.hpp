#pragma once

/// Several units for one person on screen: the entries, and beside them for each unit the set, the call, the baseline,
/// the rates and what comes after it.

#include "core/round/sequence.hpp"
#include "core/round/sequence_draft.hpp"
#include "core/sheet/document.hpp"
#include "web/screens/form.hpp"
#include "web/screens/page_wishes.hpp"
#include "web/widgets/ui.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace hangtime::screens {

class SequenceView {
public:
    /// `protocols` must outlive it.
    explicit SequenceView(const std::vector<Protocol>& protocols) : protocols_(protocols) {}

    /// One frame. The first one takes up what was kept when the page was open last.
    void build(ui::Ui& ui, ui::Box area, Instant now, const WallClock& wall);

    using Wishes = PageWishes;
    Wishes take_wishes();

    /// "Clear this device": nothing of it is left, here or on the machine.
    void forget();

    /// The printed sheet, or what was entered while something is missing; none where no rules plan a sequence.
    std::optional<sheet::Document> document() const;
    /// By which it is planned; null where none are chosen.
    const Protocol* rules() const { return protocol(); }
    const rounds::SequencePlan* plan() const { return plan_ ? &*plan_ : nullptr; }

private:
    void header(ui::Ui& ui, ui::Box box);
    void begin();
    void load(ui::Ui& ui);
    void store();
    void check();
    std::string refused_text() const;
    float entries(ui::Ui& ui, ui::Box box, int columns);
    float answers(ui::Ui& ui, ui::Box box);
    float unit(ui::Ui& ui, ui::Box box, std::size_t index);
    std::vector<const Protocol*> with_rounds() const;
    const Protocol* protocol() const;

    const std::vector<Protocol>& protocols_;
    Instant now_{};
    WallClock wall_;
    DayClock day_;
    Wishes wishes_;
    std::optional<rounds::SequenceDraft> draft_;
    int rules_ = -1;
    Form form_;
    bool more_ = false;            // the entries that are seldom needed are shown
    std::string text_, kept_;
    std::optional<Error> refused_;
    std::optional<rounds::Sequence> sequence_;
    std::optional<rounds::SequencePlan> plan_;
};

} // namespace hangtime::screens
