#include "core/cli/options.hpp"

namespace hangtime::cli {

namespace {

constexpr const char* command_names =
    "sheet, protocol, card, scan, compatible, replay, observe, sequence, round, rehearse, review or class "
    "(hangtime --help says more)";

std::optional<Command> command_from(const std::string& word) {
    if (word == "sheet") return Command::sheet;
    if (word == "protocol") return Command::protocol;
    if (word == "card") return Command::card;
    if (word == "scan") return Command::scan;
    if (word == "compatible") return Command::compatible;
    if (word == "replay") return Command::replay;
    if (word == "observe") return Command::observe;
    if (word == "sequence") return Command::sequence;
    if (word == "round") return Command::round;
    if (word == "rehearse") return Command::rehearse;
    if (word == "review") return Command::review;
    if (word == "class") return Command::class_of;
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
    switch (command) {
        case Command::sheet: return "--as, --now, --protocol, --protocols, --out, --help";
        case Command::protocol: return "--cases, --as, --out, --help";
        case Command::card: return "--as, --out, --help";
        case Command::scan: return "--as, --help; after -- everything is taken for a scan";
        case Command::replay: return "--as, --at, --out, --help";
        case Command::compatible:
        case Command::observe:
        case Command::sequence:
        case Command::round: return "--as, --protocol, --protocols, --out, --help";
        case Command::rehearse:
            return "--check, --actions, --compare, --seed, --log, --make, --cards, --as, --protocol, --protocols, --out, --help";
        case Command::review: return "--floor, --as, --out, --help";
        case Command::class_of: return "--as, --out, --help";
    }
    return {};
}

// Where the text that an option takes goes; null where the command has no such option.
std::string* place_of(Options& options, const std::string& name) {
    const Command command = *options.command;
    const bool sheet = command == Command::sheet;
    const bool rules = sheet || command == Command::compatible || command == Command::observe ||
                       command == Command::sequence || command == Command::round || command == Command::rehearse;
    if (name == "--out" && command != Command::scan) return &options.out;
    if (name == "--cases" && command == Command::protocol) return &options.cases;
    if (name == "--actions" && command == Command::rehearse) return &options.actions;
    if (name == "--compare" && command == Command::rehearse) return &options.compare;
    if (name == "--now" && sheet) return &options.now;
    if (name == "--at" && command == Command::replay) return &options.at;
    if (name == "--protocol" && rules) return &options.protocol;
    if (name == "--protocols" && rules) return &options.protocols;
    return nullptr;
}

bool takes(Command command, Format format) {
    switch (command) {
        case Command::sheet: return true;
        case Command::protocol:
        case Command::card: return format == Format::text || format == Format::html;
        case Command::scan: return format == Format::text || format == Format::json;
        case Command::replay: return format == Format::text || format == Format::html || format == Format::json;
        case Command::compatible:
        case Command::observe:
        case Command::rehearse:
            return format == Format::text || format == Format::html || format == Format::json;
        case Command::sequence:
        case Command::round: return format != Format::csv;
        case Command::review:
        case Command::class_of: return format != Format::ics;
    }
    return false;
}

std::string forms_of(Command command) {
    switch (command) {
        case Command::sheet: return "text, html, json, csv or ics";
        case Command::protocol:
        case Command::card: return "text or html";
        case Command::scan: return "text or json";
        case Command::replay:
        case Command::compatible:
        case Command::observe:
        case Command::rehearse: return "text, html or json";
        case Command::sequence:
        case Command::round: return "text, html, json or ics";
        case Command::review:
        case Command::class_of: return "text, html, json or csv";
    }
    return {};
}

// The options without a value.
bool* switch_of(Options& options, const std::string& name) {
    if (*options.command != Command::rehearse) return nullptr;
    if (name == "--check") return &options.check;
    if (name == "--make") return &options.make;
    if (name == "--log") return &options.log;
    if (name == "--cards") return &options.cards;
    return nullptr;
}

// The options with a whole number, and what it may be at most.
std::optional<std::int32_t>* number_of(Options& options, const std::string& name, std::int32_t& least, std::int32_t& most) {
    if (*options.command == Command::rehearse && name == "--seed") {
        least = 0;
        most = 999;
        return &options.seed;
    }
    if (*options.command == Command::review && name == "--floor") {
        least = 1;
        most = 1000;
        return &options.floor;
    }
    return nullptr;
}

std::optional<std::int32_t> whole_number(const std::string& text, std::int32_t least, std::int32_t most) {
    std::int32_t n = 0;
    if (text.empty() || text.size() > 6) return std::nullopt;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        n = n * 10 + (c - '0');
    }
    if (n < least || n > most) return std::nullopt;
    return n;
}

// What of the options of a rehearsal does not go together.
Result<Done> check_rehearse(const Options& o) {
    if (o.cards && (o.check || o.make || o.log || !o.actions.empty() || !o.compare.empty()))
        return Error{"--cards", "goes with --seed alone", "the scenario, --seed and --as"};
    if (o.cards && o.as == Format::json) return Error{"--cards", "has no json", "text or html"};
    if (o.make && (o.check || o.log || !o.actions.empty() || o.seed))
        return Error{"--make", "goes with nothing else", "a log alone, and --out"};
    if (o.check && (!o.actions.empty() || o.log || o.seed))
        return Error{"--check", "goes with no actions", "the scenario alone"};
    if (o.actions.empty() && !o.cards && (!o.compare.empty() || o.log || o.seed))
        return Error{!o.compare.empty() ? "--compare" : o.log ? "--log" : "--seed", "is given without --actions",
                     "--actions FILE beside it"};
    if (o.log && !o.compare.empty()) return Error{"--log", "goes with one attempt", "no --compare"};
    if (!o.compare.empty() && o.as == Format::json) return Error{"--compare", "has no json", "text or html"};
    return Done{};
}

Result<Done> check_count(const Options& options) {
    const std::size_t count = options.files.size();
    switch (*options.command) {
        case Command::sheet:
        case Command::card:
        case Command::replay:
        case Command::observe:
        case Command::sequence:
        case Command::round:
        case Command::rehearse:
        case Command::protocol: {
            const bool two = *options.command == Command::protocol || *options.command == Command::card;
            const std::size_t most = two ? 2 : 1;
            if (count == 0) return Error{"", "no file is given", "a file, or - for standard input"};
            if (count > most)
                return Error{options.files[most], "is one file too many",
                             most == 2 ? "one file, or two" : "one file"};
            if (!options.cases.empty() && count < 2)
                return Error{"--cases", "goes with two protocols", "the old one and the new one"};
            break;
        }
        case Command::review:
            if (count == 0) return Error{"", "no log is given", "one file or more"};
            break;
        case Command::class_of:
            if (count == 0) return Error{"", "no result is given", "one file or more"};
            break;
        case Command::scan:
            if (count == 0)
                return Error{"", "no scan is given", "what a scanner sent, or - for standard input"};
            break;
        case Command::compatible:
            if (count == 0) return Error{"", "no component is given", "red_cells or another component"};
            if (count > 1) return Error{options.files[1], "is one component too many", "one component"};
            break;
    }
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
    bool only_texts = false;  // after "--"
    for (; i < words.size(); ++i) {
        const std::string& word = words[i];
        if (!only_texts && (word == "--help" || word == "-h")) {
            options.help = true;
            continue;
        }
        if (!options.command) return Error{word, "comes before a command", command_names};
        const bool scan = *options.command == Command::scan;
        if (scan && !only_texts && word == "--") {
            only_texts = true;
            continue;
        }
        if (only_texts || !word.starts_with("-") || word == "-") {
            options.files.push_back(word);
            continue;
        }
        // "--as=html" and "--as html" are the same.
        const std::size_t equals = word.find('=');
        const std::string name = word.substr(0, equals);
        if (bool* given = equals == std::string::npos ? switch_of(options, name) : nullptr) {
            *given = true;
            continue;
        }
        std::string* text = place_of(options, name);
        std::int32_t least = 0, most = 0;
        std::optional<std::int32_t>* number = number_of(options, name, least, most);
        // What was scanned may begin with a dash, and says perhaps who somebody is: it is not repeated.
        if (!text && !number && name != "--as")
            return Error{scan ? "" : name,
                         scan ? "there is an option that is not known" : "is no option here",
                         options_of(*options.command)};
        std::string value;
        if (equals != std::string::npos) {
            value = word.substr(equals + 1);
        } else if (i + 1 < words.size()) {
            value = words[++i];
        }
        if (value.empty()) return Error{name, "has no value", name + " and what it is to be"};
        if (number) {
            if (*number) return Error{name, "is given twice", "it once"};
            *number = whole_number(value, least, most);
            if (!*number)
                return Error{name, "\"" + value + "\" is no number that it can have",
                             "a whole number from " + std::to_string(least) + " to " + std::to_string(most)};
            continue;
        }
        if (text) {
            if (!text->empty()) return Error{name, "is given twice", "it once"};
            *text = value;
            continue;
        }
        const auto format = format_from(value);
        if (as_given) return Error{name, "is given twice", "it once"};
        if (!format || !takes(*options.command, *format))
            return Error{name, (scan ? "this" : "\"" + value + "\"") + " is no form that it can have",
                         forms_of(*options.command)};
        options.as = *format;
        as_given = true;
    }
    if (options.help) return options;
    if (!options.command) return Error{"", "no command is given", command_names};
    const Result<Done> count = check_count(options);
    if (!count.ok()) return count.error();
    if (*options.command == Command::rehearse)
        if (const Result<Done> fits = check_rehearse(options); !fits.ok()) return fits.error();
    return options;
}

}  // namespace hangtime::cli
