#include "tests/web/one_screen.hpp"

#include <catch2/catch_test_macros.hpp>

#include <cstdlib>

namespace hangtime::test {

using platform::Event;
using platform::Key;

OneScreen::OneScreen(int width, int height, float scale, Build build) : build_(std::move(build)) {
    surface_.width = width;
    surface_.height = height;
    surface_.scale = scale;
    frame();
    frame();
}

void OneScreen::frame() {
    if (ui.fit(surface_)) {
        const ui::Ui::Atlas atlas = ui.atlas();
        renderer_.set_atlas(atlas.alpha, atlas.width, atlas.height);
    }
    const auto draw = [&] {
        ui.begin();
        build_(ui, ui.screen().inset(ui.px(12)));
        ui.end();
    };
    ui.tick(ms_);
    bool more = true;
    while (more) {
        more = ui.feed();
        draw();
    }
    draw();
    take_items();
    draw();
    for (const std::uint32_t item : without_node(take_items(), ui.nodes())) {
        INFO("interactive item " << item << " has no node");
        CHECK(item == 0);
    }
}

void OneScreen::send(const Event& event) {
    Event e = event;
    e.at_ms = ms_;
    ui.input(e);
}

void OneScreen::tap(std::string_view id) {
    INFO("node " << id);
    REQUIRE(find(id) != nullptr);
    for (int i = 0; i < 80 && find(id)->clipped; ++i) {
        const ui::Box box = find(id)->box;
        Event e;
        e.kind = Event::Kind::wheel;
        e.x = box.x + box.w / 2;
        e.y = ui.screen().h / 2;
        e.wheel_by = box.y < ui.screen().h / 2 ? -50.0f : 50.0f;
        send(e);
        frame();
    }
    const ui::Node* node = find(id);
    REQUIRE(!node->clipped);
    CHECK((node->state & ui::State::disabled) == 0);
    Event e;
    e.kind = Event::Kind::press;
    e.pointer = platform::Pointer::touch;
    e.x = node->box.x + node->box.w / 2;
    e.y = node->box.y + node->box.h / 2;
    send(e);
    e.kind = Event::Kind::release;
    send(e);
    wait(60);
}

void OneScreen::drag(std::string_view id, float across, float down) {
    INFO("node " << id);
    REQUIRE(find(id) != nullptr);
    REQUIRE(!find(id)->clipped);
    const ui::Box box = find(id)->box;
    Event e;
    e.kind = Event::Kind::press;
    e.pointer = platform::Pointer::touch;
    e.x = box.x + box.w / 2;
    e.y = box.y + box.h / 2;
    send(e);
    frame();
    e.kind = Event::Kind::move;
    for (int step = 0; step < 8; ++step) {
        e.x += across * surface_.scale / 8;
        e.y += down * surface_.scale / 8;
        send(e);
        frame();
    }
    e.kind = Event::Kind::release;
    send(e);
    wait(60);
}

void OneScreen::type(std::string_view keys) {
    for (const char c : keys) {
        Event e;
        e.kind = Event::Kind::key;
        e.key = Key::character;
        e.character = static_cast<char32_t>(c);
        send(e);
        wait(120);
    }
}

void OneScreen::key(Key k) {
    Event e;
    e.kind = Event::Kind::key;
    e.key = k;
    send(e);
    wait(120);
}

void OneScreen::scan(std::string_view text) {
    Event e;
    e.kind = Event::Kind::key;
    e.key = Key::character;
    for (const char c : text) {
        e.character = static_cast<char32_t>(c);
        send(e);
        ms_ += 8;
    }
    e.key = Key::enter;
    e.character = 0;
    send(e);
    wait(300);
}

void OneScreen::wait(std::int64_t ms) {
    ms_ += ms;
    frame();
}

void OneScreen::resize(int width, int height, float scale) {
    surface_.width = width;
    surface_.height = height;
    surface_.scale = scale;
    frame();
}

std::string OneScreen::label(std::string_view id) const {
    const ui::Node* n = find(id);
    return n == nullptr ? "" : std::string(n->label);
}
std::string OneScreen::value(std::string_view id) const {
    const ui::Node* n = find(id);
    return n == nullptr ? "" : std::string(n->value);
}
std::uint16_t OneScreen::state(std::string_view id) const {
    const ui::Node* n = find(id);
    REQUIRE(n != nullptr);
    return n->state;
}

std::string OneScreen::all_text() const {
    std::string all;
    for (const ui::Node& n : ui.nodes().now())
        all.append(n.label).append(" ").append(n.value).append("\n");
    return all;
}

void OneScreen::check_layout() const {
    const auto nodes = ui.nodes().now();
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        const ui::Node& a = nodes[i];
        INFO(a.id << " '" << a.label << "' at " << a.box.x << " " << a.box.y << ", " << a.box.w << " x " << a.box.h);
        CHECK(a.box.x >= 0);
        CHECK(a.box.right() <= static_cast<float>(surface_.width));
        if (a.item == 0 || a.clipped)
            continue;
        CHECK(a.box.h >= 44 * surface_.scale);
        CHECK(a.box.w >= 44 * surface_.scale);
        for (std::size_t k = 0; k < i; ++k) {
            const ui::Node& b = nodes[k];
            if (b.item == 0 || b.clipped)
                continue;
            INFO("and " << b.id);
            // What is half scrolled out of sight still has its middle to itself.
            CHECK_FALSE(a.box.contains(b.box.x + b.box.w / 2, b.box.y + b.box.h / 2));
            CHECK_FALSE(b.box.contains(a.box.x + a.box.w / 2, a.box.y + a.box.h / 2));
        }
    }
}

void OneScreen::picture(const std::string& name) {
    const char* folder = std::getenv("HANGTIME_PICTURES");
    if (folder == nullptr)
        return;
    renderer_.draw(*ui.draw_data(), surface_.width, surface_.height, ui.palette().ground);
    test::write_png(std::string(folder) + "/" + name + ".png", renderer_.pixels(), surface_.width, surface_.height);
}

} // namespace hangtime::test
