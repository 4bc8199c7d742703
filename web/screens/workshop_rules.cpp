#include "core/json/field.hpp"
#include "core/plan/edit_words.hpp"
#include "core/plan/plan_words.hpp"
#include "core/words/spelling.hpp"
#include "core/words/words.hpp"
#include "web/screens/workshop.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/text_table.hpp"

#include <algorithm>
#include <array>

/// The workshop's table, and the entries of the group of values that is being changed. Which entries there are, their
/// bounds and their choices come from the reader of protocols; nothing is known here of any single rule.

namespace hangtime::screens {

using json::Asked;
using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr float panel_px = 400;
constexpr std::string_view left_out = "Left out";
constexpr std::string_view own_source = "The ward's own policy", own_key = "own-policy";

// There is no free text: what a ward calls its rules is put together of these.
constexpr std::array<std::string_view, 14> ward_names = {
    "General ward",        "Day unit",         "Haematology and oncology ward", "Surgical ward",  "Medical ward",
    "Intensive care",      "Emergency department", "Theatre and recovery",     "Maternity ward", "Children's ward",
    "Newborn intensive care", "Renal unit",    "Care at home",                  "The whole hospital"};
constexpr std::array<std::string_view, 5> issuers = {"the ward's own rules", "the transfusion committee", "the blood bank",
                                                     "the department's medical lead", "the ward's lead nurse"};

std::string field_id(std::string_view key) { return joined({"value.", key}); }

int digits_of(std::int64_t n) {
    int out = 1;
    for (n = n < 0 ? -n : n; n >= 10; n /= 10)
        ++out;
    return out;
}

std::int64_t tens(int places) { return places <= 0 ? 1 : 10 * tens(places - 1); }

// The number of a file's decimal in its last place; the file was read, so it is one.
std::int64_t number_of(std::string_view text, int places) {
    std::int64_t n = 0;
    int left = places;
    bool point = false;
    for (const char c : text) {
        if (c == '.')
            point = true;
        else if (c >= '0' && c <= '9') {
            n = n * 10 + (c - '0');
            left -= point ? 1 : 0;
        }
    }
    return n * tens(left);
}

std::string shortened(std::string_view text) {
    constexpr std::size_t most = 44;
    if (text.size() <= most)
        return std::string(text);
    const std::size_t space = text.substr(0, most).rfind(' ');
    return joined({text.substr(0, space), " \xE2\x80\xA6"});
}

std::string capital(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

// "General ward" and 12 -> "general-ward-12"
std::string key_of(std::string_view title) {
    std::string out;
    for (const char c : title) {
        const char low = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        if ((low >= 'a' && low <= 'z') || (low >= '0' && low <= '9'))
            out += low;
        else if (c != '\'' && !out.empty() && out.back() != '-')
            out += '-';
    }
    return out.substr(0, 40);
}

} // namespace

bool Workshop::is_changed(const EditGroup& group) const {
    const EditGroup* was = before_->find(group.path);
    if (!was || was->there != group.there)
        return group.there || was;
    return was->source != group.source || was->grade != group.grade || was->values != group.values;
}

void Workshop::look() {
    sections_.clear();
    const auto& groups = edit_->groups();
    for (std::size_t g = 0; g < groups.size(); ++g) {
        const std::string title = edit_section(groups[g].path);
        auto at = std::find_if(sections_.begin(), sections_.end(), [&](const Section& s) { return s.title == title; });
        if (at == sections_.end())
            at = sections_.insert(sections_.end(), {title, {}, 0});
        at->groups.push_back(g);
        at->changed += is_changed(groups[g]) ? 1 : 0;
    }
}

void Workshop::rules(Ui& ui, Box area) {
    const bool wide = area.w >= ui.px(1000);
    if (grouped_ && !wide) {
        panel(ui, area);
        return;
    }
    if (wide) {
        Box side = area.cut_right(ui.px(panel_px), ui.px(16));
        if (grouped_) {
            panel(ui, side);
        } else {
            side.cut_top(ui::paragraph(ui, "rules.hint", side,
                                       "Touch a rule to change it. Every change is checked at once, as the command line does."),
                         ui.px(12));
            ui::paragraph(ui, "rules.words", side,
                          "Numbers and choices are changed here. Titles of sources and other words are written in the file: save it, "
                          "change it in a text editor, and open it again.",
                          Face::small, true);
        }
    }
    const Box in = ui.begin_scroll("workshop.rules", area);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    rest.cut_top(list(ui, rest), ui.px(12));
    rest.cut_top(foot(ui, rest), ui.px(8));
    ui.end_scroll(rest.y - in.y);
}

float Workshop::list(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    if (!undo_.empty() && ui::button(ui, "workshop.undo", box.cut_top(ui.px(ui::row_px), gap).cut_left(std::min(box.w, ui.px(300))),
                                     "Take the last change back"))
        undo(ui);
    if (!edit_)
        return box.y - top;
    const auto& groups = edit_->groups();
    const Protocol& p = edit_->protocol();
    std::string touched;
    bool touch = false;
    for (std::size_t s = 0; s < sections_.size(); ++s) {
        const Section& section = sections_[s];
        const bool open = section_ == section.title;
        const std::string label =
            section.changed == 0 ? section.title : joined({section.title, ", ", std::to_string(section.changed), " changed"});
        if (ui::fold(ui, ui.id("section.", static_cast<int>(s)), box.cut_top(ui.px(ui::row_px), gap), label, open)) {
            section_ = open ? std::string() : section.title;
            ui.change_screen();
        }
        if (!open)
            continue;
        for (const std::size_t g : section.groups) {
            const EditGroup& group = groups[g];
            const std::string name = edit_label(group, p), value = edit_value(group), from = edit_basis(group, p);
            const ui::RuleRow row{.label = name, .value = value, .from = from, .open = grouped_ && group_ == group.path,
                                  .changed = is_changed(group), .faint = !group.there};
            const std::string id = joined({"rule.", group.path.empty() ? std::string_view("head") : std::string_view(group.path)});
            if (ui::rule_row(ui, ui.keep(id), box.cut_top(ui::rule_row_height(ui, box.w, row)), row))
                touched = group.path, touch = true;
        }
        box.cut_top(ui.px(12));
    }
    box.cut_top(parts(ui, box), gap);
    if (touch)
        open_group(ui, touched);
    return box.y - top;
}

// Whole parts that the file leaves out are taken over from rules that have them.
float Workshop::parts(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    int n = 0;
    std::string path, from_path;
    const Protocol* from = nullptr;
    for (const std::string& left : edit_->parts_left_out()) {
        const bool set = left.starts_with("observations.rule_sets[");
        for (const Protocol* other : others()) {
            std::string source;
            if (set) {
                for (std::size_t i = 0; i < other->observations.rule_sets.size() && source.empty(); ++i)
                    if (!edit_->protocol().observations.find(other->observations.rule_sets[i].id))
                        source = joined({"observations.rule_sets[", std::to_string(i), "]"});
            } else if ((left == "match" && other->match) || (left == "round" && other->round) || (left == "session" && other->session)) {
                source = left;
            }
            if (source.empty())
                continue;
            if (n == 0)
                ui::subheading(ui, "parts", box.cut_top(ui.line_height(Face::small), ui.px(4)), "Left out here; can be taken over");
            const std::string label = joined({part_label(left), ", as in: ", other->title});
            if (ui::button(ui, ui.id("part.", n++), box.cut_top(ui.px(ui::row_px), gap), label))
                path = left, from_path = source, from = other;
        }
    }
    if (from) {
        const Protocol was = edit_->protocol();
        const Protocol taken = *from;
        if (const auto error = edit_->take_over(path, taken, from_path)) {
            message_ = joined({"Not taken over: ", error->where, ": ", error->problem, "; accepted: ", error->accepted, "."});
        } else {
            undo_.push_back(was);
            changed();
            message_ = joined({part_label(path), ": taken over from ", taken.title, ", with its sources."});
        }
        ui.change_screen();
    }
    return box.y - top;
}

// --- one group ------------------------------------------------------------------------------------------

void Workshop::open_group(Ui& ui, const std::string& path) {
    const EditGroup* group = edit_->find(path);
    if (!group)
        return;
    group_ = path;
    grouped_ = true;
    refused_.reset();
    message_.clear();
    told_.clear();
    load(*group);
    ui.scroll_to_top("workshop.form");
    ui.change_screen();
}

void Workshop::close_group(Ui& ui) {
    if (!grouped_)
        return;
    grouped_ = false;
    refused_.reset();
    form_.clear();
    ui.change_screen();
}

void Workshop::load_value(const EditValue& value) {
    const std::string id = field_id(value.key), label = value_label(value.key);
    const std::string_view unit = edit_unit(value.key);
    const bool optional = !value.needed || value.more;
    if (value.asked.kind == Asked::Kind::number) {
        const int places = value.asked.places;
        std::optional<std::int64_t> n;
        if (value.text)
            n = number_of(*value.text, places);
        FormField& f = form_.number(id, label, unit, digits_of(value.asked.most / tens(places)), places, value.asked.least,
                                    value.asked.most, accepted_text(value.asked), n);
        f.needed = !optional;
        f.empty = value.more ? "one more" : optional ? "left out" : "not entered";
    } else if (value.asked.kind == Asked::Kind::choice || value.asked.kind == Asked::Kind::truth) {
        const bool truth = value.asked.kind == Asked::Kind::truth;
        std::vector<std::string> words = truth ? std::vector<std::string>{"true", "false"} : value.asked.words;
        int chosen = -1;
        std::vector<std::string> shown;
        for (std::size_t i = 0; i < words.size(); ++i) {
            if (value.text && *value.text == words[i])
                chosen = static_cast<int>(i);
            EditValue one = value;
            one.text = words[i];
            shown.push_back(capital(value_text(one)));
        }
        if (optional)
            shown.emplace_back(left_out);
        FormField& f = form_.choice(id, label, std::move(shown), chosen);
        f.needed = !optional;
        f.empty = value.more ? "one more" : optional ? "left out" : "not chosen";
    }
}

void Workshop::load(const EditGroup& group) {
    form_.clear();
    shape_ = group;
    if (group.path.empty()) {
        load_head();
        return;
    }
    for (const EditValue& value : group.values)
        load_value(value);
    if (!group.has_basis)
        return;
    std::vector<std::string> grades;
    int grade = -1;
    for (int i = 0; i < code_count<Grade>(); ++i) {
        grades.push_back(capital(std::string(name(static_cast<Grade>(i)))));
        if (group.grade == code(static_cast<Grade>(i)))
            grade = i;
    }
    form_.choice("value.grade", "How far to be trusted", std::move(grades), grade).needed = true;
    form_.last().empty = "not chosen";
    std::vector<std::string> sources = {"No source"};
    int source = 0;
    for (const Source& s : edit_->protocol().sources) {
        sources.push_back(shortened(joined({s.title, ", ", s.year})));
        if (s.key == group.source)
            source = static_cast<int>(sources.size()) - 1;
    }
    const bool has_own = std::any_of(edit_->protocol().sources.begin(), edit_->protocol().sources.end(),
                                     [](const Source& s) { return s.key == own_key; });
    if (!has_own) {
        sources.emplace_back(own_source);
        if (group.source == own_key)
            source = static_cast<int>(sources.size()) - 1;
    }
    form_.choice("value.source", "Source", std::move(sources), source);
}

void Workshop::load_head() {
    const Protocol& p = edit_->protocol();
    std::vector<std::string> names = {p.title};
    for (const std::string_view ward : ward_names)
        names.emplace_back(ward);
    form_.choice("head.title", "Called", std::move(names), 0);
    form_.number("head.number", "Its number, if it has one", "", 3, 0, 1, 999, "1 to 999").empty = "none";
    std::vector<std::string> from = {p.issued_by};
    for (const std::string_view issuer : issuers)
        from.emplace_back(issuer);
    form_.choice("head.issued", "Issued by", std::move(from), 0);
    form_.code("head.revised", "Revised: year, month, day", 8).empty = "as it is";
    form_.choice("head.adopted", "Standing", {"An example, adopted by nobody", "Adopted by the ward"}, p.adopted ? 1 : 0);
    form_.choice("head.children", "For", {"Adults", "Children, by weight"}, p.children ? 1 : 0);
}

std::vector<EditChange> Workshop::entered_head() const {
    const Protocol& p = edit_->protocol();
    std::vector<EditChange> out;
    std::string title = form_.chosen("head.title") > 0
                            ? std::string(ward_names[static_cast<std::size_t>(form_.chosen("head.title") - 1)])
                            : p.title;
    if (const auto number = form_.number("head.number"))
        title += joined({" ", std::to_string(*number)});
    if (title != p.title) {
        out.push_back({"title", title});
        std::string id = key_of(title);
        const auto& all = page_has_examples_ ? protocols_ : examples_;
        if (std::any_of(all.begin(), all.end(), [&](const Protocol& e) { return e.id == id; }))
            id = ("own-" + id).substr(0, 40);
        out.push_back({"id", id});
    }
    if (form_.chosen("head.issued") > 0)
        out.push_back({"issued_by", std::string(issuers[static_cast<std::size_t>(form_.chosen("head.issued") - 1)])});
    if (const std::string_view date = form_.code("head.revised"); date.size() == 8)
        out.push_back({"revised", joined({date.substr(0, 4), "-", date.substr(4, 2), "-", date.substr(6, 2)})});
    out.push_back({"adopted", form_.chosen("head.adopted") == 1 ? "true" : "false"});
    out.push_back({"children", form_.chosen("head.children") == 1 ? "true" : "false"});
    return out;
}

std::vector<EditChange> Workshop::entered() const {
    if (group_.empty())
        return entered_head();
    std::vector<EditChange> out;
    for (const EditValue& value : shape_.values) {
        const std::string id = field_id(value.key);
        std::optional<std::string> text;
        if (value.asked.kind == Asked::Kind::number) {
            if (const auto n = form_.number(id))
                text = json::decimal_text(*n, value.asked.places);
        } else if (value.asked.kind == Asked::Kind::truth) {
            const int chosen = form_.chosen(id);
            if (chosen == 0 || chosen == 1)
                text = chosen == 0 ? "true" : "false";
        } else if (value.asked.kind == Asked::Kind::choice) {
            const int chosen = form_.chosen(id);
            if (chosen >= 0 && chosen < static_cast<int>(value.asked.words.size()))
                text = value.asked.words[static_cast<std::size_t>(chosen)];
        } else {
            continue;
        }
        if (!text && value.key.find('[') == std::string::npos && !value.text)
            continue;
        out.push_back({value.key, text});
    }
    if (shape_.has_basis) {
        if (const int grade = form_.chosen("value.grade"); grade >= 0)
            out.push_back({"grade", std::string(code(static_cast<Grade>(grade)))});
        const int source = form_.chosen("value.source");
        const auto& sources = edit_->protocol().sources;
        if (source <= 0)
            out.push_back({"source", std::nullopt});
        else
            out.push_back({"source", source <= static_cast<int>(sources.size()) ? sources[static_cast<std::size_t>(source) - 1].key
                                                                                : std::string(own_key)});
    }
    return out;
}

// One choice can change what there is to choose for another, and a list that has grown has place for one more.
void Workshop::refresh(Ui& ui) {
    if (!grouped_ || group_.empty())
        return;
    const bool editing = form_.editing();
    std::string told;
    const std::vector<EditChange> changes = entered();
    for (const EditChange& c : changes) {
        const EditValue* value = shape_.find(c.key);
        if (editing && value && value->asked.kind == Asked::Kind::number)
            continue; // it is being typed
        told += joined({c.key, "=", c.text ? std::string_view(*c.text) : std::string_view("-"), "\n"});
    }
    if (told == told_)
        return;
    told_ = std::move(told);
    const EditGroup now = edit_->with(group_, changes);
    bool same = editing || now.values.size() == shape_.values.size();
    for (const EditValue& value : now.values) {
        const EditValue* was = shape_.find(value.key);
        same = same && (was ? was->asked == value.asked : editing);
    }
    if (same)
        return;
    load(now);
    if (editing)
        form_.open_missing(ui);
}

bool Workshop::take(Ui& ui) {
    if (form_.open_missing(ui))
        return false;
    const Protocol was = edit_->protocol();
    const std::vector<EditChange> changes = entered();
    const bool own = std::any_of(changes.begin(), changes.end(), [](const EditChange& c) {
        return c.key == "source" && c.text && *c.text == own_key;
    });
    const bool known = std::any_of(was.sources.begin(), was.sources.end(), [](const Source& s) { return s.key == own_key; });
    if (own && !known)
        edit_->add_source(std::string(own_key), std::string(own_source), today().substr(0, 4), "kept on the ward");
    if (auto error = edit_->set(group_, changes)) {
        edit_.emplace(was);
        refused_ = std::move(error);
        ui.scroll_to_top("workshop.form");
        return false;
    }
    const bool changes_something = !(edit_->protocol() == was);
    close_group(ui);
    if (changes_something) {
        undo_.push_back(was);
        changed();
        message_ = "Taken. \"What changes\" shows what it means in the demo cases.";
    }
    return true;
}

void Workshop::panel(Ui& ui, Box area) {
    const float gap = ui.px(ui::gap_px);
    Box foot = area.cut_bottom(ui.px(56), ui.px(8));
    const Box no = foot.cut_right(foot.w * 0.4f, gap);
    if (form_.editing())
        form_.dock(ui, area.cut_bottom(std::min(area.h * 0.66f, form_.dock_height(ui, area.w)), ui.px(8)));
    const Box in = ui.begin_scroll("workshop.form", area);
    Box rest{in.x, in.y, in.w - ui.px(10), 1e6f};
    rest.cut_top(panel_content(ui, rest));
    ui.end_scroll(rest.y - in.y);
    if (!grouped_)
        return; // left out
    const bool can = !form_.empty();
    if (ui::button(ui, "group.take", foot, "Take it", ui::Look::primary, can && form_.refused_nothing()))
        take(ui);
    else if (ui::button(ui, "group.back", no, can ? "Leave it as it is" : "Back"))
        close_group(ui);
}

float Workshop::panel_content(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const EditGroup* group = edit_->find(group_);
    if (!group) {
        close_group(ui);
        return 0;
    }
    const Protocol& p = edit_->protocol();
    const std::string name = edit_label(*group, p), section = edit_section(group->path);
    box.cut_top(ui::paragraph(ui, "group.name", box, name == section ? name : joined({section, ": ", lower_first(name)}), Face::title),
                ui.px(4));
    const std::string value = edit_value(*group), from = edit_basis(*group, p);
    box.cut_top(ui::paragraph(ui, "group.now", box, joined({"Now: ", value, from.empty() ? "" : ". ", from, "."}), Face::small, true), gap);
    if (refused_) {
        const std::string text = joined({refused_->where, refused_->where.empty() ? "" : " ", refused_->problem, ". Accepted: ",
                                         refused_->accepted, ". Nothing has changed."});
        box.cut_top(ui::caution(ui, "group.refused", box, "Not taken", text), gap);
        ui.announce(text);
    }
    box.cut_top(form_.fields(ui, box, box.w >= ui.px(560) ? 2 : 1), gap);
    refresh(ui);
    std::string words;
    for (const EditValue& v : group->values)
        if (v.text && v.asked.kind == Asked::Kind::text && !(group->path.empty() && v.key != "id"))
            words += joined({words.empty() ? "" : ". ", value_label(v.key), ": ", *v.text});
    if (!words.empty())
        box.cut_top(ui::paragraph(ui, "group.words", box,
                                  joined({words, ". Words like these are written in the file, with a text editor."}), Face::small, true),
                    gap);
    if (group->there && group->can_go &&
        ui::button(ui, "group.remove", box.cut_top(ui.px(ui::row_px), gap), "Leave it out of these rules")) {
        const Protocol was = p;
        if (auto error = edit_->remove(group_)) {
            refused_ = std::move(error);
            ui.scroll_to_top("workshop.form");
        } else {
            close_group(ui);
            undo_.push_back(was);
            changed();
            message_ = joined({name, ": left out."});
        }
    }
    return box.y - top;
}

} // namespace hangtime::screens
