#include "web/input/burst.hpp"

#include "web/input/wipe.hpp"

#include <algorithm>

namespace hangtime::input {

using platform::Event;
using platform::Key;

bool BurstFilter::in_tail(std::int64_t at_ms) const {
    return count_ == 0 && at_ms <= tail_until_ms_;
}

// One character less will do right after one that came too slowly to be held back: a scan's first, most likely.
bool BurstFilter::is_scan() const {
    return count_ >= least || (count_ + 1 >= least && first_ms_ - handed_ms_ <= tail_ms);
}

bool BurstFilter::feed(const Event& event) {
    if (count_ > 0 && event.at_ms - last_ms_ >= gap_ms)
        after_silence();
    const bool ending = event.key == Key::enter || event.key == Key::tab;
    if (in_tail(event.at_ms) && (ending || event.key == Key::character)) { // the scanner is still talking
        const bool quick = event.at_ms - tail_key_ms_ < gap_ms;
        const bool stammers = !ended_ && event.at_ms - scan_ms_ < stammer_ms;
        tail_key_ms_ = event.at_ms;
        ended_ = ended_ || ending;
        if (quick || stammers)
            tail_until_ms_ = event.at_ms + tail_ms;
        return true;
    }
    if (event.key == Key::character) {
        if (count_ == 0)
            first_ms_ = event.at_ms, whole_ = listening_;
        if (count_ < held_.size())
            held_[count_] = event;
        hold(event.character);
        ++count_;
        last_ms_ = event.at_ms;
        handled_ms_ = std::max(event.handled_ms, event.at_ms);
        return true;
    }
    if (is_scan()) {
        end_scan(event.at_ms, ending);
        if (ending)
            return true;
    }
    hand_on();
    sink_.key(event);
    return event.key != Key::tab;
}

void BurstFilter::tick(std::int64_t now_ms) {
    if (count_ > 0 && now_ms - handled_ms_ >= gap_ms)
        after_silence();
}

void BurstFilter::after_silence() {
    if (is_scan())
        end_scan(last_ms_, false); // too fast for a person, whether an ending came or not
    else
        hand_on();
}

std::int64_t BurstFilter::wait_ms(std::int64_t now_ms) const {
    if (count_ == 0)
        return -1;
    const std::int64_t left = handled_ms_ + gap_ms - now_ms;
    return left > 0 ? left : 0;
}

void BurstFilter::hand_on() {
    const std::size_t n = count_;
    count_ = 0;
    for (std::size_t i = 0; i < n; ++i) {
        handed_ms_ = held_[i].at_ms;
        sink_.key(held_[i]);
    }
    forget();
}

// On no label stands anything but printable ASCII; what is none of that becomes a sign that no structure has.
void BurstFilter::hold(char32_t character) {
    if (whole_ && count_ < text_.size())
        text_[count_] = character >= 0x20 && character < 0x7F ? static_cast<char>(character) : '\x01';
}

void BurstFilter::forget() {
    wipe(held_);
    wipe(text_);
    whole_ = false;
}

void BurstFilter::listen(bool on) {
    if (!on && listening_) {
        wipe(text_);
        whole_ = false;
    }
    listening_ = on;
}

void BurstFilter::end_scan(std::int64_t at_ms, bool ended) {
    const bool leaked = first_ms_ - handed_ms_ <= tail_ms;
    // A scan whose beginning went elsewhere is no whole scan, and is not read.
    if (whole_ && !leaked)
        sink_.scanned({text_.data(), std::min(count_, text_.size())});
    forget();
    count_ = 0;
    scan_ms_ = tail_key_ms_ = at_ms;
    tail_until_ms_ = at_ms + tail_ms;
    ended_ = ended;
    sink_.scan(leaked);
}

} // namespace hangtime::input
