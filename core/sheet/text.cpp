// The writer for a terminal: 80 columns of fixed-width letters.

#include "core/sheet/document.hpp"
#include "core/sheet/line.hpp"

#include <algorithm>
#include <cstddef>

namespace hangtime::sheet {

namespace {

constexpr std::size_t page_width = 80;
constexpr std::size_t gap = 2;  // between columns

// How many letters a text takes: code points, which is right for all that is written here.
std::size_t letters(std::string_view text) {
    return static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

// The next piece that is not to be broken: a word, or a number with its unit.
std::string_view take_piece(std::string_view& text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    std::size_t end = quantity_end(text, 0);
    while (end < text.size() && text[end] != ' ') ++end;
    const std::string_view piece = text.substr(0, end);
    text.remove_prefix(end);
    return piece;
}

std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
    std::vector<std::string> lines(1);
    for (std::string_view piece = take_piece(text); !piece.empty(); piece = take_piece(text)) {
        if (!lines.back().empty() && letters(lines.back()) + 1 + letters(piece) > width) lines.emplace_back();
        if (!lines.back().empty()) lines.back() += ' ';
        lines.back() += piece;
    }
    return lines;
}

void end_line(std::string& out) {
    while (!out.empty() && out.back() == ' ') out.pop_back();
    out += '\n';
}

void blank_line(std::string& out) {
    if (!out.empty() && !(out.size() >= 2 && out.compare(out.size() - 2, 2, "\n\n") == 0)) out += '\n';
}

// `first` begins the first line, later ones are indented as far.
void write_hanging(std::string& out, std::string_view first, std::string_view text) {
    const std::size_t indent = letters(first);
    bool begun = false;
    for (const std::string& line : wrapped(text, page_width - indent)) {
        if (begun) {
            out.append(indent, ' ');
        } else {
            out += first;
        }
        begun = true;
        out += line;
        end_line(out);
    }
}

void write_underlined(std::string& out, std::string_view text, char with) {
    for (const std::string& line : wrapped(text, page_width)) {
        out += line;
        end_line(out);
    }
    out.append(std::min(letters(text), page_width), with);
    out += '\n';
}

void write_headline(std::string& out, std::string_view text) {
    const std::string edge = "+" + std::string(page_width - 2, '-') + "+\n";
    out += edge;
    for (const std::string& line : wrapped(text, page_width - 4)) {
        out += "| ";
        out += line;
        out.append(page_width - 4 - std::min(letters(line), page_width - 4), ' ');
        out += " |\n";
    }
    out += edge;
}

void write_facts(std::string& out, const std::vector<Fact>& facts) {
    std::size_t widest = 0;
    for (const Fact& fact : facts) widest = std::max(widest, letters(fact.name));
    widest = std::min<std::size_t>(widest, 30);
    for (const Fact& fact : facts) {
        std::string name = fact.name;
        if (letters(name) < widest) name.append(widest - letters(name), ' ');
        write_hanging(out, name + "  ", fact.value);
    }
}

// What stands in an empty cell, for a pen.
std::string_view cell(const Table& table, const std::vector<std::string>& row, std::size_t column) {
    if (column < row.size() && !row[column].empty()) return row[column];
    return table.columns[column].role == Role::tick ? "[  ]" : "________";
}

// The longest piece of a cell that cannot be broken.
std::size_t least_width(std::string_view text) {
    std::size_t least = 0;
    for (std::string_view piece = take_piece(text); !piece.empty(); piece = take_piece(text))
        least = std::max(least, letters(piece));
    return least;
}

// Widths that fit the page: natural ones (headings may wrap), then the widest columns give way, down to their
// longest word.
std::vector<std::size_t> widths_of(const Table& table) {
    const std::size_t count = table.columns.size();
    std::vector<std::size_t> natural(count), least(count);
    for (std::size_t i = 0; i < count; ++i) {
        natural[i] = least[i] = least_width(table.columns[i].heading);
        for (const auto& row : table.rows) {
            natural[i] = std::max(natural[i], letters(cell(table, row, i)));
            least[i] = std::max(least[i], least_width(cell(table, row, i)));
        }
    }
    std::size_t all = gap * (count - 1);
    for (const std::size_t w : natural) all += w;
    while (all > page_width) {
        std::size_t widest = count;
        for (std::size_t i = 0; i < count; ++i)
            if (natural[i] > least[i] && (widest == count || natural[i] > natural[widest])) widest = i;
        if (widest == count) break;
        --natural[widest];
        --all;
    }
    return natural;
}

void write_row(std::string& out, const Table& table, const std::vector<std::size_t>& widths,
               const std::vector<std::string_view>& cells) {
    std::vector<std::vector<std::string>> lines;
    std::size_t height = 0;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        lines.push_back(wrapped(cells[i], widths[i]));
        height = std::max(height, lines.back().size());
    }
    for (std::size_t y = 0; y < height; ++y) {
        for (std::size_t i = 0; i < cells.size(); ++i) {
            const std::string text = y < lines[i].size() ? lines[i][y] : std::string();
            const std::size_t pad = widths[i] - std::min(widths[i], letters(text));
            const bool right = table.columns[i].role == Role::number || table.columns[i].role == Role::time;
            if (right) out.append(pad, ' ');
            out += text;
            if (!right) out.append(pad, ' ');
            if (i + 1 < cells.size()) out.append(gap, ' ');
        }
        end_line(out);
    }
}

void write_table(std::string& out, const Table& table) {
    if (!table.caption.empty()) write_underlined(out, table.caption, '-');
    const std::vector<std::size_t> widths = widths_of(table);
    std::vector<std::string_view> cells;
    for (const Column& column : table.columns) cells.push_back(column.heading);
    write_row(out, table, widths, cells);
    for (const auto& row : table.rows) {
        for (std::size_t i = 0; i < cells.size(); ++i) cells[i] = cell(table, row, i);
        write_row(out, table, widths, cells);
    }
}

void write_bars(std::string& out, const Bars& bars) {
    if (!bars.caption.empty()) write_underlined(out, bars.caption, '-');
    std::size_t names = 0, values = 0;
    for (const Bar& bar : bars.bars) {
        names = std::max(names, letters(bar.name));
        values = std::max(values, letters(bar.value));
    }
    const std::size_t used = names + values + 2 * gap;
    const std::size_t room = used + 10 < page_width ? page_width - used : 10;
    const std::int64_t longest = bars.longest > 0 ? bars.longest : 1;
    for (const Bar& bar : bars.bars) {
        // The shortest stroke is for what is there at all.
        std::size_t strokes = static_cast<std::size_t>(bar.length * static_cast<std::int64_t>(room) / longest);
        if (strokes == 0 && bar.length > 0) strokes = 1;
        out.append(bar.name).append(names - letters(bar.name) + gap, ' ');
        out.append(values - letters(bar.value), ' ').append(bar.value).append(gap, ' ');
        out.append(strokes, '#');
        end_line(out);
    }
}

void write_cards(std::string& out, const std::vector<Card>& cards) {
    bool first = true;
    for (const Card& card : cards) {
        if (!first) out += '\n';
        first = false;
        write_underlined(out, card.title, '-');
        write_hanging(out, "", card.mark);
        for (const Symbol& symbol : card.symbols) {
            write_hanging(out, symbol.name + "  ", symbol.shown);
            write_hanging(out, "  bar code  ", symbol.content);
        }
        write_facts(out, card.facts);
    }
}

void write_block(std::string& out, const Block& block) {
    switch (block.kind) {
        case BlockKind::headline: write_headline(out, block.text); break;
        case BlockKind::heading: write_underlined(out, block.text, '-'); break;
        case BlockKind::part: write_underlined(out, block.text, '='); break;
        case BlockKind::paragraph: write_hanging(out, "", block.text); break;
        case BlockKind::list:
        case BlockKind::cautions:
            for (const std::string& item : block.items) write_hanging(out, "- ", item);
            break;
        case BlockKind::facts: write_facts(out, block.facts); break;
        case BlockKind::table: write_table(out, block.table); break;
        case BlockKind::bars: write_bars(out, block.bars); break;
        case BlockKind::cards: write_cards(out, block.cards); break;
        case BlockKind::picture: write_hanging(out, "", block.picture.words); break;
    }
}

}  // namespace

std::string to_text(const Document& document) {
    std::string out;
    write_underlined(out, document.title, '=');
    BlockKind before = BlockKind::paragraph;
    for (const Block& block : document.blocks) {
        // What a heading stands over follows it at once.
        if (before != BlockKind::heading) blank_line(out);
        write_block(out, block);
        before = block.kind;
    }
    return out;
}

}  // namespace hangtime::sheet
