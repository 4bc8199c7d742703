#pragma once

/// One screen by itself on the native twin, without the page around it: tap, type, and read what it says.

#include "tests/web/harness.hpp"
#include "web/render/renderer.hpp"
#include "web/widgets/ui.hpp"

#include <functional>
#include <string>
#include <string_view>

namespace hangtime::test {

class OneScreen {
public:
    using Build = std::function<void(ui::Ui&, ui::Box)>;

    OneScreen(int width, int height, float scale, Build build);

    void frame();
    void tap(std::string_view id); // scrolls to it where it has to; it must be high enough for a finger in a glove
    void drag(std::string_view id, float across, float down); // by a finger, in steps; CSS pixels
    void type(std::string_view keys);
    void key(platform::Key key);
    void scan(std::string_view text);
    void wait(std::int64_t ms);
    void resize(int width, int height, float scale);
    void set_night(bool night) { ui.set_night(night); }

    const ui::Node* find(std::string_view id) const { return ui.nodes().find(id); }
    bool has(std::string_view id) const { return find(id) != nullptr; }
    std::string label(std::string_view id) const;
    std::string value(std::string_view id) const;
    std::uint16_t state(std::string_view id) const;
    std::string all_text() const;
    /// No interactive node is lower than 44 CSS pixels, none has its middle under another one, and none runs off the right.
    void check_layout() const;
    void picture(const std::string& name); // into $HANGTIME_PICTURES, if that is set

    ui::Ui ui;

private:
    void send(const platform::Event& event);

    platform::Surface surface_;
    render::Renderer renderer_;
    Build build_;
    std::int64_t ms_ = 1000;
};

} // namespace hangtime::test
