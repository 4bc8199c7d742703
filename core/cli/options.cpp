#include "core/cli/options.hpp"

namespace hangtime::cli {

namespace {

constexpr const char* command_names = "sheet, protocol or card (hangtime --help says more)";

std::optional<Command> command_from(const std::string& word) {
    if (word == "sheet") return Command::sheet;
    if (word == "protocol") return Command::protocol;
    if (word == "card") return Command::card;
    return std::nullopt;
}

std::optional<Format> format_from(const std::string& word) {
    if (word == "text") return Format::text;
    if (word == "html") return Format::html;
    if (word == "json") return Format::json;
    if (word == "csv") return Format::csv;
    if (word == "ics") return Format::ics;
    return std::nullopt;
}

std::string options_of(Command command) {
    return command == Command::sheet ? "--as, --now, --protocol, --protocols, --out, --help"
                                     : "--as, --out, --help";
}

Result<Done> check_files(const Options& options) {
    const std::size_t count = options.files.size();
    const bool two = *options.command == Command::protocol;
    if (count == 0) return Error{"", "no file is given", "a file, or - for standard input"};
    if (count > (two ? 2U : 1U))
        return Error{options.files[two ? 2 : 1], "is one file too many",
                     two ? "one file, or two" : "one file"};
    return Done{};
}

}  // namespace

Result<Options> read_options(const std::vector<std::string>& words) {
    Options options;
    bool as_given = false;
    std::size_t i = 0;
    if (i < words.size() && !words[i].starts_with("-")) {
        options.command = command_from(words[i]);
        if (!options.command) return Error{words[i], "is no command", command_names};
        ++i;
    }
    for (; i < words.size(); ++i) {
        const std::string& word = words[i];
        if (word == "--help" || word == "-h") {
            options.help = true;
            continue;
        }
        if (!options.command) return Error{word, "comes before a command", command_names};
        if (!word.starts_with("-") || word == "-") {
            options.files.push_back(word);
            continue;
        }
        // "--as=html" and "--as html" are the same.
        const std::size_t equals = word.find('=');
        const std::string name = word.substr(0, equals);
        const bool sheet = *options.command == Command::sheet;
        std::string* text = name == "--out"                  ? &options.out
                            : sheet && name == "--now"       ? &options.now
                            : sheet && name == "--protocol"  ? &options.protocol
                            : sheet && name == "--protocols" ? &options.protocols
                                                             : nullptr;
        if (!text && name != "--as") return Error{name, "is no option here", options_of(*options.command)};
        std::string value;
        if (equals != std::string::npos) {
            value = word.substr(equals + 1);
        } else if (i + 1 < words.size()) {
            value = words[++i];
        }
        if (value.empty()) return Error{name, "has no value", name + " and what it is to be"};
        if (text) {
            if (!text->empty()) return Error{name, "is given twice", "it once"};
            *text = value;
            continue;
        }
        const auto format = format_from(value);
        if (as_given) return Error{name, "is given twice", "it once"};
        if (!format || (!sheet && *format != Format::text && *format != Format::html))
            return Error{name, "\"" + value + "\" is no form that it can have",
                         sheet ? "text, html, json, csv or ics" : "text or html"};
        options.as = *format;
        as_given = true;
    }
    if (options.help) return options;
    if (!options.command) return Error{"", "no command is given", command_names};
    const Result<Done> files = check_files(options);
    if (!files.ok()) return files.error();
    return options;
}

std::string help_text(std::optional<Command> command) {
    const std::string exit_status =
        "Exit status: 0 it fits; 1 it does not fit, a limit has passed, or it cannot be worked out yet;\n"
        "2 bad input or usage, then nothing is on standard output and one line on standard error says what "
        "is wrong.\n";
    const std::string not_a_device =
        "Hangtime works out times and rates. It is not a medical device, not an alarm and not a record.\n"
        "Local policy, the label on the bag and licensed practice come first.\n";
    if (!command)
        return "hangtime: from a bag and an order to a sheet\n\n"
               "  hangtime sheet FILE           the plan for one bag\n"
               "  hangtime protocol FILE        checks local rules and prints them with their sources\n"
               "  hangtime protocol FILE FILE   what differs between two\n"
               "  hangtime card FILE            a page for the day without a computer\n"
               "  hangtime COMMAND --help       more about a command\n\n"
               "FILE is JSON; - is standard input.\n" +
               exit_status + "\n" + not_a_device;
    switch (*command) {
        case Command::sheet:
            return "hangtime sheet FILE [options]\n\n"
                   "Reads a transfusion (core/session/transfusion.schema.json) and writes its sheet.\n\n"
                   "  --as FORM            text (the default), html, json, csv or ics\n"
                   "  --now TIME           as it stands at this time, such as 2026-03-14T13:45 by the clock "
                   "on the\n"
                   "                       wall, or with an offset or Z: --now \"$(date -u +%FT%TZ)\". "
                   "Without it: the\n"
                   "                       file's own \"now\", or else the last thing that the file records\n"
                   "  --protocol FILE      the local rules; must be those that the file names\n"
                   "  --protocols FOLDER   where rules are looked up by their id. Without it: beside the "
                   "file, in\n"
                   "                       protocols/ beside it or one level up, then in ./protocols and\n"
                   "                       ./demo-data/protocols\n"
                   "  --out FILE           writes there (all of it or nothing) in place of standard "
                   "output\n\n"
                   "JSON output is described in core/cli/sheet.schema.json.\n" +
                   exit_status + "\n" + not_a_device;
        case Command::protocol:
            return "hangtime protocol FILE [FILE] [options]\n\n"
                   "Checks a protocol (core/protocol/protocol.schema.json) and prints it as tables with the "
                   "source\n"
                   "of each value; with two files, what differs.\n\n"
                   "  --as FORM    text (the default) or html\n"
                   "  --out FILE   writes there in place of standard output\n\n"
                   "Exit status: 0 the files are right (whether or not they differ); 2 one is not.\n";
        case Command::card:
            return "hangtime card FILE [options]\n\n"
                   "Prints a protocol as a page for the day without a computer: limits, a form for the "
                   "times, and\n"
                   "tables of rates, drops and rates by weight.\n\n"
                   "  --as FORM    text (the default) or html\n"
                   "  --out FILE   writes there in place of standard output\n\n"
                   "Exit status: 0; 2 the file is not right.\n";
    }
    return {};
}

}  // namespace hangtime::cli
