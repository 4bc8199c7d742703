#include "support.hpp"

#include "core/json/read.hpp"
#include "core/json/write.hpp"
#include "core/protocol/read.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace hangtime::test {

namespace {

std::string tree() {
    const char* root = std::getenv("HANGTIME_ROOT");
    if (!root) FAIL("HANGTIME_ROOT is not set: it must name the project's top folder");
    return std::string(root) + "/";
}

}  // namespace

std::string file_text(const std::string& path) {
    std::ifstream file(tree() + path, std::ios::binary);
    if (!file) FAIL("cannot read " << path);
    return {std::istreambuf_iterator<char>(file), {}};
}

std::vector<std::string> demo_names(const std::string& folder) {
    std::vector<std::string> out;
    std::error_code error;
    for (const auto& entry : std::filesystem::directory_iterator(tree() + "demo-data/" + folder, error))
        if (entry.path().extension() == ".json") out.push_back(entry.path().stem().string());
    std::sort(out.begin(), out.end());
    if (out.empty()) FAIL("no files in demo-data/" << folder);
    return out;
}

Protocol shipped_protocol(const std::string& id) {
    const auto read = read_protocol(file_text("demo-data/protocols/" + id + ".json"));
    if (!read.ok()) FAIL(id << ": " << read.error().where << " " << read.error().problem);
    return read.value();
}

Request demo_request(const std::string& name) {
    const std::string text = file_text("demo-data/transfusions/" + name + ".json");
    const auto id = read_protocol_id(text);
    if (!id.ok()) FAIL(name << ": " << id.error().where << " " << id.error().problem);
    const auto read = read_request(text, shipped_protocol(id.value()));
    if (!read.ok()) FAIL(name << ": " << read.error().where << " " << read.error().problem);
    return read.value();
}

std::string without_revision(std::string text, const Protocol& rules) {
    constexpr std::string_view word = "revised";
    for (std::size_t at = text.find(word); at != text.npos; at = text.find(word, at + 1)) {
        const std::size_t date = text.find_first_not_of(" \n", at + word.size());
        if (date == text.npos || text.compare(date, rules.revised.size(), rules.revised) != 0) continue;
        const std::size_t end = date + rules.revised.size();
        if (end < text.size() && (text[end] == '-' || (text[end] >= '0' && text[end] <= '9'))) continue;  // another date
        text.erase(at, end - at);
    }
    return text;
}

std::string replaced(const std::string& text, const std::string& old, const std::string& by) {
    const std::size_t at = text.find(old);
    if (at == text.npos) FAIL("there is no " << old);
    return text.substr(0, at) + by + text.substr(at + old.size());
}

std::string text_of(const json::Value& tree) {
    std::string out;
    switch (tree.kind) {
    case json::Kind::null: return "null";
    case json::Kind::boolean: return tree.truth ? "true" : "false";
    case json::Kind::number: return tree.text;
    case json::Kind::text: return json::quoted_text(tree.text);
    case json::Kind::list:
        for (const json::Value& item : tree.items) out += (out.empty() ? "[" : ", ") + text_of(item);
        return out.empty() ? "[]" : out + "]";
    case json::Kind::object:
        for (std::size_t i = 0; i < tree.items.size(); ++i)
            out += (i == 0 ? "{" : ", ") + json::quoted_text(tree.keys[i]) + ": " + text_of(tree.items[i]);
        return out.empty() ? "{}" : out + "}";
    }
    return out;
}

json::Value tree_of(const std::string& text) {
    const auto read = json::read(text);
    if (!read.ok()) FAIL(read.error().where << ": " << read.error().problem);
    return read.value();
}

namespace {

struct EachChange {
    const std::function<bool(json::Value&, std::size_t)>& change;
    const std::function<void(const std::string&, const std::string&)>& with;
    std::size_t step, count = 0;

    void below(json::Value& root, json::Value& at, const std::string& path);
};

void EachChange::below(json::Value& root, json::Value& at, const std::string& path) {
    for (std::size_t i = 0; i < at.items.size(); ++i) {
        const std::string here = at.kind == json::Kind::object ? (path.empty() ? "" : path + ".") + at.keys[i]
                                                               : path + "[" + std::to_string(i) + "]";
        const json::Value before = at;
        if (change(at, i) && count++ % step == 0) with(here, text_of(root));
        at = before;
        below(root, at.items[i], here);
    }
}

}  // namespace

std::size_t each_change(const json::Value& tree,
                        const std::function<bool(json::Value&, std::size_t)>& change,
                        const std::function<void(const std::string&, const std::string&)>& with, std::size_t step) {
    json::Value root = tree;
    EachChange each{change, with, step};
    each.below(root, root, "");
    return each.count;
}

}  // namespace hangtime::test
