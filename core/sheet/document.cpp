#include "core/sheet/document.hpp"

namespace hangtime::sheet {

void Table::add_column(std::string_view heading, Role role) {
    columns.push_back({std::string(heading), role});
}

void Table::add_row(std::initializer_list<std::string_view> cells) {
    rows.emplace_back();
    for (const std::string_view cell : cells) add_cell(cell);
}

void Table::add_cell(std::string_view cell) { rows.back().emplace_back(cell); }

Block& Document::add(BlockKind kind, std::string text) {
    blocks.push_back({});
    blocks.back().kind = kind;
    blocks.back().text = std::move(text);
    return blocks.back();
}

void Document::list(std::vector<std::string> items) {
    if (!items.empty()) add(BlockKind::list, {}).items = std::move(items);
}

void Document::cautions(std::vector<std::string> items) {
    add(BlockKind::cautions, {}).items = std::move(items);
}

Block& Document::last(BlockKind kind) {
    return blocks.empty() || blocks.back().kind != kind ? add(kind, {}) : blocks.back();
}

void Document::item(std::string_view text) { last(BlockKind::list).items.emplace_back(text); }

void Document::fact(std::string_view name, std::string_view value) {
    last(BlockKind::facts).facts.push_back({std::string(name), std::string(value)});
}

void Document::picture(Picture picture) {
    if (!picture.marks.empty()) add(BlockKind::picture, {}).picture = std::move(picture);
}

void Document::table(Table table) {
    if (!table.rows.empty()) add(BlockKind::table, {}).table = std::move(table);
}

void Document::bars(Bars bars) {
    if (!bars.bars.empty()) add(BlockKind::bars, {}).bars = std::move(bars);
}

void Document::card(Card card) { last(BlockKind::cards).cards.push_back(std::move(card)); }

}  // namespace hangtime::sheet
