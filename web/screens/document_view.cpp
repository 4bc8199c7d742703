#include "web/screens/document_view.hpp"

#include "core/words/format.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/bars.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>
#include <vector>

namespace hangtime::screens {

using sheet::Block;
using sheet::BlockKind;
using sheet::Role;
using sheet::Table;
using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

class View {
public:
    View(Ui& ui, std::string_view id, Box box) : ui_(ui), id_(id), rest_(box) { rest_.h = 1e6f; }

    float draw(const sheet::Document& document) {
        const float top = rest_.y;
        for (const Block& block : document.blocks)
            draw(block);
        return rest_.y - top;
    }

private:
    std::string_view next_id() { return ui_.id(id_, n_++); }

    void draw(const Block& block) {
        const float gap = ui_.px(10);
        switch (block.kind) {
        case BlockKind::headline:
            rest_.cut_top(ui::paragraph(ui_, next_id(), rest_, block.text, Face::title), gap);
            break;
        case BlockKind::heading:
        case BlockKind::part:
            rest_.cut_top(ui_.px(8));
            ui::subheading(ui_, next_id(), rest_.cut_top(ui_.line_height(Face::title), ui_.px(6)), block.text);
            break;
        case BlockKind::paragraph:
            rest_.cut_top(ui::paragraph(ui_, next_id(), rest_, block.text), gap);
            break;
        case BlockKind::list:
            for (const std::string& item : block.items)
                rest_.cut_top(ui::caution(ui_, next_id(), rest_, "", item), ui_.px(6));
            rest_.cut_top(gap - ui_.px(6));
            break;
        case BlockKind::cautions: {
            std::string text;
            for (const std::string& item : block.items)
                text.append(text.empty() ? "" : " ").append(item);
            rest_.cut_top(ui::paragraph(ui_, next_id(), rest_, text, Face::small, true), gap);
            break;
        }
        case BlockKind::facts:
            for (const sheet::Fact& fact : block.facts)
                put_fact(fact);
            rest_.cut_top(ui_.px(6));
            break;
        case BlockKind::table: table(block.table); break;
        case BlockKind::bars: bars(block.bars); break;
        case BlockKind::cards: break; // to be cut out: they are for paper
        case BlockKind::picture:      // drawn for paper; a screen has pictures of its own
            rest_.cut_top(ui::paragraph(ui_, next_id(), rest_, block.picture.words, Face::small, true), gap);
            break;
        }
    }

    void bars(const sheet::Bars& all) {
        if (!all.caption.empty())
            ui::subheading(ui_, next_id(), rest_.cut_top(ui_.line_height(Face::small), ui_.px(6)), all.caption);
        std::vector<ui::BarRow> rows;
        for (const sheet::Bar& bar : all.bars)
            rows.push_back({bar.name, bar.value, bar.length, 0});
        rest_.cut_top(ui::bars(ui_, next_id(), rest_, rows, all.longest), ui_.px(12));
    }

    void put_fact(const sheet::Fact& fact) {
        const float name = std::min(ui_.px(230), rest_.w * 0.36f);
        Box right = rest_;
        right.x += name + ui_.px(12);
        right.w -= name + ui_.px(12);
        const float h = std::max(ui_.text_height(Face::body, fact.value, right.w), ui_.text_height(Face::body, fact.name, name));
        const Box line = rest_.cut_top(h, ui_.px(5));
        ui_.note({.id = next_id(), .label = fact.name, .value = fact.value, .role = ui::Role::text, .box = line});
        ui_.put_text({line.x, line.y, name, h}, Face::body, ui_.palette().quiet, fact.name, ui::Align::left, true);
        ui_.put_text({right.x, line.y, right.w, h}, Face::body, ui_.palette().ink, fact.value, ui::Align::left, true);
    }

    static std::string_view cell(const std::vector<std::string>& row, std::size_t i) {
        return i < row.size() ? std::string_view(row[i]) : std::string_view();
    }

    // As wide as its longest word wants to be, the rest shared by what is longer.
    std::vector<float> widths(const Table& t, float all) const {
        const std::size_t n = t.columns.size();
        std::vector<float> least(n, ui_.px(40)), most(n, ui_.px(40));
        const auto look = [&](std::size_t i, std::string_view text) {
            most[i] = std::max(most[i], ui_.text_width(Face::small, text) + ui_.px(2));
            for (std::size_t from = 0; from < text.size();) {
                const std::size_t to = std::min(text.size(), text.find(' ', from));
                least[i] = std::max(least[i], ui_.text_width(Face::small, text.substr(from, to - from)) + ui_.px(2));
                from = to + 1;
            }
        };
        for (std::size_t i = 0; i < n; ++i) {
            look(i, t.columns[i].heading);
            for (const auto& row : t.rows)
                look(i, cell(row, i));
        }
        float wanted = 0, needed = 0;
        for (std::size_t i = 0; i < n; ++i)
            wanted += most[i], needed += least[i];
        const float room = all - static_cast<float>(n - 1) * ui_.px(12);
        if (wanted <= room)
            return most;
        if (needed > room)
            return {};
        std::vector<float> out(n);
        const float share = (room - needed) / std::max(1.0f, wanted - needed);
        for (std::size_t i = 0; i < n; ++i)
            out[i] = least[i] + (most[i] - least[i]) * share;
        return out;
    }

    std::string spoken(const Table& t, const std::vector<std::string>& row) const {
        std::string out;
        for (std::size_t i = 1; i < t.columns.size(); ++i) {
            if (cell(row, i).empty())
                continue;
            out += joined({out.empty() ? "" : "; ", t.columns[i].heading, t.columns[i].heading.empty() ? "" : ": ", cell(row, i)});
        }
        return out;
    }

    void table(const Table& t) {
        if (!t.caption.empty()) {
            rest_.cut_top(ui_.px(4));
            ui::subheading(ui_, next_id(), rest_.cut_top(ui_.line_height(Face::small), ui_.px(6)), t.caption);
        }
        const std::vector<float> w = widths(t, rest_.w);
        if (w.empty()) {
            for (const auto& row : t.rows)
                stacked(t, row);
            return;
        }
        const float gap = ui_.px(12);
        const auto line = [&](const std::vector<std::string>& row, ui::Color ink, std::string_view id) {
            float h = ui_.line_height(Face::small);
            for (std::size_t i = 0; i < w.size(); ++i)
                h = std::max(h, ui_.text_height(Face::small, cell(row, i), w[i]));
            const Box all = rest_.cut_top(h, ui_.px(7));
            if (!id.empty())
                ui_.note({.id = id, .label = cell(row, 0), .value = ui_.keep(spoken(t, row)), .role = ui::Role::text, .box = all});
            float x = all.x;
            for (std::size_t i = 0; i < w.size(); ++i) {
                ui_.put_text({x, all.y, w[i], h}, Face::small, ink, cell(row, i), ui::Align::left, true);
                x += w[i] + gap;
            }
        };
        std::vector<std::string> heads;
        for (const sheet::Column& column : t.columns)
            heads.push_back(column.heading);
        line(heads, ui_.palette().quiet, {});
        for (const auto& row : t.rows)
            line(row, ui_.palette().ink, next_id());
        rest_.cut_top(ui_.px(8));
    }

    // Where it is narrow: the first cell as a line of its own, the others below it.
    void stacked(const Table& t, const std::vector<std::string>& row) {
        const std::string rest = spoken(t, row);
        Box in = rest_;
        in.cut_left(ui_.px(16));
        const float h1 = ui_.text_height(Face::body, cell(row, 0), rest_.w), h2 = ui_.text_height(Face::small, rest, in.w);
        const Box all = rest_.cut_top(h1 + h2, ui_.px(8));
        ui_.note({.id = next_id(), .label = cell(row, 0), .value = ui_.keep(rest), .role = ui::Role::text, .box = all});
        ui_.put_text({all.x, all.y, all.w, h1}, Face::body, ui_.palette().ink, cell(row, 0), ui::Align::left, true);
        ui_.put_text({in.x, all.y + h1, in.w, h2}, Face::small, ui_.palette().quiet, rest, ui::Align::left, true);
    }

    Ui& ui_;
    std::string_view id_;
    Box rest_;
    int n_ = 0;
};

} // namespace

float document_view(Ui& ui, std::string_view id, Box box, const sheet::Document& document) {
    return View(ui, id, box).draw(document);
}

} // namespace hangtime::screens
