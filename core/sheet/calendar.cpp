// RFC 5545. Section 3.1: CRLF and lines of at most 75 octets, longer ones folded; 3.3.11: backslash,
// semicolon, comma and newline escaped in TEXT; 3.3.5: times in UTC end with Z; 3.6.1: UID and DTSTAMP are
// required. No VALARM: this is not an alarm.

#include "core/sheet/document.hpp"

#include <initializer_list>

namespace hangtime::sheet {

namespace {

constexpr std::size_t most_octets = 75;

void append_digits(std::string& out, int n, int digits) {
    int power = 1;
    for (int i = 1; i < digits; ++i) power *= 10;
    for (; power > 0; power /= 10) out += static_cast<char>('0' + n / power % 10);
}

std::string utc_text(Instant at) {
    const LocalTime t = civil_from_seconds(at.utc);
    std::string out;
    append_digits(out, t.year, 4);
    append_digits(out, t.month, 2);
    append_digits(out, t.day, 2);
    out += 'T';
    append_digits(out, t.hour, 2);
    append_digits(out, t.minute, 2);
    append_digits(out, t.second, 2);
    out += 'Z';
    return out;
}

// Folded so that no letter of several octets is split.
void write_line(std::string& out, std::string_view line) {
    std::size_t room = most_octets;
    while (line.size() > room) {
        std::size_t cut = room;
        while (cut > 0 && (line[cut] & 0xC0) == 0x80) --cut;
        out += line.substr(0, cut);
        out += "\r\n ";
        line.remove_prefix(cut);
        room = most_octets - 1;  // after the space that begins a folded line
    }
    out += line;
    out += "\r\n";
}

void write_text(std::string& out, std::string_view name, std::string_view text) {
    std::string line(name);
    line += ':';
    for (const char c : text) {
        if (c == '\n') {
            line += "\\n";
            continue;
        }
        if (c == '\\' || c == ';' || c == ',') line += '\\';
        line += c;
    }
    write_line(out, line);
}

// A UID that says nothing about anybody: what the event is and when, hashed (FNV-1a), so that the same plan
// gives the same events again.
std::string uid_of(std::initializer_list<std::string_view> parts) {
    std::uint64_t hash = 14'695'981'039'346'656'037U;
    const auto mix = [&hash](std::string_view text) {
        for (const char c : text) {
            hash ^= static_cast<unsigned char>(c);
            hash *= 1'099'511'628'211U;
        }
        hash *= 1'099'511'628'211U;
    };
    for (const std::string_view part : parts) mix(part);
    std::string out;
    for (int shift = 60; shift >= 0; shift -= 4) out += "0123456789abcdef"[(hash >> shift) & 15U];
    return out + "@hangtime.invalid";
}

// A calendar has at least one component (3.6): where nothing falls on a time, a note that says why (3.6.3).
void write_note(std::string& out, const Document& document, Instant stamp) {
    write_line(out, "BEGIN:VJOURNAL");
    write_line(out, "UID:" + uid_of({document.title, utc_text(stamp)}));
    write_line(out, "DTSTAMP:" + utc_text(stamp));
    write_text(out, "SUMMARY", document.title);
    for (const Block& block : document.blocks)
        if (block.kind == BlockKind::headline) write_text(out, "DESCRIPTION", block.text);
    write_line(out, "END:VJOURNAL");
}

}  // namespace

std::string to_calendar(const Document& document, Instant stamp) {
    std::string out;
    write_line(out, "BEGIN:VCALENDAR");
    write_line(out, "VERSION:2.0");
    write_line(out, "PRODID:-//Hangtime//Sheet 1//EN");
    bool empty = true;
    for (const Moment& moment : document.moments) {
        if (!moment.in_calendar) continue;
        empty = false;
        write_line(out, "BEGIN:VEVENT");
        write_line(out, "UID:" + uid_of({document.title, moment.kind, moment.code, moment.name,
                                         utc_text(moment.at)}));
        write_line(out, "DTSTAMP:" + utc_text(stamp));
        write_line(out, "DTSTART:" + utc_text(moment.at));
        write_text(out, "SUMMARY", moment.name + ": " + document.title);
        std::string description = moment.detail;
        for (const std::string* more : {&moment.sum, &moment.source})
            if (!more->empty()) description += (description.empty() ? "" : "\n") + *more;
        if (!description.empty()) write_text(out, "DESCRIPTION", description);
        write_line(out, "TRANSP:TRANSPARENT");
        write_line(out, "END:VEVENT");
    }
    if (empty) write_note(out, document, stamp);
    write_line(out, "END:VCALENDAR");
    return out;
}

}  // namespace hangtime::sheet
