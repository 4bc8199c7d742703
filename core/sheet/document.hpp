#pragma once

/// A document that knows no subject: headings, facts, tables, lists and moments in time. Each subject (a
/// plan, a protocol, a card, later a reaction or a round) builds its own; the writers turn any of them into
/// text for a terminal, HTML for a page or a printer, CSV and a calendar.
///
/// All texts are UTF-8 and finished: writers escape and wrap them, they never change a value. Nothing here
/// can hold who somebody is, because nothing that builds a document is ever told.

#include "core/clock.hpp"

#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace hangtime::sheet {

/// How a column is set: numbers and times to the right, `pen` is left empty to be written in, `tick`
/// likewise.
enum class Role : std::uint8_t { text, number, time, pen, tick };

struct Column {
    std::string heading;
    Role role = Role::text;
};

/// The first column names its row. A row may be shorter than the columns: the rest is for a pen.
struct Table {
    std::string caption{};
    std::vector<Column> columns{};
    std::vector<std::vector<std::string>> rows{};

    void add_column(std::string_view heading, Role role = Role::text);
    void add_row(std::initializer_list<std::string_view> cells);
    void add_cell(std::string_view cell);  // to the last row
};

/// A name and its value: "All in by", "17:40".
struct Fact {
    std::string name, value;
};

/// Lengths to compare: bars on one scale, each with its name and its value in words.
struct Bar {
    std::string name, value;
    std::int64_t length = 0;  // of the block's `longest`
};
struct Bars {
    std::string caption{};
    std::int64_t longest = 1;
    std::vector<Bar> bars{};
};

/// A bar code: Code 128 of ASCII text, with what stands below it for people.
struct Symbol {
    std::string name;     // what it is
    std::string content;
    std::string shown;
};
/// A card to be cut out: facts and bar codes, and a mark that is read before anything else.
struct Card {
    std::string title, mark;
    std::vector<Fact> facts;
    std::vector<Symbol> symbols;
};

/// A drawing in ink: lines, marks and words in a plane of whole numbers, x to the right and y down. It knows no
/// subject either; where nothing can be drawn, `words` stands for it.
struct Picture {
    enum class Draw : std::uint8_t {
        line,    // from (x, y) to (x2, y2)
        dashed,
        thick,
        dot,     // a filled circle around (x, y)
        ring,
        square,  // filled
        words,   // from (x, y) on, which is the left end of the line that they stand on
        words_left,
        words_middle,
    };
    struct Mark {
        Draw how{};
        std::int32_t x = 0, y = 0, x2 = 0, y2 = 0;
        std::string text{};
    };
    std::string words;
    std::int32_t width = 0, height = 0;
    std::vector<Mark> marks{};
};

enum class BlockKind : std::uint8_t {
    headline,   // the one thing to read first
    heading,
    part,       // a heading that begins a new page on paper
    paragraph,
    list,
    cautions,   // a list that says what this document is not
    facts,
    table,
    bars,
    cards,      // side by side where there is room
    picture,
};

struct Block {
    BlockKind kind{};
    std::string text{};
    std::vector<std::string> items{};
    std::vector<Fact> facts{};
    Table table{};
    Bars bars{};
    std::vector<Card> cards{};
    Picture picture{};
};

/// Something that falls on a moment or a stretch of time, for CSV and calendars. `shown` and `until_shown`
/// are how a person reads the times.
struct Moment {
    std::string kind, code, name;
    Instant at{};
    std::optional<Instant> until{};
    std::string shown{}, until_shown{};
    std::string detail{}, sum{}, source{};
    bool in_calendar = true;
};

struct Document {
    std::string title;
    std::vector<Block> blocks;
    Instant start{};  // what moments are counted from
    std::vector<Moment> moments;

    void headline(std::string text) { add(BlockKind::headline, std::move(text)); }
    void heading(std::string_view text) { add(BlockKind::heading, std::string(text)); }
    void part(std::string_view text) { add(BlockKind::part, std::string(text)); }
    void paragraph(std::string text) { add(BlockKind::paragraph, std::move(text)); }
    void list(std::vector<std::string> items);
    /// Items that are added one after the other stand together.
    void item(std::string_view text);
    void cautions(std::vector<std::string> items);
    /// Facts that are added one after the other stand together.
    void fact(std::string_view name, std::string_view value);
    void table(Table table);
    void bars(Bars bars);
    /// Cards that are added one after the other stand together.
    void card(Card card);
    void picture(Picture picture);

private:
    Block& add(BlockKind kind, std::string text);
    Block& last(BlockKind kind);  // the last block where it is of this kind, or a new one
};

/// Plain text, at most 80 columns wide (a single longer word apart), for fixed-width letters.
std::string to_text(const Document& document);

/// The content of a page: `<section class="sheet">...</section>`. No style attributes and no scripts, so that
/// it can stand under a content policy.
std::string to_html_fragment(const Document& document);

/// A whole file that needs nothing else.
std::string to_html_page(const Document& document);

/// The style of both: for the screen, for A4 and for Letter. A page that shows a fragment has it in its own
/// style element.
std::string_view html_style();

/// RFC 4180: one header line, one line for each moment, CRLF. Times as the clock shows them and in seconds
/// from the start; no dates.
std::string to_csv(const Document& document);

/// RFC 5545: one VEVENT for each moment that belongs in a calendar, times in UTC; where there is none, a note
/// with the headline. `stamp` is when it was made.
std::string to_calendar(const Document& document, Instant stamp);

}  // namespace hangtime::sheet
