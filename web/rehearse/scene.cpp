#include "web/rehearse/scene.hpp"

#include "core/rehearse/course.hpp"

#include <algorithm>

namespace hangtime::rehearse {

namespace {

/// A picture that came later than this stands for a page that was hidden or asleep: the time between is not played.
constexpr std::int64_t longest_step_ms = 1000;

/// However fast the clock runs, where it stands is not kept more often than this.
constexpr std::int64_t keeps_every_ms = 500;

} // namespace

bool Scene::begin(std::shared_ptr<const Scenario> scenario, std::int32_t seed, std::int64_t now_ms) {
    if (!take(std::move(scenario), seed, now_ms))
        return false;
    kept_.begin(course_beginning(*scenario_, seed));
    tell();
    return true;
}

std::optional<Error> Scene::go_on(std::shared_ptr<const Scenario> scenario, std::int64_t now_ms) {
    const std::vector<std::string>* kept = kept_.all();
    if (!kept)
        return Error{"what was kept of it", "is not whole", "all that it was given, from its beginning"};
    const std::vector<std::string> course = *kept;
    const std::int32_t seed = scenario->seed;
    if (!take(std::move(scenario), seed, now_ms))
        return Error{"the store", "cannot be written to", "this window as the one that writes"};
    if (const auto error = go_through(*rehearsal_, std::span(course).subspan(1))) {
        drop_left();
        return error;
    }
    // Under a key of its own: another window that has begun it may still remove what it wrote.
    kept_.begin(course.front());
    for (std::size_t i = 1; i < course.size(); ++i)
        kept_.add(course[i]);
    kept_at_ = rehearsal_->now();
    desk_.stage_moved(rehearsal_->now());
    tell();
    said_.clear(); // it can be read again where it stands
    paused_ = true;
    return std::nullopt;
}

// It stands at its beginning, on a desk that holds nothing else.
bool Scene::take(std::shared_ptr<const Scenario> scenario, std::int32_t seed, std::int64_t now_ms) {
    if (!desk_.store().may_write())
        return false;
    drop_left();
    scenario_ = std::move(scenario);
    rehearsal_ = std::make_unique<Rehearsal>(*scenario_, seed);
    first_own_ = rehearsal_->log().next_number();
    said_.clear();
    history_.clear();
    told_ = 0;
    ended_ = paused_ = false;
    speed_ = 1;
    rest_ms_ = 0;
    last_ms_ = kept_ms_ = now_ms;
    kept_at_ = rehearsal_->now();
    desk::Case* c = desk_.stage(*this, rehearsal_->now());
    key_ = c->key;
    return true;
}

void Scene::end() {
    if (!rehearsal_ || ended_)
        return;
    rehearsal_->advance_to(rehearsal_->ends());
    desk_.stage_moved(rehearsal_->now());
    ended_ = true;
    told_ = rehearsal_->told().size();
    said_.clear();
    desk_.leave_stage();
}

void Scene::leave() {
    desk_.leave_stage();
    rehearsal_.reset();
    scenario_.reset();
    key_.clear();
    said_.clear();
    kept_.drop();
}

void Scene::drop_left() {
    leave();
    std::vector<std::string> left;
    for (const auto& c : desk_.cases())
        left.push_back(c->key);
    for (const std::string& key : left)
        desk_.remove(key);
}

std::optional<Refusal> Scene::note(Event event) {
    if (const std::string text = course_record(event, *rehearsal_); !text.empty()) {
        kept_.add(text);
        kept_at_ = rehearsal_->now();
    }
    const auto refused = rehearsal_->note(std::move(event));
    tell();
    return refused;
}

bool Scene::noted_here(const Event& event) const {
    const auto& told = rehearsal_->told();
    return event.number >= first_own_ &&
           std::none_of(told.begin(), told.end(), [&](const Told& t) { return t.record == event.number; });
}

// --- the clock ------------------------------------------------------------------------------------------

void Scene::set_speed(int times, std::int64_t now_ms) {
    tick(now_ms);
    speed_ = std::clamp(times, speeds.front(), speeds.back());
    paused_ = false;
}

void Scene::set_paused(bool paused, std::int64_t now_ms) {
    tick(now_ms);
    paused_ = paused;
    last_ms_ = now_ms;
    if (paused && rehearsal_ && kept_at_ != rehearsal_->now())
        keep_moment(now_ms);
}

// What is lost of the time when the page is closed is less than a minute of its clock, or what half a second was.
void Scene::keep_moment(std::int64_t now_ms) {
    kept_at_ = rehearsal_->now();
    kept_ms_ = now_ms;
    kept_.add(course_moment(kept_at_));
}

void Scene::move_to(Instant at) {
    rehearsal_->advance_to(at);
    desk_.stage_moved(rehearsal_->now());
    tell();
}

bool Scene::tick(std::int64_t now_ms) {
    const std::int64_t passed = std::clamp<std::int64_t>(now_ms - last_ms_, 0, longest_step_ms);
    last_ms_ = now_ms;
    if (!rehearsal_ || stands())
        return false;
    rest_ms_ += passed * speed_;
    const Instant target = rehearsal_->now() + Seconds{rest_ms_ / 1000};
    rest_ms_ %= 1000;
    const std::size_t told = rehearsal_->told().size();
    while (!stands() && rehearsal_->now() < target && !rehearsal_->over()) {
        const auto next = rehearsal_->next_happening();
        move_to(next && *next < target ? *next : target);
    }
    if (rehearsal_->over() && !stands()) {
        say({rehearsal_->now(), "The time of this rehearsal is over.", false});
        paused_ = true;
    }
    const bool more = told != rehearsal_->told().size() || !said_.empty();
    const bool minute_over = minute_of(rehearsal_->now()) != minute_of(kept_at_);
    if (rehearsal_->now() != kept_at_ && (more || (minute_over && now_ms - kept_ms_ >= keeps_every_ms)))
        keep_moment(now_ms);
    return more;
}

std::optional<Instant> Scene::next_due() const {
    if (!rehearsal_ || ended_)
        return std::nullopt;
    const Instant now = rehearsal_->now();
    std::optional<Instant> next;
    const auto at = [&](std::optional<Instant> moment) {
        if (moment && *moment > now && (!next || *moment < *next))
            next = moment;
    };
    at(rehearsal_->next_happening());
    for (const auto& c : desk_.cases())
        if (c->key == key_)
            for (const ToDo& todo : c->live.to_do)
                if (!todo.due)
                    at(todo.at);
    return next;
}

void Scene::jump(std::int64_t now_ms) {
    tick(now_ms);
    const auto next = next_due();
    if (!next || !said_.empty())
        return;
    rest_ms_ = 0;
    speed_ = 1;
    paused_ = false;
    move_to(*next);
    keep_moment(now_ms);
}

std::int64_t Scene::wake_ms() const {
    if (!rehearsal_ || stands())
        return -1;
    return speed_ == 1 ? std::max<std::int64_t>(1, 1000 - rest_ms_) : speed_ == 5 ? 200 : 66;
}

// --- what happens ---------------------------------------------------------------------------------------

void Scene::say(Spoken spoken) {
    history_.push_back(spoken);
    said_.push_back(std::move(spoken));
}

void Scene::tell() {
    for (; told_ < rehearsal_->told().size(); ++told_) {
        const Told& told = rehearsal_->told()[told_];
        const facts::Issued* bag = nullptr;
        if (told.record)
            bag = std::get_if<facts::Issued>(&rehearsal_->log().events()[static_cast<std::size_t>(*told.record) - 1].facts);
        const Happening& happening = rehearsal_->happening(told.happening);
        if (!bag && happening.record)
            bag = std::get_if<facts::Issued>(&happening.record->facts);
        std::string text = spoken_text(happening, bag);
        if (text.empty())
            continue;
        speed_ = 1;
        say({told.at, std::move(text), happening.kind == WorldKind::discuss});
    }
}

void Scene::heard(std::int64_t now_ms) {
    if (!said_.empty())
        said_.erase(said_.begin());
    last_ms_ = now_ms;
}

void Scene::inject(Happening happening, std::int64_t now_ms) {
    if (!rehearsal_ || ended_)
        return;
    tick(now_ms);
    kept_.add(course_happening(happening, *rehearsal_));
    kept_at_ = rehearsal_->now();
    rehearsal_->inject(std::move(happening));
    desk_.stage_moved(rehearsal_->now());
    tell();
}

void Scene::discuss(std::string question) {
    if (!rehearsal_ || ended_)
        return;
    say({rehearsal_->now(), std::move(question), true});
}

} // namespace hangtime::rehearse
