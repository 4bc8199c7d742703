#pragma once

/// A class on screen: the saved results of a rehearsal, any number of them, and what they come to together. Nothing says
/// whose a result is.

#include "core/rehearse/class.hpp"
#include "web/screens/teach_view.hpp"

namespace hangtime::screens {

class ClassView final : public TeachView {
public:
    ClassView();

    std::optional<sheet::Document> document() const override;
    std::string_view page_title() const override { return "Hangtime: a class"; }
    const ClassSummary& summary() const { return summary_; }

private:
    bool any() const override { return summary_.attempts() > 0; }
    float told(ui::Ui& ui, ui::Box box) override;
    float parts(ui::Ui& ui, ui::Box box) override;
    float figures(ui::Ui& ui, ui::Box box) override;
    void save() override;
    void forget() override;

    ClassSummary summary_;
    std::size_t case_ = 0;
};

} // namespace hangtime::screens
