// RFC 4180: CRLF, a header, fields with a comma, a quote or a line break in quotes, quotes doubled.

#include "core/sheet/document.hpp"

namespace hangtime::sheet {

namespace {

void write_field(std::string& out, std::string_view text, bool first = false) {
    if (!first) out += ',';
    if (text.find_first_of(",\"\r\n") == std::string_view::npos) {
        out += text;
        return;
    }
    out += '"';
    for (const char c : text) {
        if (c == '"') out += '"';
        out += c;
    }
    out += '"';
}

}  // namespace

std::string to_csv(const Document& document) {
    std::string out =
        "kind,code,name,at,seconds_from_start,until,until_seconds_from_start,detail,sum,source\r\n";
    for (const Moment& moment : document.moments) {
        write_field(out, moment.kind, true);
        write_field(out, moment.code);
        write_field(out, moment.name);
        write_field(out, moment.shown);
        write_field(out, std::to_string((moment.at - document.start).count));
        write_field(out, moment.until_shown);
        write_field(out,
                    moment.until ? std::to_string((*moment.until - document.start).count) : std::string());
        write_field(out, moment.detail);
        write_field(out, moment.sum);
        write_field(out, moment.source);
        out += "\r\n";
    }
    return out;
}

}  // namespace hangtime::sheet
