#include "core/protocol/edit.hpp"

#include "core/json/field.hpp"
#include "core/json/read.hpp"
#include "core/json/units.hpp"
#include "core/protocol/edit_tree.hpp"
#include "core/protocol/read.hpp"
#include "core/protocol/write.hpp"

#include <algorithm>

namespace hangtime {

namespace {

using json::Asked;
using json::Kind;
using json::Survey;
using json::Value;

bool is_leaf(Asked::Kind kind) {
    return kind == Asked::Kind::text || kind == Asked::Kind::number || kind == Asked::Kind::truth ||
           kind == Asked::Kind::choice;
}

bool has_word(const Asked& asked, std::string_view word) {
    return std::find(asked.words.begin(), asked.words.end(), word) != asked.words.end();
}

bool is_basis(std::string_view key) { return key == "source" || key == "grade"; }

Survey survey_of(const Value& tree) {
    Survey survey;
    json::Report report(&survey);
    read_protocol(json::Field(report, &tree, ""));
    return survey;
}

// The tree with something at every key and in every list that the reader knows, so that it says what it asks there:
// null where nothing stands. What the reader thinks of it does not matter, it reads on to the end.
Value filled(Value tree) {
    for (;;) {
        const Survey survey = survey_of(tree);
        bool more = false;
        for (const auto& [path, asked] : survey.all()) {
            Value* at = edit_tree::find(tree, path);
            if (!at) continue;
            if (asked.kind == Asked::Kind::object) {
                if (at->kind != Kind::object) *at = edit_tree::object(), more = true;
                for (const std::string& key : asked.words)
                    if (!is_basis(key) && !at->find(key)) edit_tree::put(*at, key, {}), more = true;
            } else if (asked.kind == Asked::Kind::list) {
                if (at->kind != Kind::list) *at = edit_tree::list(), more = true;
                if (at->items.empty() && asked.most > 0) at->items.emplace_back(), more = true;
            }
        }
        if (!more) return tree;
    }
}

// The shape of a list's item is that of its first one.
std::string first_item(std::string_view path) {
    std::string out;
    for (std::size_t i = 0; i < path.size(); ++i) {
        out += path[i];
        if (path[i] != '[') continue;
        while (i + 1 < path.size() && path[i + 1] != ']') ++i;
        out += '0';
    }
    return out;
}

class Looker {
public:
    Looker(const Value& tree, std::vector<EditGroup>& groups, std::vector<std::string>& parts)
        : tree_(tree), real_(survey_of(tree)), shape_(survey_of(filled(tree))), groups_(groups), parts_(parts) {}

    void look() { object("", &tree_, false); }
    EditGroup group_at(const std::string& path) { return group(path, edit_tree::find(tree_, path)); }

private:
    const Asked* asked(const std::string& path) const {
        const Asked* found = shape_.find(path);
        return found ? found : shape_.find(first_item(path));
    }
    // Where something stands, what is asked for there; else the shape.
    const Asked* asked_now(const std::string& path, bool there) const {
        const Asked* now = there ? real_.find(path) : nullptr;
        return now ? now : asked(path);
    }
    bool needed(const std::string& path, bool there) const {
        return there ? real_.needed(path) : shape_.needed(path) || shape_.needed(first_item(path));
    }

    static std::optional<std::string> text_of(const Value* value) {
        if (!value || value->kind == Kind::null) return std::nullopt;
        if (value->kind == Kind::boolean) return value->truth ? "true" : "false";
        return value->text;
    }

    void list_values(EditGroup& out, const std::string& path, const std::string& key, const Value* list) const {
        const Asked* whole = asked(path);
        const std::size_t have = list && list->kind == Kind::list ? list->items.size() : 0;
        for (std::size_t i = 0; i <= have && i < static_cast<std::size_t>(whole->most); ++i) {
            const std::string index = "[" + std::to_string(i) + "]";
            const Asked* item = asked(path + index);
            if (!item) return;
            out.values.push_back({key + index, *item, i < have ? text_of(&list->items[i]) : std::nullopt,
                                  static_cast<std::int64_t>(i) < whole->least, i >= have});
        }
    }

    EditGroup group(const std::string& path, const Value* value) const {
        EditGroup out;
        out.path = path;
        out.there = value != nullptr;
        const Asked* object = asked(path);
        if (!object) return out;
        out.has_basis = has_word(*object, "grade");
        for (const std::string& key : object->words) {
            const std::string below = edit_tree::below(path, key);
            const Value* stands = value ? value->find(key) : nullptr;
            if (is_basis(key)) {
                if (const auto text = text_of(stands)) (key == "source" ? out.source : out.grade) = *text;
                continue;
            }
            const Asked* kind = asked_now(below, value != nullptr);
            if (!kind) continue;
            if (is_leaf(kind->kind))
                out.values.push_back({key, *kind, text_of(stands), needed(below, value != nullptr), false});
            else if (kind->kind == Asked::Kind::list) {
                const Asked* item = asked(below + "[0]");
                if (item && is_leaf(item->kind)) list_values(out, below, key, stands);
            }
        }
        out.can_go = !path.empty() && (path.back() == ']' || !needed(path, out.there));
        return out;
    }

    void object(const std::string& path, const Value* value, bool inside_left_out) {
        const Asked* shape = asked(path);
        if (!shape || inside_left_out) return;
        const bool group_of_values = has_word(*shape, "grade");
        EditGroup found = group(path, value);
        if (!value && !group_of_values) {
            parts_.push_back(path);
            return;
        }
        if (!found.values.empty()) groups_.push_back(std::move(found));
        for (const std::string& key : shape->words) {
            if (is_basis(key)) continue;
            const std::string below = edit_tree::below(path, key);
            const Value* stands = value ? value->find(key) : nullptr;
            const Asked* kind = asked(below);
            if (!kind) continue;
            if (kind->kind == Asked::Kind::object) object(below, stands, !value);
            if (kind->kind == Asked::Kind::members && stands)
                for (std::size_t i = 0; i < stands->items.size(); ++i)
                    object(edit_tree::below(below, stands->keys[i]), &stands->items[i], false);
            const Asked* item = kind->kind == Asked::Kind::list ? asked(below + "[0]") : nullptr;
            if (!item || item->kind != Asked::Kind::object) continue;
            const std::size_t have = stands && stands->kind == Kind::list ? stands->items.size() : 0;
            for (std::size_t i = 0; i <= have && i < static_cast<std::size_t>(kind->most); ++i)
                object(below + "[" + std::to_string(i) + "]", i < have ? &stands->items[i] : nullptr, !value);
        }
    }

    const Value& tree_;
    Survey real_, shape_;
    std::vector<EditGroup>& groups_;
    std::vector<std::string>& parts_;
};

// The value of a text, by what is asked for; an error where it is no such value at all.
Result<Value> value_of(const std::string& path, const Asked& asked, const std::string& text) {
    Value out;
    out.text = text;
    switch (asked.kind) {
        case Asked::Kind::number:
            if (!edit_tree::is_number(text)) return Error{path, "\"" + text + "\" is no number", accepted_text(asked)};
            out.kind = Kind::number;
            return out;
        case Asked::Kind::truth:
            if (text != "true" && text != "false")
                return Error{path, "\"" + text + "\" is neither true nor false", accepted_text(asked)};
            out.kind = Kind::boolean;
            out.truth = text == "true";
            out.text.clear();
            return out;
        case Asked::Kind::text:
        case Asked::Kind::choice:
        case Asked::Kind::list:
        case Asked::Kind::members:
        case Asked::Kind::object: break;
    }
    out.kind = Kind::text;
    return out;
}

constexpr struct {
    std::string_view end, unit;
} unit_ends[] = {{"_years", "years"}, {"_gauge", "G"}, {"_percent_on_air", "%"}};
constexpr struct {
    std::string_view key, unit;
} unit_words[] = {{"min", "min"}, {"ml", "mL"}, {"ml_per_h", "mL/h"}, {"ml_per_kg_per_h", "mL/kg/h"}, {"kg", "kg"},
                  {"c", "\xC2\xB0" "C"}, {"percent", "%"}, {"mmhg", "mmHg"}, {"per_min", "/min"},
                  {"drops_per_ml", "drops/mL"}, {"units", "units"}};

// "bags_ml" of "bags_ml[1]".
std::string_view stem_of(std::string_view key) { return key.substr(0, key.find('[')); }

// Puts the changes into `group`, an object of the tree.
std::optional<Error> apply(Value& group, const EditGroup& shape, const std::vector<EditChange>& changes) {
    for (std::size_t i = 0; i < changes.size(); ++i) {
        const std::string key(stem_of(changes[i].key));
        const std::string path = edit_tree::below(shape.path, changes[i].key);
        if (is_basis(key)) {
            if (!shape.has_basis) return Error{path, "is not known here", "the values of the group"};
            if (changes[i].text) edit_tree::put(group, key, {Kind::text, false, *changes[i].text, {}, {}});
            else edit_tree::drop(group, key);
            continue;
        }
        const EditValue* value = shape.find(changes[i].key);
        if (!value) return Error{path, "is not known here", "the values of the group"};
        const bool listed = key.size() < changes[i].key.size();
        if (listed) {  // a list is made anew by the first of its items
            bool first = true;
            for (std::size_t j = 0; j < i; ++j) first &= stem_of(changes[j].key) != key;
            if (first) edit_tree::put(group, key, edit_tree::list());
        }
        if (!changes[i].text) {
            if (!listed) edit_tree::drop(group, key);
            continue;
        }
        Result<Value> made = value_of(path, value->asked, *changes[i].text);
        if (!made.ok()) return made.error();
        if (listed) edit_tree::member(group, key)->items.push_back(std::move(made.value()));
        else edit_tree::put(group, key, std::move(made.value()));
    }
    return std::nullopt;
}

}  // namespace

ProtocolEdit::ProtocolEdit(const Protocol& protocol) : protocol_(protocol) { look(); }

void ProtocolEdit::look() {
    // In the written form: what stands where is then never a matter of how somebody typed the file.
    Result<Value> tree = json::read(write_protocol(protocol_));
    tree_ = tree.ok() ? std::move(tree.value()) : edit_tree::object();
    groups_.clear();
    parts_left_out_.clear();
    Looker(tree_, groups_, parts_left_out_).look();
}

const EditGroup* ProtocolEdit::find(std::string_view path) const {
    for (const EditGroup& group : groups_)
        if (group.path == path) return &group;
    return nullptr;
}

std::optional<Error> ProtocolEdit::take(Value tree) {
    json::Report report;
    Protocol made = read_protocol(json::Field(report, &tree, ""));
    if (!report.ok()) return report.error();
    protocol_ = std::move(made);
    look();
    return std::nullopt;
}

EditGroup ProtocolEdit::with(const std::string& path, const std::vector<EditChange>& changes) const {
    const EditGroup* shape = find(path);
    if (!shape) return {};
    Value tree = tree_;
    if (Value* group = edit_tree::make(tree, path)) apply(*group, *shape, changes);
    std::vector<EditGroup> groups;
    std::vector<std::string> parts;
    EditGroup out = Looker(tree, groups, parts).group_at(path);
    out.there = shape->there;
    out.can_go = shape->can_go;
    return out;
}

std::optional<Error> ProtocolEdit::set(const std::string& path, const std::vector<EditChange>& changes) {
    const EditGroup* shape = find(path);
    if (!shape) return Error{path, "is not known here", "a group of this protocol"};
    Value tree = tree_;
    Value* group = edit_tree::make(tree, path);
    if (!group) return Error{path, "cannot be put there", "a group of this protocol"};
    if (auto error = apply(*group, *shape, changes)) return error;
    return take(std::move(tree));
}

std::optional<Error> ProtocolEdit::remove(const std::string& path) {
    Value tree = tree_;
    if (!edit_tree::remove(tree, path)) return Error{path, "is not there", "what stands in this protocol"};
    return take(std::move(tree));
}

std::optional<Error> ProtocolEdit::take_over(const std::string& path, const Protocol& other, const std::string& from) {
    Result<Value> read = json::read(write_protocol(other));
    Value* part = read.ok() ? edit_tree::find(read.value(), from) : nullptr;
    if (!part) return Error{from, "is not there", "what stands in the other protocol"};
    Value tree = tree_;
    Value* place = edit_tree::make(tree, path);
    if (!place) return Error{path, "cannot be put there", "a place in this protocol"};
    *place = *part;
    Value* ours = edit_tree::find(tree, "sources");
    const Value* theirs = edit_tree::find(read.value(), "sources");
    place = edit_tree::find(tree, path);
    edit_tree::each_source(*place, [&](std::string& key) {
        const Value* source = theirs->find(key);
        // The same key can stand for another source here; then it gets a key that is free.
        const auto same = [&](const std::string& k) {
            const Value* known = ours->find(k);
            return known && source && edit_tree::same(*known, *source);
        };
        std::string free = key;
        for (int n = 2; ours->find(free) && !same(free) && n < 100; ++n) free = key + "-" + std::to_string(n);
        if (!ours->find(free) && source) edit_tree::put(*ours, free, *source);
        key = free;
    });
    return take(std::move(tree));
}

std::optional<Error> ProtocolEdit::add_source(const std::string& key, const std::string& title,
                                              const std::string& year, const std::string& place) {
    Value tree = tree_;
    Value* sources = edit_tree::find(tree, "sources");
    if (!sources) return Error{"sources", "is not there", "a protocol with sources"};
    if (sources->find(key)) return Error{"sources." + key, "is there already", "a key that is free"};
    Value source = edit_tree::object();
    for (const auto& [name, text] : {std::pair{"title", title}, {"year", year}, {"place", place}})
        edit_tree::put(source, name, {Kind::text, false, text, {}, {}});
    edit_tree::put(*sources, key, std::move(source));
    return take(std::move(tree));
}

std::string_view edit_unit(std::string_view key) {
    key = stem_of(key);
    for (const auto& [end, unit] : unit_ends)
        if (key.ends_with(end)) return unit;
    const std::string_view unit = json::parts_of(key).unit;
    for (const auto& [k, words] : unit_words)
        if (k == unit) return words;
    return {};
}

std::string accepted_text(const Asked& asked) {
    switch (asked.kind) {
        case Asked::Kind::number:
            return (asked.places == 0 ? std::string("a whole number")
                                      : "a number with at most " + std::to_string(asked.places) +
                                            (asked.places == 1 ? " decimal" : " decimals")) +
                   " from " + json::decimal_text(asked.least, asked.places) + " to " +
                   json::decimal_text(asked.most, asked.places);
        case Asked::Kind::truth: return "true or false";
        case Asked::Kind::choice: {
            const std::vector<std::string_view> words(asked.words.begin(), asked.words.end());
            return json::listed(words);
        }
        case Asked::Kind::text:
            return std::to_string(asked.least) + " to " + std::to_string(asked.most) + " characters of text";
        case Asked::Kind::list:
        case Asked::Kind::members:
        case Asked::Kind::object: break;
    }
    return {};
}

}  // namespace hangtime
