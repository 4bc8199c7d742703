#include "core/protocol/edit_tree.hpp"

#include <optional>

namespace hangtime::edit_tree {

using json::Kind;
using json::Value;

namespace {

// The first step of a path: a key, or the number of an item; `path` keeps the rest.
struct PathStep {
    std::string_view key;
    std::optional<std::size_t> item;
};

PathStep take_step(std::string_view& path) {
    if (path.starts_with('[')) {
        const std::size_t end = path.find(']');
        std::size_t n = 0;
        for (const char c : path.substr(1, end == path.npos ? path.npos : end - 1))
            n = n * 10 + static_cast<std::size_t>(c >= '0' && c <= '9' ? c - '0' : 0);
        path.remove_prefix(end == path.npos ? path.size() : end + 1);
        if (path.starts_with('.')) path.remove_prefix(1);
        return {{}, n};
    }
    const std::size_t end = path.find_first_of(".[");
    const std::string_view key = path.substr(0, end);
    path.remove_prefix(end == path.npos ? path.size() : end);
    if (path.starts_with('.')) path.remove_prefix(1);
    return {key, std::nullopt};
}

Value* step_into(Value& at, const PathStep& step) {
    if (!step.item) return member(at, step.key);
    return at.kind == Kind::list && *step.item < at.items.size() ? &at.items[*step.item] : nullptr;
}

// What holds the last step of a path; null where it is not there.
Value* parent_of(Value& tree, std::string_view path, PathStep& last) {
    Value* at = &tree;
    while (!path.empty()) {
        last = take_step(path);
        if (path.empty()) return at;
        at = step_into(*at, last);
        if (!at) return nullptr;
    }
    return nullptr;
}

}  // namespace

std::string below(std::string_view path, std::string_view key) {
    std::string out(path);
    if (!out.empty()) out += '.';
    return out.append(key);
}

Value object() { return {Kind::object, false, {}, {}, {}}; }
Value list() { return {Kind::list, false, {}, {}, {}}; }

Value* member(Value& object, std::string_view key) {
    if (object.kind != Kind::object) return nullptr;
    for (std::size_t i = 0; i < object.keys.size(); ++i)
        if (object.keys[i] == key) return &object.items[i];
    return nullptr;
}

Value* find(Value& tree, std::string_view path) {
    Value* at = &tree;
    while (at && !path.empty()) at = step_into(*at, take_step(path));
    return at;
}

const Value* find(const Value& tree, std::string_view path) { return find(const_cast<Value&>(tree), path); }

Value* make(Value& tree, std::string_view path) {
    if (Value* there = find(tree, path)) return there;
    PathStep last;
    Value* parent = parent_of(tree, path, last);
    if (!parent) return nullptr;
    if (!last.item) {
        if (parent->kind != Kind::object) return nullptr;
        put(*parent, last.key, object());
        return member(*parent, last.key);
    }
    if (parent->kind != Kind::list || *last.item != parent->items.size()) return nullptr;
    parent->items.push_back(object());
    return &parent->items.back();
}

bool remove(Value& tree, std::string_view path) {
    PathStep last;
    Value* parent = parent_of(tree, path, last);
    if (!parent || !step_into(*parent, last)) return false;
    if (last.item) parent->items.erase(parent->items.begin() + static_cast<std::ptrdiff_t>(*last.item));
    else drop(*parent, last.key);
    return true;
}

void put(Value& object, std::string_view key, Value value) {
    if (Value* there = member(object, key)) {
        *there = std::move(value);
        return;
    }
    object.keys.emplace_back(key);
    object.items.push_back(std::move(value));
}

void drop(Value& object, std::string_view key) {
    for (std::size_t i = 0; i < object.keys.size(); ++i) {
        if (object.keys[i] != key) continue;
        object.keys.erase(object.keys.begin() + static_cast<std::ptrdiff_t>(i));
        object.items.erase(object.items.begin() + static_cast<std::ptrdiff_t>(i));
        return;
    }
}

void each_source(Value& tree, const std::function<void(std::string&)>& with) {
    for (std::size_t i = 0; i < tree.items.size(); ++i) {
        if (tree.kind == Kind::object && tree.keys[i] == "source" && tree.items[i].kind == Kind::text)
            with(tree.items[i].text);
        else
            each_source(tree.items[i], with);
    }
}

bool same(const Value& a, const Value& b) {
    if (a.kind != b.kind || a.truth != b.truth || a.text != b.text || a.keys != b.keys ||
        a.items.size() != b.items.size())
        return false;
    for (std::size_t i = 0; i < a.items.size(); ++i)
        if (!same(a.items[i], b.items[i])) return false;
    return true;
}

bool is_number(std::string_view text) {
    if (text.starts_with('-')) text.remove_prefix(1);
    const std::size_t point = text.find('.');
    const auto digits = [](std::string_view part) {
        return !part.empty() && part.find_first_not_of("0123456789") == part.npos;
    };
    const std::string_view whole = text.substr(0, point);
    if (!digits(whole) || (whole.size() > 1 && whole.front() == '0')) return false;
    return point == text.npos || digits(text.substr(point + 1));
}

}  // namespace hangtime::edit_tree
