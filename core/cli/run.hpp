#pragma once

/// The command: words in, text out, an exit status. Everything but main() itself, so that it can be tested.

#include <string>
#include <vector>

namespace hangtime::cli {

enum class Status : int {
    fits = 0,
    does_not_fit = 1,  // or a limit has passed, or it is not covered, or it cannot be worked out yet
    bad_input = 2,
};

/// What goes to standard output and standard error. On bad input `out` is empty.
struct Outcome {
    Status status = Status::fits;
    std::string out, err;
};

/// `words` without the program's own name. Reads files; writes one only where --out is given.
Outcome run(const std::vector<std::string>& words);

}  // namespace hangtime::cli
