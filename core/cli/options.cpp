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
               "  hangtime card FILE FILE       what is different under the second, for who knows the first\n"
               "  hangtime scan STRING...       what the bar codes of a bag say, or why they are refused\n"
               "  hangtime compatible COMPONENT which groups fit which, under a protocol\n"
               "  hangtime replay LOG           the reckoning of a session's log, at any moment\n"
               "  hangtime observe FILE         what changed from the baseline, and by which rule\n"
               "  hangtime sequence FILE        several units for one person, one after another\n"
               "  hangtime round FILE           several transfusions, one or more nurses\n"
               "  hangtime rehearse FILE        checks a rehearsal, or plays it with a list of actions\n"
               "  hangtime review LOG...        how often limits and checks were kept, over many sessions\n"
               "  hangtime class RESULT...      what a class did in rehearsals\n"
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
        case Command::round:
            return "hangtime round FILE [options]\n\n"
                   "Reads a round (core/round/round.schema.json): transfusions and nurses. Finds starts and who\n"
                   "does what so that all are finished as early as possible, and proves it or says how far from\n"
                   "it the answer can be; where there is no way, the demands that clash.\n\n"
                   "  --as FORM            text (the default), html, json or ics\n"
                   "  --protocol FILE, --protocols FOLDER   as for sheet\n"
                   "  --out FILE           writes there in place of standard output\n\n"
                   "Exit status: 0 there is a way; 1 there is none, or none was found; 2 bad input or usage.\n";
        case Command::sequence:
            return "hangtime sequence FILE [options]\n\n"
                   "Reads several units for one person, one after another (core/round/sequence.schema.json): for each\n"
                   "the set (the same or a new one, and why), when to call for it and when not, its match, baseline,\n"
                   "rates and checks; how many are over before a given hour; the totals by weight.\n\n"
                   "  --as FORM            text (the default), html, json or ics\n"
                   "  --protocol FILE, --protocols FOLDER   as for sheet\n"
                   "  --out FILE           writes there in place of standard output\n\n"
                   "JSON output is described in core/cli/sequence.schema.json.\n"
                   "Exit status: 0 all units fit; 1 one does not, or is not over in time; 2 bad input or usage.\n\n" +
                   not_a_device;
        case Command::protocol:
            return "hangtime protocol FILE [FILE] [options]\n\n"
                   "Checks a protocol (core/protocol/protocol.schema.json) and prints it as tables with the "
                   "source\n"
                   "of each value; with two files, what differs.\n\n"
                   "  --cases FOLDER   with two files: what the second would change in the transfusions of this\n"
                   "                   folder (demo-data/transfusions, say), old against new\n"
                   "  --as FORM        text (the default) or html\n"
                   "  --out FILE       writes there in place of standard output\n\n"
                   "Exit status: 0 the files are right (whether or not they differ); 2 one is not.\n";
        case Command::card:
            return "hangtime card FILE [FILE] [options]\n\n"
                   "Prints a protocol as a page for the day without a computer: limits, a form for the "
                   "times, and\n"
                   "tables of rates, drops and rates by weight. With two files: one card of what is different "
                   "under\n"
                   "the second, for somebody who knows the first.\n\n"
                   "  --as FORM    text (the default) or html\n"
                   "  --out FILE   writes there in place of standard output\n\n"
                   "Exit status: 0; 2 the file is not right.\n";
        case Command::replay:
            return "hangtime replay LOG [options]\n\n"
                   "Reads the log of a session (core/session/log.schema.json says what its lines hold) and writes what\n"
                   "followed from it at a moment: from the records that had been noted by then.\n\n"
                   "  --at TIME    the moment, by the clock on the wall, or with an offset or Z. Without it: when the\n"
                   "               last record was noted\n"
                   "  --as FORM    text (the default), html or json\n"
                   "  --out FILE   writes there in place of standard output\n\n"
                   "Exit status: 0; 1 it does not fit, a limit has passed, or a record is damaged (it is named on\n"
                   "standard error and left out); 2 bad input or usage.\n\n" +
                   not_a_device;
        case Command::scan:
            return "hangtime scan STRING... [options]\n\n"
                   "Says what each scan was understood as, or why it was refused. A refusal repeats nothing "
                   "of the scan.\n"
                   "- takes the scans from standard input, one a line: what stands on a command line is kept "
                   "in the\n"
                   "shell's history and seen by others on the machine. After -- everything is a scan.\n\n"
                   "  --as FORM    text (the default) or json\n\n"
                   "Exit status: 0 all were understood; 1 one was refused; 2 usage.\n\n" +
                   not_a_device;
        case Command::compatible:
            return "hangtime compatible COMPONENT [options]\n\n"
                   "Prints which groups of a unit fit which groups of a recipient, for an adult without "
                   "special\n"
                   "circumstances. COMPONENT is red_cells, platelets, plasma, cryoprecipitate, whole_blood "
                   "or\n"
                   "granulocytes.\n\n"
                   "  --as FORM            text (the default), html or json\n"
                   "  --protocol FILE      the local rules. Without it: general-ward\n"
                   "  --protocols FOLDER   where general-ward.json is looked for; otherwise in "
                   "./protocols and\n"
                   "                       ./demo-data/protocols\n"
                   "  --out FILE           writes there in place of standard output\n\n"
                   "Exit status: 0; 1 the rules say nothing about it, or it is not covered; 2 bad input or "
                   "usage.\n\n" +
                   not_a_device;
        case Command::observe:
            return "hangtime observe FILE [options]\n\n"
                   "Reads a baseline and the sets of observations after it "
                   "(core/report/observations.schema.json)\n"
                   "and prints each sign against its baseline, what changed by which rule, what could not\n"
                   "be compared, and an early-warning score beside it. Any new symptom is enough to stop;\n"
                   "what is not listed is not ruled out.\n\n"
                   "  --as FORM            text (the default), html or json\n"
                   "  --protocol FILE      the local rules; must be those that the file names\n"
                   "  --protocols FOLDER   where rules are looked up by their id; otherwise as for sheet\n"
                   "  --out FILE           writes there in place of standard output\n\n"
                   "Exit status: 0 no set asks to hold; 1 one does; 2 bad input or usage.\n\n" +
                   not_a_device;
        case Command::class_of:
            return "hangtime class RESULT... [options]\n\n"
                   "Reads the saved results of rehearsals (core/rehearse/result.schema.json; what rehearse --as json\n"
                   "writes) and says what they come to together: of each scored item how many of how many, the common\n"
                   "mistakes, the points. No result is named.\n\n"
                   "  --as FORM    text (the default), html, json or csv\n"
                   "  --out FILE   writes there in place of standard output\n\n"
                   "Exit status: 0; 1 a file was left out; 2 bad input or usage, or no file could be used.\n";
        case Command::review:
            return "hangtime review LOG... [options]\n\n"
                   "Reads the logs of any number of sessions and counts: hung inside the window, all in inside the\n"
                   "limit, early checks on time, checks missed, pauses, returns and discards, by component and\n"
                   "protocol. Counts below a floor are not shown. A file that cannot be read, a damaged one and a\n"
                   "rehearsal are named and left out.\n\n"
                   "  --floor N    from 1; 5 without it\n"
                   "  --as FORM    text (the default), html, json or csv\n"
                   "  --out FILE   writes there in place of standard output\n\n"
                   "Exit status: 0; 1 a file was left out; 2 bad input or usage, or no file could be used.\n\n" +
                   not_a_device;
        case Command::rehearse:
            return "hangtime rehearse FILE [options]\n"
                   "hangtime rehearse LOG --make [--out FILE]\n\n"
                   "Checks a rehearsal (core/rehearse/scenario.schema.json) and says what it is; or plays it without\n"
                   "a screen with a list of actions (core/rehearse/actions.schema.json) and says what came of it.\n\n"
                   "  --check              only checks; it is what happens without --actions\n"
                   "  --actions FILE       what the learner does\n"
                   "  --compare FILE       what another learner does: the two side by side\n"
                   "  --seed N             0 to 999; small variations, the same for the same number\n"
                   "  --log                writes the log of the attempt in place of the debrief\n"
                   "  --make               makes a rehearsal out of the log of a session\n"
                   "  --as FORM            text (the default), html or json\n"
                   "  --protocol FILE      the local rules; must be those that the file names\n"
                   "  --protocols FOLDER   where rules are looked up by their id; otherwise as for sheet\n"
                   "  --out FILE           writes there in place of standard output\n\n"
                   "Exit status: 0 the file is right, every scored item was met; 1 one was not; 2 bad input or\n"
                   "usage.\n\n" +
                   not_a_device;
    }
    return {};
}

}  // namespace hangtime::cli
