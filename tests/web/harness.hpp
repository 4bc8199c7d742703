#pragma once

/// The whole page on the native twin: tap, type, and read what the screen says.

#include "core/clock.hpp"
#include "web/app.hpp"
#include "web/platform/platform_twin.hpp"

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::test {

/// Interactive items that ImGui was given in the last frame that it built since the last call.
std::vector<std::uint32_t> take_items();
/// Those of `items` that no node stands for.
std::vector<std::uint32_t> without_node(const std::vector<std::uint32_t>& items, const ui::NodeList& nodes);

/// The demo protocols as the page carries them.
std::string shipped_protocols();
std::string shipped_rehearsals();
std::string shipped_cases();
std::string root_folder();

/// 14 March 2026, on a clock without an offset.
Instant at(int hour, int minute, int second = 0);

class Page {
public:
    explicit Page(int width = 1280, int height = 800, float scale = 1, Instant now = at(13, 45));

    /// Fails where there is no such node, or where it is scrolled out of sight (then scroll first).
    void tap(std::string_view id);
    void press(std::string_view id);
    void release(std::string_view id);
    void type(std::string_view keys); // by a person: 120 ms a key
    void scan(std::string_view text, platform::Key end = platform::Key::enter, std::int64_t gap_ms = 8);
    void key(platform::Key key, bool shift = false);
    void wheel(std::string_view over, float css);
    void show(std::string_view id); // scrolls until it can be tapped
    void frame();
    void settle();  // lets the store answer, and shows it
    void reload(bool written = true); // the page is gone and opened again; the disk and the settings stay
    /// Scrolls to it, taps, and waits until the next touch counts.
    void act(std::string_view id);
    void go_to(Instant at); // moves both clocks
    void wait(std::int64_t ms);
    void resize(int width, int height, float scale);

    const ui::Node* find(std::string_view id) const;
    bool has(std::string_view id) const { return find(id) != nullptr; }
    std::string value(std::string_view id) const; // "" where there is none
    std::string label(std::string_view id) const;
    /// Whether the node's value starts with `text`; notes it for a failing check.
    bool says(std::string_view id, std::string_view text) const;
    std::string all_text() const;

    /// The four entries. Times as "1340".
    void enter(std::string_view component, std::string_view volume, std::string_view issued,
               std::string_view start);
    void choose(std::string_view label); // in the list that is open

    void write_png(std::string_view name) const; // into $HANGTIME_PICTURES, if that is set

    App& app() { return *app_; }
    platform::twin::Shown& shown() { return platform::twin::shown(); }
    void send(const platform::Event& event) { app_->input(event); }
    platform::Event pointer(platform::Event::Kind kind, std::string_view id) const;

private:
    struct End {
        void operator()(App* app) const;
    };
    void begin();
    std::unique_ptr<App, End> app_;
};

/// An uncompressed PNG (RFC 2083, stored blocks of RFC 1951).
void write_png(const std::string& file, const std::uint32_t* pixels, int width, int height);

} // namespace hangtime::test
