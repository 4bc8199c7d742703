#include "tests/web/harness.hpp"

#include "web/platform/store_twin.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <new>
#include <set>
#include <sstream>

namespace hangtime::test {

using platform::Event;
using platform::Key;
namespace twin = platform::twin;

std::string root_folder() {
    const char* root = std::getenv("HANGTIME_ROOT");
    return root != nullptr ? root : ".";
}

namespace {
std::string all_of(const std::string& folder, bool named = false) {
    std::vector<std::string> files;
    for (const auto& entry : std::filesystem::directory_iterator(root_folder() + folder))
        if (entry.path().extension() == ".json")
            files.push_back(entry.path().string());
    std::sort(files.begin(), files.end());
    std::string all = "[";
    for (const std::string& file : files) {
        std::stringstream text;
        text << std::ifstream(file).rdbuf();
        all += all.size() > 1 ? "," : "";
        if (named)
            all += "\"" + std::filesystem::path(file).stem().string() + "\",";
        all += text.str();
    }
    return all + "]";
}
} // namespace

std::string shipped_protocols() {
    return all_of("/demo-data/protocols");
}
std::string shipped_rehearsals() {
    return all_of("/demo-data/rehearsals");
}
std::string shipped_cases() {
    return all_of("/demo-data/transfusions", true);
}

Instant at(int hour, int minute, int second) {
    return {days_from_civil(2026, 3, 14) * 86400 + hour * 3600 + minute * 60 + second};
}

std::vector<std::uint32_t> without_node(const std::vector<std::uint32_t>& items, const ui::NodeList& nodes) {
    std::vector<std::uint32_t> bare;
    for (const std::uint32_t id : items) {
        const auto all = nodes.now();
        if (std::none_of(all.begin(), all.end(), [id](const ui::Node& n) { return n.item == id; }))
            bare.push_back(id);
    }
    return bare;
}

Page::Page(int width, int height, float scale, Instant now) {
    twin::reset(width, height, scale);
    twin::set_protocols(shipped_protocols());
    twin::set_rehearsals(shipped_rehearsals());
    twin::set_cases(shipped_cases());
    twin::set_now(now);
    take_items();
    begin();
}

// In memory that is all zero: what a test searches there must not be left over from another test's App.
void Page::begin() {
    app_.reset();
    void* room = std::calloc(1, sizeof(App));
    app_.reset(new (room) App);
    platform::run(*app_);
}

void Page::End::operator()(App* app) const {
    app->~App();
    std::free(app);
}

void Page::frame() {
    take_items();
    app_->frame();
    for (const std::uint32_t item : without_node(take_items(), app_->ui().nodes())) {
        INFO("interactive item " << item << " has no node");
        CHECK(item == 0);
    }
    // An id stands for one thing: the accessibility DOM would lose the other.
    std::set<std::string_view> ids;
    for (const ui::Node& n : app_->ui().nodes().now())
        if (!ids.insert(n.id).second) {
            INFO("two nodes are called " << n.id);
            CHECK(n.id.empty());
        }
}

void Page::settle() {
    for (int i = 0; i < 20 && twin::settle() > 0; ++i)
        frame();
}

void Page::reload(bool written) {
    twin::crash(written);
    begin();
    settle();
}

void Page::act(std::string_view id) {
    const std::string held(id);
    if (const ui::Node* node = find(held); node != nullptr && node->clipped)
        show(held);
    tap(held);
    wait(450);
    settle();
}

void Page::go_to(Instant at) {
    const std::int64_t ms = at.utc * 1000 - platform::wall_ms();
    REQUIRE(ms >= 0);
    wait(ms);
    settle();
}

const ui::Node* Page::find(std::string_view id) const {
    return app_->ui().nodes().find(id);
}

Event Page::pointer(Event::Kind kind, std::string_view id) const {
    const ui::Node* node = find(id);
    INFO("node " << id);
    REQUIRE(node != nullptr);
    REQUIRE(!node->clipped);
    Event e;
    e.kind = kind;
    e.pointer = platform::Pointer::touch;
    e.x = node->box.x + node->box.w / 2;
    e.y = node->box.y + node->box.h / 2;
    e.at_ms = platform::now_ms() + ui::Ui::aimed_ms; // by somebody who has seen what is there
    return e;
}

void Page::press(std::string_view id) {
    app_->input(pointer(Event::Kind::press, id));
}
void Page::release(std::string_view id) {
    app_->input(pointer(Event::Kind::release, id));
}

void Page::tap(std::string_view id) {
    const Event down = pointer(Event::Kind::press, id);
    Event up = down;
    up.kind = Event::Kind::release;
    app_->input(down);
    app_->input(up);
    frame();
}

void Page::type(std::string_view keys) {
    for (const char c : keys) {
        Event e;
        e.kind = Event::Kind::key;
        e.key = Key::character;
        e.character = static_cast<char32_t>(c);
        e.at_ms = platform::now_ms();
        app_->input(e);
        wait(120);
    }
}

void Page::scan(std::string_view text, Key end, std::int64_t gap_ms) {
    Event e;
    e.kind = Event::Kind::key;
    e.key = Key::character;
    for (const char c : text) {
        e.character = static_cast<char32_t>(c);
        e.at_ms = platform::now_ms();
        app_->input(e);
        twin::advance_ms(gap_ms);
    }
    e.key = end;
    e.character = 0;
    e.at_ms = platform::now_ms();
    if (end != Key::none)
        app_->input(e);
    frame();
    wait(200);
}

void Page::key(Key key, bool shift) {
    Event e;
    e.kind = Event::Kind::key;
    e.key = key;
    e.shift = shift;
    e.at_ms = platform::now_ms();
    app_->input(e);
    wait(60);
}

void Page::wheel(std::string_view over, float css) {
    const ui::Node* node = find(over);
    REQUIRE(node != nullptr);
    Event e;
    e.kind = Event::Kind::wheel;
    e.x = node->box.x + node->box.w / 2;
    const float h = app_->ui().screen().h;
    e.y = std::clamp(node->box.y + node->box.h / 2, 80.0f, h - 80);
    if (has("strip.object")) // a session's strip and foot do not scroll; what does stands here, whatever is open
        e.y = app_->ui().screen().y + h * 0.4f;
    e.wheel_by = css;
    app_->input(e);
    frame();
}

void Page::show(std::string_view id) {
    REQUIRE(find(id) != nullptr);
    for (int i = 0; i < 60 && find(id)->clipped; ++i)
        wheel(id, find(id)->box.y < 80 ? -60.0f : 60.0f);
    REQUIRE(!find(id)->clipped);
}

void Page::wait(std::int64_t ms) {
    twin::advance_ms(ms);
    frame();
}

void Page::resize(int width, int height, float scale) {
    twin::set_surface(width, height, scale);
    frame();
}

std::string Page::value(std::string_view id) const {
    const ui::Node* n = find(id);
    return n == nullptr ? "" : std::string(n->value);
}
std::string Page::label(std::string_view id) const {
    const ui::Node* n = find(id);
    return n == nullptr ? "" : std::string(n->label);
}

bool Page::says(std::string_view id, std::string_view text) const {
    const std::string said = value(id).empty() ? label(id) : value(id);
    UNSCOPED_INFO(id << " says '" << said << "', not '" << text << "'");
    return said.starts_with(text);
}

std::string Page::all_text() const {
    std::string all;
    for (const ui::Node& n : app_->ui().nodes().now()) {
        all.append(n.label).append(" ").append(n.value).append("\n");
    }
    return all;
}

void Page::choose(std::string_view label) {
    for (const ui::Node& n : app_->ui().nodes().now())
        if (n.role == ui::Role::choice && n.label == label) {
            const std::string id(n.id);
            if (n.clipped)
                show(id);
            tap(id);
            return;
        }
    FAIL("no choice is called " << label);
}

void Page::enter(std::string_view component, std::string_view volume, std::string_view issued,
                 std::string_view start) {
    tap("unit.component");
    choose(component);
    for (const auto& [id, text] :
         {std::pair{"unit.volume", volume}, {"unit.issued", issued}, {"unit.start", start}}) {
        const ui::Node* n = find(id);
        REQUIRE(n != nullptr);
        if ((n->state & ui::State::editing) == 0)
            tap(id);
        type(text);
        key(Key::enter);
    }
}

void Page::write_png(std::string_view name) const {
    const char* folder = std::getenv("HANGTIME_PICTURES");
    if (folder == nullptr)
        return;
    const twin::Shown& s = twin::shown();
    test::write_png(std::string(folder) + "/" + std::string(name) + ".png", s.pixels.data(), s.width,
                    s.height);
}

void write_png(const std::string& file, const std::uint32_t* pixels, int width, int height) {
    static const auto crc_table = [] {
        std::array<std::uint32_t, 256> table{};
        for (std::uint32_t n = 0; n < 256; ++n) {
            std::uint32_t c = n;
            for (int k = 0; k < 8; ++k)
                c = (c & 1) != 0 ? 0xedb88320u ^ (c >> 1) : c >> 1;
            table[n] = c;
        }
        return table;
    }();
    std::ofstream out(file, std::ios::binary);
    const auto big = [](std::uint32_t v) {
        return std::string{static_cast<char>(v >> 24), static_cast<char>(v >> 16), static_cast<char>(v >> 8),
                           static_cast<char>(v)};
    };
    const auto chunk = [&](const std::string& type, const std::string& data) {
        const std::string body = type + data;
        std::uint32_t crc = 0xffffffffu;
        for (const char c : body)
            crc = crc_table[(crc ^ static_cast<std::uint8_t>(c)) & 0xff] ^ (crc >> 8);
        out << big(static_cast<std::uint32_t>(data.size())) << body << big(crc ^ 0xffffffffu);
    };
    std::string raw;
    for (int y = 0; y < height; ++y) {
        raw.push_back(0);
        for (int x = 0; x < width; ++x) {
            const std::uint32_t p = pixels[y * width + x];
            raw.push_back(static_cast<char>(p));
            raw.push_back(static_cast<char>(p >> 8));
            raw.push_back(static_cast<char>(p >> 16));
        }
    }
    std::string stream = "\x78\x01";
    std::uint32_t a = 1, b = 0;
    for (std::size_t i = 0; i < raw.size(); i += 65535) {
        const auto n = static_cast<std::uint32_t>(std::min<std::size_t>(65535, raw.size() - i));
        stream.push_back(i + n == raw.size() ? 1 : 0);
        for (const std::uint32_t v : {n, ~n}) {
            stream.push_back(static_cast<char>(v));
            stream.push_back(static_cast<char>(v >> 8));
        }
        stream.append(raw, i, n);
    }
    for (const char c : raw) {
        a = (a + static_cast<std::uint8_t>(c)) % 65521;
        b = (b + a) % 65521;
    }
    stream += big(b << 16 | a);
    out << "\x89PNG\r\n\x1a\n";
    chunk("IHDR", big(static_cast<std::uint32_t>(width)) + big(static_cast<std::uint32_t>(height)) +
                      std::string("\x08\x02\x00\x00\x00", 5));
    chunk("IDAT", stream);
    chunk("IEND", "");
}

} // namespace hangtime::test
