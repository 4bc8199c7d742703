#include "web/screens/many_files.hpp"

#include "core/words/format.hpp"

#include <algorithm>

namespace hangtime::screens {

namespace {
constexpr std::int64_t slice_ms = 8; // so that a picture still comes sixty times a second
}

void ManyFiles::choose() {
    platform::open_files();
}

// More of them come on top of what was read before.
void ManyFiles::chosen(int count) {
    if (count <= 0)
        return;
    before_ += all_;
    all_ = count;
    done_ = waiting_ = 0;
    batch_ = first_batch;
    cancelled_ = false;
}

void ManyFiles::read(platform::FileOutcome outcome, std::string_view text) {
    if (!busy())
        return;
    const std::int64_t begun = platform::now_ms();
    ++done_;
    --waiting_;
    std::optional<Error> error;
    if (outcome == platform::FileOutcome::opened)
        error = take_(text);
    else
        error = Error{"", outcome == platform::FileOutcome::too_large ? "is too large" : "cannot be read as text", {}};
    if (error)
        left_out_.push_back({"file " + std::to_string(before_ + done_), joined({error->where, error->where.empty() ? "" : ": ", error->problem})});
    spent_ms_ += platform::now_ms() - begun;
}

void ManyFiles::go_on() {
    if (!busy() || waiting_ > 0)
        return;
    if (done_ > 0 && spent_ms_ < slice_ms / 2)
        batch_ = std::min(2 * batch_, most_batch);
    else if (spent_ms_ > slice_ms)
        batch_ = std::max(batch_ / 2, 1);
    spent_ms_ = 0;
    waiting_ = std::min(batch_, all_ - done_);
    platform::read_files(waiting_);
}

void ManyFiles::cancel() {
    platform::forget_files();
    all_ = done_;
    waiting_ = 0;
    cancelled_ = true;
}

void ManyFiles::clear() {
    platform::forget_files();
    all_ = done_ = before_ = waiting_ = 0;
    cancelled_ = false;
    left_out_.clear();
}

} // namespace hangtime::screens
