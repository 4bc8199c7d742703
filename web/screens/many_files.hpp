#pragma once

/// Many files, read a few at a time so that the page goes on in between: how many were chosen, how far it has come, what
/// was left out and where. A file is known by its place among them, never by its name.

#include "core/rehearse/review.hpp"
#include "web/platform/platform.hpp"

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::screens {

class ManyFiles {
public:
    /// What to do with a text: an error where it is left out.
    using Take = std::function<std::optional<Error>(std::string_view)>;
    explicit ManyFiles(Take take) : take_(std::move(take)) {}

    void choose();
    void chosen(int count);
    void read(platform::FileOutcome outcome, std::string_view text);
    /// Asks for the next ones where none are on their way. Call once a picture.
    void go_on();
    void cancel();
    void clear();

    bool busy() const { return done_ < all_; }
    bool cancelled() const { return cancelled_; }
    int done() const { return done_; }
    int all() const { return all_; }
    const std::vector<LeftOut>& left_out() const { return left_out_; }

private:
    Take take_;
    int all_ = 0, done_ = 0, before_ = 0, waiting_ = 0, batch_ = first_batch;
    std::int64_t spent_ms_ = 0; // on the batch that is under way
    bool cancelled_ = false;
    std::vector<LeftOut> left_out_;

    static constexpr int first_batch = 4, most_batch = 64;
};

} // namespace hangtime::screens
