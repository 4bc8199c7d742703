#pragma once

/// The way to a rehearsal and through it by taps.

#include "tests/web/ward.hpp"
#include "web/rehearsals.hpp"

#include <string>
#include <string_view>

namespace hangtime::test {

struct Learner : Ward {
    explicit Learner(Instant now = at(13, 30), int width = 1280, int height = 800, float scale = 1);

    /// Through the doors to the list.
    void to_list();
    /// Begins the shipped rehearsal of this number with its own seed.
    void begin(int number);
    /// By a case number: 4007.
    void begin_case(std::string_view number);

    rehearse::Scene& scene() { return app().rehearsals().scene(); }
    const Session& session() { return scene().rehearsal().log().session(); }
    bool card() const { return has("card.text"); }
    /// To what is due next; a card on the way is read and gone on from. Returns what it said.
    std::string next();
    /// Jumps until the button is there, at most `most` times; what is said on the way is heard.
    void until(std::string_view button, int most = 12);
    /// Opens the entry of the check that stands on the button, copies what is seen and notes it.
    void observe(std::string_view button = "do.observe");
    void match();
    /// From the call to a run at the planned first rate.
    void until_runs();
    void end();
};

} // namespace hangtime::test
