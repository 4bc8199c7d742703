#include "support.hpp"

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

std::string replaced(const std::string& text, const std::string& old, const std::string& by) {
    const std::size_t at = text.find(old);
    if (at == text.npos) FAIL("there is no " << old);
    return text.substr(0, at) + by + text.substr(at + old.size());
}

}  // namespace hangtime::test
