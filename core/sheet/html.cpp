// The writer for a page and for paper: elements that mean what they hold, everything escaped.

#include "core/sheet/document.hpp"
#include "core/sheet/line.hpp"

namespace hangtime::sheet {

namespace {

void write_escaped(std::string& out, std::string_view text) {
    for (const char c : text) {
        switch (c) {
            case '&': out += "&amp;"; break;
            case '<': out += "&lt;"; break;
            case '>': out += "&gt;"; break;
            case '"': out += "&quot;"; break;
            case '\'': out += "&#39;"; break;
            default: out += c;
        }
    }
}

// A number and its unit stay on one line.
void write_words(std::string& out, std::string_view text) {
    std::size_t from = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const std::size_t end = quantity_end(text, i);
        if (end == i) continue;
        write_escaped(out, text.substr(from, i - from));
        out += "<span class=\"q\">";
        write_escaped(out, text.substr(i, end - i));
        out += "</span>";
        from = end;
        i = end - 1;
    }
    write_escaped(out, text.substr(from));
}

void write_element(std::string& out, std::string_view name, std::string_view attributes,
                   std::string_view text) {
    out += '<';
    out += name;
    out += attributes;
    out += '>';
    write_words(out, text);
    out += "</";
    out += name;
    out += '>';
}

std::string_view class_of(Role role) {
    switch (role) {
        case Role::text: return "";
        case Role::number: return " class=\"n\"";
        case Role::time: return " class=\"t\"";
        case Role::pen: return " class=\"pen\"";
        case Role::tick: return " class=\"tick\"";
    }
    return {};
}

void write_table(std::string& out, const Table& table) {
    out += "<table>";
    if (!table.caption.empty()) write_element(out, "caption", "", table.caption);
    out += "\n<thead><tr>";
    for (const Column& column : table.columns) {
        std::string attributes = " scope=\"col\"";
        attributes += class_of(column.role);
        write_element(out, "th", attributes, column.heading);
    }
    out += "</tr></thead>\n<tbody>\n";
    for (const auto& row : table.rows) {
        out += "<tr>";
        for (std::size_t i = 0; i < table.columns.size(); ++i) {
            const std::string_view text = i < row.size() ? std::string_view(row[i]) : std::string_view();
            const Role wanted = table.columns[i].role;
            const Role role = text.empty() && wanted != Role::tick ? Role::pen : wanted;
            if (i == 0) {
                std::string attributes = " scope=\"row\"";
                attributes += class_of(role);
                write_element(out, "th", attributes, text);
            } else {
                write_element(out, "td", class_of(role), text);
            }
        }
        out += "</tr>\n";
    }
    out += "</tbody></table>\n";
}

void write_list(std::string& out, std::string_view attributes, const std::vector<std::string>& items) {
    out += "<ul";
    out += attributes;
    out += ">\n";
    for (const std::string& item : items) {
        write_element(out, "li", "", item);
        out += '\n';
    }
    out += "</ul>\n";
}

void write_block(std::string& out, const Block& block) {
    switch (block.kind) {
        case BlockKind::headline: write_element(out, "p", " class=\"headline\"", block.text); break;
        case BlockKind::heading: write_element(out, "h2", "", block.text); break;
        case BlockKind::part: write_element(out, "h2", " class=\"part\"", block.text); break;
        case BlockKind::paragraph: write_element(out, "p", "", block.text); break;
        case BlockKind::list: write_list(out, "", block.items); return;
        case BlockKind::cautions: write_list(out, " class=\"cautions\"", block.items); return;
        case BlockKind::facts:
            out += "<dl>\n";
            for (const Fact& fact : block.facts) {
                out += "<div>";
                write_element(out, "dt", "", fact.name);
                write_element(out, "dd", "", fact.value);
                out += "</div>\n";
            }
            out += "</dl>";
            break;
        case BlockKind::table: write_table(out, block.table); return;
    }
    out += '\n';
}

}  // namespace

std::string to_html_fragment(const Document& document) {
    std::string out = "<section class=\"sheet\">\n";
    write_element(out, "h1", "", document.title);
    out += '\n';
    for (const Block& block : document.blocks) write_block(out, block);
    out += "</section>\n";
    return out;
}

std::string to_html_page(const Document& document) {
    std::string out = "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
                      "'unsafe-inline'\">\n"
                      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>";
    write_escaped(out, document.title);
    out += "</title>\n<style>\n";
    out += html_style();
    out += "</style>\n</head>\n<body>\n<main>\n";
    out += to_html_fragment(document);
    out += "</main>\n</body>\n</html>\n";
    return out;
}

}  // namespace hangtime::sheet
