// hangtime: the native command.

#include "core/cli/run.hpp"

#include <cstdio>

int main(int argc, char** argv) {
    const hangtime::cli::Outcome outcome =
        hangtime::cli::run(std::vector<std::string>(argv + 1, argv + argc));
    std::fwrite(outcome.err.data(), 1, outcome.err.size(), stderr);
    const bool written =
        std::fwrite(outcome.out.data(), 1, outcome.out.size(), stdout) == outcome.out.size() &&
        std::fflush(stdout) == 0;
    if (!written) {
        std::fputs("hangtime: standard output cannot be written\n", stderr);
        return static_cast<int>(hangtime::cli::Status::bad_input);
    }
    return static_cast<int>(outcome.status);
}
