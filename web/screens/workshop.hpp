#pragma once

/// The protocol workshop: a ward's own rules as a table with their sources, changed value by value under the checks of
/// the reader; what that would change in the demo cases; what differs from another ward; kept as a file, or as a copy of
/// the page with the rules inside. Nothing here changes the rules of this page.

#include "core/plan/case_changes.hpp"
#include "core/protocol/edit.hpp"
#include "core/sheet/document.hpp"
#include "web/platform/platform.hpp"
#include "web/screens/form.hpp"
#include "web/screens/page_wishes.hpp"
#include "web/widgets/ui.hpp"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::screens {

class Workshop {
public:
    /// The protocols of the page; must outlive this.
    explicit Workshop(const std::vector<Protocol>& protocols) : protocols_(protocols) {}

    /// What the page carries beside its protocols: the examples, where it has a ward's own, and the demo cases.
    void tell_carried(std::vector<Protocol> examples, std::vector<DemoCase> cases);
    /// Whether the page's own protocols are the examples: then a copy holds only what was made here.
    void tell_examples(bool are) { page_has_examples_ = are; }

    /// One frame. `now` and `wall` are the machine's.
    void build(ui::Ui& ui, ui::Box area, Instant now, const WallClock& wall);

    /// The answer to platform::open_file.
    void file_opened(platform::FileOutcome outcome, std::string_view text);

    using Wishes = PageWishes;
    Wishes take_wishes();

    /// What is printed of what is shown; none before there are rules.
    std::optional<sheet::Document> document() const;

    const ProtocolEdit* edit() const { return edit_ ? &*edit_ : nullptr; }

private:
    enum class Part : std::uint8_t { rules, changes, differs, keep };
    enum class Paper : std::uint8_t { shown, card, day_card };

    // workshop.cpp
    void header(ui::Ui& ui, ui::Box box);
    void tabs(ui::Ui& ui, ui::Box box);
    void choose(ui::Ui& ui, ui::Box area);
    float foot(ui::Ui& ui, ui::Box box);
    void open(const Protocol& protocol);
    void changed();
    void undo(ui::Ui& ui);
    std::string known_as() const;

    // workshop_keep.cpp
    float keep(ui::Ui& ui, ui::Box box);
    std::string file_text() const;
    std::string page_text() const;
    bool named_like_an_example() const;
    std::string today() const;

    // workshop_rules.cpp
    void rules(ui::Ui& ui, ui::Box area);
    float list(ui::Ui& ui, ui::Box box);
    void look();
    float parts(ui::Ui& ui, ui::Box box);
    bool is_changed(const EditGroup& group) const;

    // workshop_group.cpp
    void open_group(ui::Ui& ui, const std::string& path);
    void close_group(ui::Ui& ui);
    void panel(ui::Ui& ui, ui::Box area);
    float panel_content(ui::Ui& ui, ui::Box box);
    void load(const EditGroup& group);
    void load_value(const EditValue& value);
    std::vector<EditChange> entered() const;
    void refresh(ui::Ui& ui);
    bool take(ui::Ui& ui);

    // workshop_head.cpp
    void load_head();
    std::vector<EditChange> entered_head() const;

    // workshop_compare.cpp
    float changes(ui::Ui& ui, ui::Box box);
    float differs(ui::Ui& ui, ui::Box box);
    std::vector<const Protocol*> others() const;
    const Protocol* other() const;

    const std::vector<Protocol>& protocols_;
    std::vector<Protocol> examples_;
    std::vector<DemoCase> cases_;
    bool page_has_examples_ = true;

    std::optional<ProtocolEdit> edit_;
    Protocol base_;                       // as it was opened
    std::unique_ptr<ProtocolEdit> before_; // the same, to tell what has changed
    std::vector<Protocol> undo_;
    std::optional<Protocol> from_file_;   // the last one that came as a file to compare with
    bool file_is_other_ = false;          // the file that is waited for is to compare with

    Part part_ = Part::rules;
    Paper paper_ = Paper::shown;
    std::string section_;                 // that is unfolded
    std::string group_;                   // whose values are being entered; with `grouped_`
    bool grouped_ = false;
    Form form_;
    EditGroup shape_;                     // what the form shows
    std::string told_;                    // what was entered when its shape was last asked for
    struct Section {
        std::string title;
        std::vector<std::size_t> groups;  // of edit_->groups()
        int changed = 0;
    };
    std::vector<Section> sections_;
    std::optional<Error> refused_;
    std::string message_;
    std::size_t other_ = 0;
    std::optional<std::vector<CaseChange>> case_changes_;
    Wishes wishes_;
    Instant now_{};
    WallClock wall_;
    int scans_seen_ = 0;
};

} // namespace hangtime::screens
