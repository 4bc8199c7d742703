// The writer for a page and for paper: elements that mean what they hold, everything escaped.

#include "core/sheet/code128.hpp"
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

// A bar is a picture, so that it is printed where backgrounds are not; its value stands beside it in words.
void write_bars(std::string& out, const Bars& bars) {
    out += "<table class=\"bars\">";
    if (!bars.caption.empty()) write_element(out, "caption", "", bars.caption);
    out += "\n<tbody>\n";
    const std::int64_t longest = bars.longest > 0 ? bars.longest : 1;
    for (const Bar& bar : bars.bars) {
        out += "<tr>";
        write_element(out, "th", " scope=\"row\"", bar.name);
        out += "<td><svg viewBox=\"0 0 1000 10\" preserveAspectRatio=\"none\" aria-hidden=\"true\"><rect width=\"";
        out += std::to_string(bar.length * 1000 / longest);
        out += "\" height=\"10\"/></svg></td>";
        write_element(out, "td", " class=\"n\"", bar.value);
        out += "</tr>\n";
    }
    out += "</tbody></table>\n";
}

// One module is a quarter of a millimetre wide, and ten are left blank at each side.
void write_symbol(std::string& out, const Symbol& symbol) {
    const std::vector<std::uint8_t> widths = code128(symbol.content);
    out += "<div class=\"code\">";
    write_element(out, "span", "", symbol.name);
    std::int64_t x = 10;
    std::string bars;
    for (std::size_t i = 0; i < widths.size(); ++i) {
        if (i % 2 == 0)
            bars += "<rect x=\"" + std::to_string(x) + "\" width=\"" + std::to_string(widths[i]) + "\" height=\"40\"/>";
        x += widths[i];
    }
    x += 10;
    // The size is an attribute of its own: a page may forbid styles in attributes.
    const std::string quarter[] = {"", ".25", ".5", ".75"};
    out += "<svg width=\"" + std::to_string(x / 4) + quarter[x % 4] + "mm\" height=\"10mm\" viewBox=\"0 0 " + std::to_string(x) +
           " 40\" shape-rendering=\"crispEdges\" role=\"img\" aria-label=\"bar code\">" + bars + "</svg>";
    write_element(out, "b", "", symbol.shown);
    out += "</div>\n";
}

void write_cards(std::string& out, const std::vector<Card>& cards) {
    out += "<div class=\"cards\">\n";
    for (const Card& card : cards) {
        out += "<article>";
        write_element(out, "h3", "", card.title);
        write_element(out, "p", " class=\"mark\"", card.mark);
        out += '\n';
        for (const Symbol& symbol : card.symbols) write_symbol(out, symbol);
        out += "<dl>\n";
        for (const Fact& fact : card.facts) {
            out += "<div>";
            write_element(out, "dt", "", fact.name);
            write_element(out, "dd", "", fact.value);
            out += "</div>\n";
        }
        out += "</dl></article>\n";
    }
    out += "</div>\n";
}

void write_attribute(std::string& out, std::string_view name, std::int32_t value) {
    out += ' ';
    out += name;
    out += "=\"";
    out += std::to_string(value);
    out += '"';
}

void write_mark(std::string& out, const Picture::Mark& m) {
    using Draw = Picture::Draw;
    const auto line = [&](std::string_view more) {
        out += "<line";
        write_attribute(out, "x1", m.x);
        write_attribute(out, "y1", m.y);
        write_attribute(out, "x2", m.x2);
        write_attribute(out, "y2", m.y2);
        out += more;
        out += "></line>";
    };
    const auto circle = [&](std::string_view more) {
        out += "<circle";
        write_attribute(out, "cx", m.x);
        write_attribute(out, "cy", m.y);
        out += more;
        out += "></circle>";
    };
    const auto words = [&](std::string_view anchor) {
        out += "<text";
        write_attribute(out, "x", m.x);
        write_attribute(out, "y", m.y);
        out += anchor;
        out += '>';
        write_escaped(out, m.text);
        out += "</text>";
    };
    switch (m.how) {
        case Draw::line: line(" stroke=\"currentColor\""); break;
        case Draw::dashed: line(" stroke=\"currentColor\" stroke-dasharray=\"5 4\""); break;
        case Draw::thick: line(" stroke=\"currentColor\" stroke-width=\"4\""); break;
        case Draw::dot: circle(" r=\"4\""); break;
        case Draw::ring: circle(" r=\"5\" fill=\"none\" stroke=\"currentColor\" stroke-width=\"2\""); break;
        case Draw::square:
            out += "<rect";
            write_attribute(out, "x", m.x - 5);
            write_attribute(out, "y", m.y - 5);
            out += " width=\"10\" height=\"10\"></rect>";
            break;
        case Draw::words: words(""); break;
        case Draw::words_left: words(" text-anchor=\"end\""); break;
        case Draw::words_middle: words(" text-anchor=\"middle\""); break;
    }
    out += '\n';
}

void write_picture(std::string& out, const Picture& picture) {
    out += "<svg class=\"picture\" viewBox=\"0 0 " + std::to_string(picture.width) + ' ' + std::to_string(picture.height) +
           "\" role=\"img\" aria-label=\"";
    write_escaped(out, picture.words);
    out += "\" font-size=\"15\" fill=\"currentColor\">\n";
    for (const Picture::Mark& mark : picture.marks) write_mark(out, mark);
    out += "</svg>\n";
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
        case BlockKind::bars: write_bars(out, block.bars); return;
        case BlockKind::cards: write_cards(out, block.cards); return;
        case BlockKind::picture: write_picture(out, block.picture); return;
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
