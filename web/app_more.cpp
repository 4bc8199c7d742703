#include "web/app.hpp"

#include "web/rehearsals.hpp"
#include "web/screens/workshop.hpp"
#include "web/teach.hpp"

/// What lies behind the doors of the screen "More", each by a few lines here.

namespace hangtime {

using screens::Door;

App::App()
    : rehearsals_(std::make_unique<Rehearsals>(protocols_)), teach_(std::make_unique<Teach>(desk_)) {}
App::~App() = default;

bool App::do_more_wishes() {
    const screens::Doors::Wishes wishes = doors_.take_wishes();
    if (wishes.night)
        toggle_night();
    if (wishes.back)
        go(Where::front);
    if (wishes.through)
        switch (*wishes.through) {
        case Door::rehearse:
            go(Where::rehearse);
            rehearsals_->enter(ui_);
            break;
        case Door::review:
        case Door::a_class:
            go(Where::teach);
            teach_->enter(*wishes.through == Door::review ? Teach::Shown::review : Teach::Shown::a_class);
            break;
        case Door::protocols: enter_rules(); break;
        }
    return wishes.night || wishes.back || wishes.through.has_value();
}

// --- rehearsals -----------------------------------------------------------------------------------------

bool App::do_rehearse_wishes() {
    const Rehearsals::Wishes wishes = rehearsals_->do_wishes(ui_);
    do_page_wishes(wishes.page, Where::more);
    return wishes.again;
}

void App::rehearse_open_session() {
    const desk::Case* c = desk_.find(bedside_.key());
    if (!c || c->unreadable)
        return;
    go(Where::rehearse);
    rehearsals_->enter(ui_);
    rehearsals_->make_of(ui_, c->log); // the button is there only where a unit was issued
}

// --- the review and a class -----------------------------------------------------------------------------

void App::files_chosen(int count) { teach_->files_chosen(count); }

void App::file_read(platform::FileOutcome outcome, std::string_view text) { teach_->file_read(outcome, text); }

} // namespace hangtime
