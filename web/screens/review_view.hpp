#pragma once

/// The review of past sessions on screen: logs from files, any number of them, and the sessions of this machine; what
/// they come to by component and protocol, with nothing below a floor.

#include "core/rehearse/review_told.hpp"
#include "web/desk/desk.hpp"
#include "web/screens/teach_view.hpp"

namespace hangtime::screens {

class ReviewView final : public TeachView {
public:
    explicit ReviewView(const desk::Desk& desk);

    std::optional<sheet::Document> document() const override;
    std::string_view page_title() const override { return "Hangtime: review"; }
    const Review& review() const { return review_; }

private:
    bool any() const override { return review_.sessions() > 0; }
    float other_source(ui::Ui& ui, ui::Box box) override;
    float told(ui::Ui& ui, ui::Box box) override;
    float parts(ui::Ui& ui, ui::Box box) override;
    float figures(ui::Ui& ui, ui::Box box) override;
    void save() override;
    void forget() override;
    float reasons(ui::Ui& ui, ui::Box box, std::string_view id, std::string_view title, const ToldReasons& told, bool pauses);
    void add_sessions_here();
    void tell();
    const ToldGroup& shown() const;

    const desk::Desk& desk_;
    Review review_;
    int here_ = 0;               // sessions of this machine that are counted
    std::int32_t floor_ = usual_floor;
    int group_ = -1;             // of those that are told; -1: all together
    ReviewTold told_;
    std::int32_t told_sessions_ = -1; // of what `told_` was made
    std::string message_;
};

} // namespace hangtime::screens
