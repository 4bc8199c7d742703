#include "web/app.hpp"

#include "core/plan/plan_sheet.hpp"
#include "core/protocol/read.hpp"
#include "core/report/session_report.hpp"
#include "core/sheet/document.hpp"
#include "web/json_list.hpp"
#include "web/rehearsals.hpp"
#include "web/teach.hpp"
#include "web/screens/workshop.hpp"
#include "web/widgets/controls.hpp"

namespace hangtime {
namespace {
constexpr int most_builds = 4000; // a bound for one picture; 300 quick taps take about 1200
}

void App::read_next_protocol() {
    // Each file by itself, so that one that is damaged says so and the others still work.
    Result<Protocol> read = read_protocol(files_[next_file_++]);
    if (read.ok())
        protocols_.push_back(std::move(read.value()));
    else
        trouble_ = read.error().where + ": " + read.error().problem + "; accepted: " + read.error().accepted;
}

const std::vector<Protocol>& App::protocols() {
    while (next_file_ < files_.size())
        read_next_protocol();
    return protocols_;
}

void App::start() {
    files_ = elements_of(platform::protocols());
    protocols_.reserve(files_.size()); // none moves when another is read
    // Of the examples the first is the one to begin with; the others can wait until there is a picture. Of a
    // ward's own any may be the one that is adopted.
    if (!platform::protocols_are_examples())
        protocols();
    while (next_file_ < files_.size() && protocols_.empty())
        read_next_protocol();
    if (protocols_.empty() && trouble_.empty())
        trouble_ = "This page carries no rules.";
    if (!protocols_.empty())
        plan_.emplace(protocols_);
    const int ground = platform::load_setting("night", -1);
    set_night(ground < 0 ? platform::surface().prefers_dark : ground == 1);
    desk_.store().open();
    frame();
}

bool App::input(const platform::Event& event) {
    if (event.kind == platform::Event::Kind::press || event.kind == platform::Event::Kind::key)
        paper_ = Paper::sheet;
    return ui_.input(event);
}

void App::set_night(bool night) {
    ui_.set_night(night);
    platform::set_night(night);
}

void App::toggle_night() {
    set_night(!ui_.night());
    platform::save_setting("night", ui_.night() ? 1 : 0);
}

void App::build(Instant now, const WallClock& wall) {
    ui_.begin();
    ui_.set_foot(plan_ ? ui_.line_height(ui::Face::small) + ui_.px(2) : 0);
    if (plan_)
        show_reminder();
    if (!plan_) {
        const ui::Box box = ui_.screen().inset(ui_.px(24));
        ui_.note({.id = "title", .label = "Hangtime", .role = ui::Role::heading, .box = box});
        ui::paragraph(ui_, "trouble", box,
                      "The rules in this page cannot be read: " + trouble_ + " Use the paper method.",
                      ui::Face::title);
    } else if (where_ == Where::session) {
        bedside_.build(ui_, now, wall, protocols_);
    } else if (where_ == Where::front) {
        front_.build(ui_, now, wall);
    } else if (where_ == Where::round) {
        round_.build(ui_, ui_.screen().inset(ui_.px(12), ui_.px(6)), now, wall);
    } else if (where_ == Where::sequence) {
        sequence_.build(ui_, ui_.screen().inset(ui_.px(12), ui_.px(6)), now, wall);
    } else if (where_ == Where::more) {
        doors_.build(ui_, desk_.charted(now), wall);
    } else if (where_ == Where::rehearse) {
        rehearsals_->build(ui_, reminder_);
    } else if (where_ == Where::teach) {
        teach_->build(ui_, reminder_);
    } else if (where_ == Where::rules) {
        workshop_->build(ui_, ui_.screen().inset(ui_.px(12), ui_.px(6)), now, wall);
    } else {
        plan_->tell_sessions(desk_.cases().size());
        plan_->build(ui_, now, wall);
    }
    if (plan_)
        say_whose_rules();
    ui_.end();
    ++builds_;
}

void App::frame() {
    const platform::Surface surface = platform::surface();
    if (surface.width <= 0 || surface.height <= 0)
        return;
    if (builds_ > 0 && next_file_ < files_.size())
        read_next_protocol();
    const Instant now = platform::now();
    const WallClock wall = platform::wall_clock();
    bedside_.forget_unseen(now);
    ui_.tick(platform::now_ms());
    desk_.store().tick();
    desk_.reckon(now, wall);
    if (where_ == Where::rehearse)
        rehearsals_->tick(ui_);
    if (where_ == Where::teach)
        teach_->tick();
    remind();
    if (ui_.fit(surface)) {
        const ui::Ui::Atlas atlas = ui_.atlas();
        renderer_.set_atlas(atlas.alpha, atlas.width, atlas.height);
    }
    // Everything that waits is worked off before a picture is drawn, so that no tap can land on another one;
    // then once more, because what a frame changes may be laid out in the next.
    const bool more = where_ == Where::round && work_on_round();
    builds_ = 0;
    for (;;) {
        const bool event = ui_.feed();
        build(now, wall);
        const bool again = do_wishes();
        if (again)
            desk_.reckon(now, wall);
        if ((!event && !again) || builds_ >= most_builds)
            break;
    }
    if (ui_.asked()) {
        desk_.reckon(now, wall);
        remind();
        build(now, wall);
        do_wishes();
    }

    const auto changed =
        renderer_.draw(*ui_.draw_data(), surface.width, surface.height, ui_.palette().ground);
    if (!changed.empty())
        platform::present(renderer_.pixels(), surface.width, surface.height, changed);
    mirror_.update(ui_);
    ui_.shown(platform::now_ms());

    if (more || next_file_ < files_.size()) {
        platform::wake_in(0);
        return;
    }
    platform::wake_in(next_wake());
}

// Asleep until something is decided about a key, or until the clock shows another minute, or until anything comes
// out differently.
std::int64_t App::next_wake() const {
    const std::int64_t wall_ms = platform::wall_ms(), now_ms = platform::now_ms();
    std::int64_t wake = 60'000 - wall_ms % 60'000;
    const auto sooner = [&](std::int64_t ms) {
        if (ms >= 0 && ms < wake)
            wake = ms;
    };
    const auto at = [&](const std::optional<Instant>& moment) {
        if (moment && moment->utc * 1000 > wall_ms)
            sooner(moment->utc * 1000 - wall_ms);
    };
    if (plan_)
        at(plan_->reckoning().next_change);
    at(desk_.next_change());
    if (where_ == Where::rehearse)
        sooner(rehearsals_->wake_ms());
    sooner(ui_.wait_ms(now_ms));
    sooner(desk_.store().retry_in());
    sooner(bedside_.quiet_ms(now_ms));
    return wake;
}

void App::before_print() {
    if (!plan_)
        return;
    const WallClock wall = platform::wall_clock();
    const Instant now = platform::now();
    desk_.reckon(now, wall);
    // What is on the screen or nothing: a plan that is not shown would be taken for it.
    const auto put = [](const std::optional<sheet::Document>& paper) {
        platform::set_print(paper ? sheet::to_html_fragment(*paper) : std::string());
    };
    if (where_ == Where::round)
        return put(round_.document());
    if (where_ == Where::sequence)
        return put(sequence_.document());
    if (where_ == Where::teach)
        return put(teach_->document());
    if (where_ == Where::rehearse)
        return put(rehearsals_->document());
    if (const auto rules = where_ == Where::rules ? workshop_->document() : std::nullopt)
        return put(rules);
    const desk::Case* open = where_ == Where::session ? desk_.find(bedside_.key()) : nullptr;
    if (open && !open->unreadable && !open->log.empty()) {
        const Session& s = open->session();
        const RuleSet* rules = rules_now(s).rules();
        sheet::Document paper;
        if (paper_ == Paper::report && s.reaction && rules)
            paper = reaction_report(*s.protocol, *rules, reaction_report_of(s, open->live, desk_.beside(*open)));
        else if (paper_ == Paper::slip)
            paper = late_symptoms_slip(*s.protocol);
        else
            paper = session_document(open->log, open->live, desk_.beside(*open));
        platform::set_print(sheet::to_html_fragment(paper));
        return;
    }
    const State state = plan_->entries().state_at(now);
    Reckoning fresh;
    reckon(plan_->entries().protocol(), state, now, fresh);
    platform::set_print(sheet::to_html_fragment(plan_sheet(plan_->entries().protocol(), state, fresh, wall)));
}

} // namespace hangtime
