#pragma once

/// The words after `hangtime` on a command line.

#include "core/result.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace hangtime::cli {

enum class Command {
    sheet, protocol, card, scan, compatible, replay, observe, sequence, round, rehearse, review, class_of
};
enum class Format { text, html, json, csv, ics };

struct Options {
    std::optional<Command> command;  // none: only --help
    bool help = false;
    Format as = Format::text;
    std::vector<std::string> files;  // of `scan` the texts, of `compatible` the component
    std::string now, at, protocol, protocols, out;  // empty: not given
    std::string actions, compare;    // of `rehearse`
    std::string cases;               // of `protocol`, a folder
    bool check = false, make = false, log = false, cards = false;
    std::optional<std::int32_t> seed, floor;  // of `rehearse`, and of `review`
};

/// Reads the words; refuses unknown ones, repeated options, and what a command does not take.
Result<Options> read_options(const std::vector<std::string>& words);

/// What --help prints, for a command or for all of it.
std::string help_text(std::optional<Command> command);

}  // namespace hangtime::cli
