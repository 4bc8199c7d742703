#pragma once

/// Tells a scanner from a person.
///
/// A barcode scanner types like a keyboard, much faster than anybody, and ends with Enter or Tab. Nothing
/// that it sends may fill a field or press a button, so every character is held back until it is clear who
/// typed it: after `gap_ms` of silence a few characters were a person's and are handed on; `least` characters
/// or more that came without such a silence were not.
///
/// A burst goes to the sink as "a scan", and what it said may be somebody's identity. So it is forgotten unread,
/// unless the screen asked for the data of a bag (`listen`) before the burst began and all of it arrived: then
/// the sink is told its text once, and when it returns the text is overwritten. The sink must not keep it.
///
/// Use: `feed` for every key that goes down (auto-repeat left out), `tick` whenever time may have passed, and
/// call `tick` again after `wait_ms` when that is not negative.

#include "core/match/label.hpp"
#include "web/platform/platform.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace hangtime::input {

class BurstFilter {
public:
    static constexpr std::int64_t gap_ms = 35; // common practice, no source: people stay above 50
    static constexpr std::size_t least = 6;
    /// What follows a scan this soon belongs to it: nobody's hand is back on the keys by then. Slower keys do
    /// not prolong it, so that somebody who types fast has them back, unless the scan had no ending: then a
    /// scanner that stammers may still be talking, for `stammer_ms` at most.
    static constexpr std::int64_t tail_ms = 150;
    static constexpr std::int64_t stammer_ms = 1000; // from memory: the slowest wireless ones

    class Sink {
    public:
        virtual void key(const platform::Event& event) = 0; // a person's
        /// Something was scanned; not what. `leaked`: its beginning came slowly enough to pass for a
        /// person's, so what was typed just now is not to be trusted.
        virtual void scan(bool leaked) = 0;
        /// What was scanned, just before `scan`; only while somebody listens. Longer than `most_scanned` by one
        /// at most. Not to be kept.
        virtual void scanned(std::string_view /*text*/) {}

    protected:
        ~Sink() = default;
    };

    explicit BurstFilter(Sink& sink) : sink_(sink) {}

    /// True: held back or swallowed, so the browser must not act on it. A key that ends nothing and is no
    /// character goes on at once, and is false for Tab only.
    /// The rhythm of the keys is judged by when they went down (`at_ms`); silence only after when they were handled
    /// (`handled_ms`), because on a busy machine the next key may have gone down in time and still be on its way.
    bool feed(const platform::Event& event);
    void tick(std::int64_t now_ms);
    /// How long until `tick` has something to decide; -1: nothing is held back.
    std::int64_t wait_ms(std::int64_t now_ms) const;
    /// Whether a screen asks for the data of a bag. What was held of a burst is overwritten when it stops.
    void listen(bool on);

private:
    void after_silence();
    void hand_on();
    void end_scan(std::int64_t at_ms, bool ended);
    void hold(char32_t character);
    void forget();
    bool is_scan() const;
    bool in_tail(std::int64_t at_ms) const;

    Sink& sink_;
    std::array<platform::Event, least - 1> held_{}; // a person's few; more is a scan, and not kept
    std::size_t count_ = 0;                         // characters without a silence, kept or not
    bool listening_ = false, whole_ = false;        // `whole_`: since before the first of these
    std::array<char, most_scanned + 1> text_{};     // of these, while somebody listens
    std::int64_t first_ms_ = 0, last_ms_ = 0;       // of these
    std::int64_t handled_ms_ = 0;                   // when the last of these was handled
    std::int64_t handed_ms_ = -tail_ms - 1;         // when the last character that was handed on came
    std::int64_t scan_ms_ = -tail_ms - 1;           // when the last scan ended
    std::int64_t tail_until_ms_ = -1;               // what comes by then is the scan's
    std::int64_t tail_key_ms_ = -1;                 // when its last key came
    bool ended_ = true;                             // by Enter or Tab
};

} // namespace hangtime::input
