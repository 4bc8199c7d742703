#include "web/input/burst.hpp"

namespace hangtime::input {

using platform::Event;
using platform::Key;

bool BurstFilter::feed(const Event& event) {
    tick(event.at_ms);
    const bool in_tail = count_ == 0 && event.at_ms - scan_ms_ <= tail_ms;
    if (event.key == Key::character) {
        if (in_tail) { // the scanner is still talking
            scan_ms_ = event.at_ms;
            return true;
        }
        if (count_ == 0)
            first_ms_ = event.at_ms;
        if (count_ < held_.size())
            held_[count_] = event;
        ++count_;
        last_ms_ = event.at_ms;
        return true;
    }
    if (count_ >= least) {
        const bool ends = event.key == Key::enter || event.key == Key::tab;
        end_scan(event.at_ms);
        if (ends)
            return true;
    } else if (in_tail && (event.key == Key::enter || event.key == Key::tab)) {
        scan_ms_ = event.at_ms; // a second ending: carriage return and line feed
        return true;
    }
    hand_on();
    sink_.key(event);
    return event.key != Key::tab;
}

void BurstFilter::tick(std::int64_t now_ms) {
    if (count_ == 0 || now_ms - last_ms_ < gap_ms)
        return;
    if (count_ >= least)
        end_scan(last_ms_); // too fast for a person, whether an ending came or not
    else
        hand_on();
}

std::int64_t BurstFilter::wait_ms(std::int64_t now_ms) const {
    if (count_ == 0)
        return -1;
    const std::int64_t left = last_ms_ + gap_ms - now_ms;
    return left > 0 ? left : 0;
}

void BurstFilter::hand_on() {
    const std::size_t n = count_;
    count_ = 0;
    for (std::size_t i = 0; i < n; ++i) {
        handed_ms_ = held_[i].at_ms;
        sink_.key(held_[i]);
    }
    held_ = {};
}

void BurstFilter::end_scan(std::int64_t at_ms) {
    const bool leaked = first_ms_ - handed_ms_ <= tail_ms;
    held_ = {};
    count_ = 0;
    scan_ms_ = at_ms;
    sink_.scan(leaked);
}

} // namespace hangtime::input
