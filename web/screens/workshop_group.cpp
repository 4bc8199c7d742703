#include "core/json/field.hpp"
#include "core/plan/edit_words.hpp"
#include "core/plan/plan_words.hpp"
#include "core/words/spelling.hpp"
#include "core/words/words.hpp"
#include "web/screens/workshop.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

/// The entries of the group of values that is being changed. Which entries there are, their bounds and their choices come
/// from the reader of protocols; nothing is known here of any single rule.

namespace hangtime::screens {

using json::Asked;
using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr std::string_view left_out = "Left out";
constexpr std::string_view own_source = "The ward's own policy", own_key = "own-policy";

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

} // namespace

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
