/// A guest for tests: keys make it note, clear and wait, and its live region says what came of it. It stands in the
/// real page, under the real platform, in the place of the program; tests/browser/seam.test.mjs drives it.

#include "web/store/session_store.hpp"

namespace {

using namespace hangtime;

// The shelf for rehearsals, which hears for itself.
class Practice final : public platform::Keeper {
public:
    store::SessionStore kept{platform::Shelf::rehearsal};

    void open() { kept.open(this); }
    void store_state(platform::StoreState state, bool writer) override { kept.store_state(state, writer); }
    void record_found(std::string_view session, int n, std::string_view text) override {
        kept.record_found(session, n, text);
    }
    void records_complete() override { kept.records_complete(); }
    void session_gone(std::string_view session) override { kept.session_gone(session); }
    void stored(std::string_view session, int n, platform::Stored outcome) override {
        kept.stored(session, n, outcome);
    }
    void removed(std::string_view session, platform::Stored outcome) override { kept.removed(session, outcome); }
};

// It speaks in each call: a hidden tab gets no frame.
class Seam final : public platform::Guest {
public:
    void start() override {
        kept_.open();
        say();
    }
    void frame() override {
        kept_.tick();
        practice_.kept.tick();
        say();
    }
    bool input(const platform::Event& e) override {
        if (e.kind != platform::Event::Kind::key || e.key != platform::Key::character)
            return false;
        switch (e.character) {
        case U'a':
            kept_.append("kite", "record \xC3\xBC " + std::to_string(++serial_));
            break;
        case U'm': // many at once
            for (int i = 0; i < 50; ++i)
                kept_.append("kite", std::string(300, static_cast<char>('a' + i % 26)));
            break;
        case U'p':
            practice_.open();
            break;
        case U'q':
            practice_.kept.append("kite", "played " + std::to_string(++serial_));
            break;
        case U'd':
            kept_.remove("kite");
            break;
        case U'c':
            platform::clear_all();
            break;
        case U't':
            platform::take_over();
            break;
        case U'r':
            platform::remind_at(platform::now() + Seconds{1});
            break;
        case U's':
            platform::set_sound(platform::sound() == platform::Sound::off);
            break;
        case U'k':
            key_ = platform::new_session_key();
            break;
        case U'x':
            __builtin_trap();
        default:
            return false;
        }
        say();
        return true;
    }
    void before_print() override {}
    void store_state(platform::StoreState state, bool writer) override {
        kept_.store_state(state, writer);
        say();
    }
    void record_found(std::string_view session, int n, std::string_view text) override {
        kept_.record_found(session, n, text);
        last_ = text;
        say();
    }
    void records_complete() override {
        kept_.records_complete();
        say();
    }
    void session_gone(std::string_view session) override {
        kept_.session_gone(session);
        say();
    }
    void stored(std::string_view session, int n, platform::Stored outcome) override {
        kept_.stored(session, n, outcome);
        say();
    }
    void removed(std::string_view session, platform::Stored outcome) override {
        kept_.removed(session, outcome);
        say();
    }
    void cleared(const platform::Left& left) override {
        kept_.cleared();
        practice_.kept.cleared();
        left_ = std::to_string(left.records) + "," + std::to_string(left.settings) + "," +
                std::to_string(left.caches);
        say();
    }
    void woken() override {
        ++woken_;
        platform::set_title("woken");
        say();
    }
    void awake() override {
        ++awake_;
        say();
    }
    void clock_jumped(Seconds by) override {
        jumped_ = by.count;
        say();
    }
    void file_opened(platform::FileOutcome, std::string_view text) override {
        last_ = text;
        say();
    }

private:
    void say() {
        const store::Standing standing = kept_.standing("kite"), played = practice_.kept.standing("kite");
        const auto number = [](auto n) { return std::to_string(static_cast<std::int64_t>(n)); };
        said_ = "mode " + number(kept_.mode()) + "; noted " + number(standing.last) + "; saved " +
                number(standing.saved) + "; trouble " + number(standing.trouble) + "; rehearsal " +
                number(practice_.kept.mode()) + "; played " +
                number(played.last) + "; kept " + number(played.saved) + "; woken " + number(woken_) +
                "; awake " + number(awake_ > 0 ? 1 : 0) + "; jumped " + number(jumped_) + "; sound " +
                number(platform::sound()) + "; ticker " + number(platform::ticker()) + "; left " + left_ +
                "; key " + key_ + "; last " + last_;
        platform::announce(said_);
    }

    store::SessionStore kept_;
    Practice practice_;
    int serial_ = 0, woken_ = 0, awake_ = 0;
    std::int64_t jumped_ = 0;
    std::string left_, key_, last_, said_;
};

} // namespace

int main() {
    platform::run(*new Seam);
    return 0;
}
