#include "core/cli/options.hpp"

/// What --help prints.

namespace hangtime::cli {

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
                   "JSON output is described in core/cli/round.schema.json.\n"
                   "Exit status: 0 there is a way; 1 there is none, or none was found; 2 bad input or usage.\n\n" +
                   not_a_device;
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
