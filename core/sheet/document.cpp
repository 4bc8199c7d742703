#include "core/sheet/document.hpp"

namespace hangtime::sheet {

Block& Document::add(BlockKind kind, std::string text) {
    blocks.push_back({});
    blocks.back().kind = kind;
    blocks.back().text = std::move(text);
    return blocks.back();
}

void Document::list(std::vector<std::string> items) {
    if (!items.empty()) add(BlockKind::list, {}).items = std::move(items);
}

void Document::cautions(std::vector<std::string> items) { add(BlockKind::cautions, {}).items = std::move(items); }

void Document::facts(std::vector<Fact> facts) {
    if (!facts.empty()) add(BlockKind::facts, {}).facts = std::move(facts);
}

void Document::table(Table table) {
    if (!table.rows.empty()) add(BlockKind::table, {}).table = std::move(table);
}

}  // namespace hangtime::sheet
