#include "core/rehearse/class.hpp"

#include "core/json/write.hpp"
#include "core/words/format.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_spelling.hpp"
#include "core/words/session_words.hpp"

#include <algorithm>

namespace hangtime {

namespace {

std::string number(std::int32_t n) { return std::to_string(n); }

std::string of_all(std::int32_t n, std::int32_t all) { return joined({number(n), " of ", number(all)}); }

std::string case_numbers_text(const ClassCase& c) {
    std::string out;
    constexpr std::size_t most = 12;
    for (std::size_t i = 0; i < c.case_numbers.size() && i < most; ++i) out += (i > 0 ? ", " : "") + number(c.case_numbers[i]);
    return c.case_numbers.size() > most ? joined({out, " and ", std::to_string(c.case_numbers.size() - most), " more"}) : out;
}

void add_case(sheet::Document& d, const ClassCase& c) {
    const std::int32_t all = c.attempts();
    d.heading(joined({c.scenario, ", ", c.protocol}));
    d.fact("Attempts", number(all));
    d.fact("Case numbers", case_numbers_text(c));
    d.fact("Points", joined({number(c.points.front()), " to ", number(c.points.back()), " of ", number(c.most)}));
    d.fact("Points, in the middle", number(c.points[static_cast<std::size_t>(all - 1) / 2]));
    d.fact("Blood wasted", of_all(c.wasted, all));
    d.fact("Over the limit", of_all(c.over_limit, all));
    sheet::Bars bars;
    bars.caption = "Points, and how many attempts";
    for (const ScoreBin& bin : score_bins(c)) {
        bars.bars.push_back({bin.least == bin.most ? number(bin.most) : joined({number(bin.least), " to ", number(bin.most)}),
                             number(bin.attempts), bin.attempts});
        bars.longest = std::max<std::int64_t>(bars.longest, bin.attempts);
    }
    d.bars(std::move(bars));
    sheet::Table t;
    t.caption = "Each scored item";
    t.add_column("Item");
    for (const std::string_view heading : {"Points", "Met", "Not done", "Late", "Otherwise"}) t.add_column(heading, sheet::Role::number);
    for (const ClassItem& item : c.items)
        t.add_row({item.item, number(item.most), of_all(item.met, all), number(item.not_done), number(item.late), number(item.other(all))});
    d.table(std::move(t));
    const std::vector<std::size_t> mistakes = c.mistakes();
    if (mistakes.empty() && c.refused.empty()) return;
    d.heading("Common mistakes");
    constexpr std::size_t most = 8;
    for (std::size_t i = 0; i < mistakes.size() && i < most; ++i) {
        const ClassItem& item = c.items[mistakes[i]];
        d.item(joined({item.item, ": ", mistake_text(item, all), ". ",
                       item.rule.empty() ? joined({"The rule is from ", item.from, "."}) : item.rule}));
    }
    for (const auto& [why, attempts] : c.refused)
        d.item(joined({"Tried and refused, in ", of_all(attempts, all), ": ", sentence(why)}));
}

}  // namespace

std::string mistake_text(const ClassItem& item, std::int32_t attempts) {
    std::string ways;
    const auto way = [&](std::int32_t n, std::string_view what) {
        if (n > 0) ways += joined({ways.empty() ? ": " : ", ", number(n), " ", what});
    };
    way(item.not_done, "not done");
    way(item.late, "late");
    if (item.late > 0) ways += joined({" (", span_text(item.by[(item.by.size() - 1) / 2]), " in the middle)"});
    if (item.not_done + item.late > 0) way(item.other(attempts), "otherwise");
    return joined({of_all(attempts - item.met, attempts), " did not meet it", ways});
}

sheet::Document class_sheet(const ClassSummary& summary, const std::vector<LeftOut>& left_out) {
    sheet::Document d;
    d.title = "What a class did in rehearsals";
    d.paragraph(joined({rehearsal_sentence(), ". No attempt is named, and none can be told from another."}));
    d.fact("Results read", number(summary.attempts()));
    d.fact("Scenarios", std::to_string(summary.cases().size()));
    for (const ClassCase& c : summary.cases()) add_case(d, c);
    if (!left_out.empty()) {
        d.heading("Left out");
        for (const LeftOut& file : left_out) d.item(joined({file.file, ": ", file.why}));
    }
    return d;
}

std::string class_json(const ClassSummary& summary, const std::vector<LeftOut>& left_out) {
    json::Writer w;
    w.begin_object().integer("hangtime_class", 1).boolean("rehearsal", true).text("note", rehearsal_sentence());
    w.integer("attempts", summary.attempts()).key("cases").begin_list();
    for (const ClassCase& c : summary.cases()) {
        w.begin_object().text("scenario", c.scenario).text("protocol", c.protocol).integer("attempts", c.attempts());
        w.integer("most", c.most).key("points").begin_list(json::Writer::Layout::along);
        for (const std::int32_t p : c.points) w.integer(p);
        w.end_list().key("case_numbers").begin_list(json::Writer::Layout::along);
        for (const std::int32_t n : c.case_numbers) w.integer(n);
        w.end_list().integer("wasted", c.wasted).integer("over_limit", c.over_limit).key("items").begin_list();
        for (const ClassItem& item : c.items) {
            w.begin_object().text("kind", code(item.kind)).text("item", item.item).integer("most", item.most);
            w.integer("met", item.met).integer("not_done", item.not_done).integer("late", item.late);
            w.integer("otherwise", item.other(c.attempts()));
            if (item.late > 0) w.integer("late_in_the_middle_s", item.by[(item.by.size() - 1) / 2].count);
            w.end_object();
        }
        w.end_list().key("refused").begin_object();
        for (const auto& [why, attempts] : c.refused) w.integer(code(why), attempts);
        w.end_object().end_object();
    }
    w.end_list().key("left_out").begin_list();
    for (const LeftOut& file : left_out)
        w.begin_object(json::Writer::Layout::along).text("file", file.file).text("why", file.why).end_object();
    w.end_list().end_object();
    return w.take();
}

std::string class_csv(const ClassSummary& summary) {
    std::string out = "scenario,protocol,item,points,attempts,met,not done,late,otherwise\r\n";
    const auto quoted = [](std::string_view text) {
        std::string q = "\"";
        for (const char c : text) q.append(c == '"' ? 2 : 1, c);
        return q + "\"";
    };
    for (const ClassCase& c : summary.cases())
        for (const ClassItem& item : c.items)
            out += joined({quoted(c.scenario), ",", quoted(c.protocol), ",", quoted(item.item), ",", number(item.most), ",",
                           number(c.attempts()), ",", number(item.met), ",", number(item.not_done), ",", number(item.late), ",",
                           number(item.other(c.attempts())), "\r\n"});
    return out;
}

}  // namespace hangtime
