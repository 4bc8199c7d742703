#pragma once

/// What every widget needs: the picture being put together, what was touched, the list of what is on the
/// screen, and the events that still wait. One Ui is one ImGui context.
///
/// A frame is built as: `feed` (hands ImGui at most one event; true while more wait), `begin`, the screen,
/// `end`. Build again until `feed` has nothing left, then draw `draw_data`.

#include "core/match/label.hpp"
#include "web/input/burst.hpp"
#include "web/platform/platform.hpp"
#include "web/widgets/glyphs.hpp"
#include "web/widgets/node.hpp"
#include "web/widgets/theme.hpp"

#include <array>
#include <cstdint>
#include <deque>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

struct ImDrawList;
struct ImDrawData;
struct ImFont;
struct ImGuiContext;

namespace hangtime::ui {

enum class Align : std::uint8_t { left, centre, right };

/// What a person is doing with an interactive widget.
struct Touch {
    bool pressed = false; // just now: do it
    bool held = false;
    bool focused = false; // by the keyboard: show it
    bool visible = true;
};

class Ui final : private input::BurstFilter::Sink {
public:
    Ui();
    ~Ui();
    Ui(const Ui&) = delete;
    Ui& operator=(const Ui&) = delete;

    // --- events ---------------------------------------------------------------------------------------
    /// True: taken, the browser must not act on it.
    bool input(const platform::Event& event);
    /// A new frame begins.
    void tick(std::int64_t now_ms) {
        asked_ = false;
        burst_.tick(now_ms);
    }
    std::int64_t wait_ms(std::int64_t now_ms) const { return burst_.wait_ms(now_ms); }
    bool feed();
    /// In this frame somebody touched or typed something; else whatever changes in it changes by itself.
    bool asked() const { return asked_; }
    bool idle() const { return queue_.empty(); }

    // --- a frame --------------------------------------------------------------------------------------
    /// Starts the letters anew when the scale changed; true then (the renderer needs the new atlas).
    bool fit(const platform::Surface& surface);
    void begin();
    void end();
    const ImDrawData* draw_data() const;
    struct Atlas {
        const std::uint8_t* alpha;
        int width, height;
    };
    Atlas atlas() const;

    /// Another screen, or another arrangement of this one: everything that was typed or pressed before it is
    /// seen is dropped. `keys_too` is false where what is typed goes on (a keypad opens).
    void change_screen(bool keys_too = true);
    /// Something stands elsewhere, or means something else, than in the picture before. Where nobody asked for that, a
    /// finger that is on its way is meant for what was there: what is touched within `aimed_ms` is dropped.
    void moved();
    /// About twice the time in which people react to what they see (from memory).
    static constexpr std::int64_t aimed_ms = 500;
    /// The picture is shown, at this time: what is pressed from now on is meant for it.
    void shown(std::int64_t now_ms);

    // --- what widgets use -----------------------------------------------------------------------------
    const Palette& palette() const { return *palette_; }
    bool night() const { return night_; }
    void set_night(bool night);
    /// The ground of rehearsals.
    void set_rehearsal(bool rehearsal);
    bool rehearsal() const { return rehearsal_; }
    float px(float css) const; // whole device pixels for a length at zoom 1
    float line() const;        // thickness of a thin line
    /// What a screen lays out: all of the picture, without what stands above every screen.
    Box screen() const { return {screen_.x, screen_.y + head_, screen_.w, screen_.h - head_ - foot_}; }
    /// Keeps so much of the picture's top for that, until the next call.
    void set_head(float height) { head_ = height; }
    Box head() const { return {screen_.x, screen_.y, screen_.w, head_}; }
    /// The same below every screen.
    void set_foot(float height) { foot_ = height; }
    Box foot() const { return {screen_.x, screen_.bottom() - foot_, screen_.w, foot_}; }
    float scale() const { return scale_; }
    ImDrawList* draw() const;

    ImFont* font(Face face) const { return glyphs_.font(face); }
    float text_width(Face face, std::string_view text) const;
    float text_height(Face face, std::string_view text, float wrap_width) const;
    float line_height(Face face) const;
    /// Draws without noting. Text that is too wide is wrapped when `wrap`, otherwise it runs on to the clip.
    void put_text(Box box, Face face, Color color, std::string_view text, Align align = Align::left,
                  bool wrap = false);

    Touch touch(const Node& node); // notes it, and makes it something to press
    void note(const Node& node);
    std::string_view keep(std::string_view text) { return nodes_.keep(text); }
    /// An id with a number in it: id("check.", 2, ".done").
    std::string_view id(std::string_view before, int number, std::string_view after = {});
    const NodeList& nodes() const { return nodes_; }
    /// The node that the keyboard is on, as platform::node_key; 0: none, or the focus is not shown.
    std::uint32_t focused_key() const;
    void focus_ring(Box box, float rounding);
    void draw_bar(Box box); // of the one colour for what is to be done
    /// Moves the keyboard's focus in the next frame, if the keyboard is in use.
    void want_focus(std::string_view id);
    /// Scrolls what holds it, in the next frames, so far that all of it is seen.
    void reveal(std::string_view id) {
        reveal_ = platform::node_key(id);
        reveal_frames_ = 2;
    }

    /// A part that scrolls when its content is higher than it. Returns where the content starts; call
    /// `end_scroll` with the height that it took.
    Box begin_scroll(std::string_view id, Box box);
    void end_scroll(float content_height);
    void scroll_to_top(std::string_view id);

    /// Characters and editing keys since the last frame that no widget took.
    const std::vector<platform::Event>& keys() const { return keys_; }
    /// Whether the focused widget wants Enter for itself.
    bool enter_is_for_widget() const { return enter_for_widget_; }
    void set_editing(bool editing) { editing_ = editing; }
    bool editing() const { return editing_; }

    void announce(std::string_view text);
    /// Said before whatever is announced, on every screen; empty: nothing.
    void announce_first(std::string text) { first_said_ = std::move(text); }
    const std::string& announced() const { return announced_; }
    int scans() const { return scans_; }
    /// Asks for the data of a bag, in this frame and until the next; a scan that begins while nobody asks is
    /// dropped unread. What a scan said goes through core/match/label.hpp before anything holds it.
    void want_scan() { scan_wanted_ = true; }
    /// What was scanned, once, to the screen that asked; a reason and nothing else where it was refused. It is
    /// overwritten here when it is taken, and at the end of the frame if it is not.
    std::optional<Scan> take_scan();
    bool take_scan_leak(); // true once after a scan whose beginning may have been typed into a field

private:
    void key(const platform::Event& event) override;
    void scan(bool leaked) override;
    void scanned(std::string_view text) override;
    void feed_pointer(const platform::Event& event);
    void feed_key(const platform::Event& event);
    void feed_node(const platform::Event& event);
    void scroll_by_key(platform::Key key);
    void wheel(float x, float y, float by);
    bool visible(Box box) const;

    struct Scroll {
        std::string id;
        Box box;
        float at = 0, most = 0;
        bool seen = false;
    };
    Scroll* scroll_at(float x, float y);

    void drop_aimed_before();

    ImGuiContext* context_;
    input::BurstFilter burst_{*this};
    std::deque<platform::Event> queue_;
    bool drop_pointer_ = false, drop_keys_ = false;     // what is in the queue, since the arrangement changed
    bool unseen_ = false, unseen_keys_ = false;         // it changed, and was not shown since
    bool asked_ = false, aimed_ = false;                // see asked(); nobody asked for the change
    std::int64_t pointer_from_ms_ = 0, keys_from_ms_ = 0; // earlier ones were meant for another arrangement
    ImFont* font_for(Face face, std::string_view text) const;
    mutable Glyphs glyphs_; // filled as texts are measured
    const Palette* palette_ = &day;
    bool night_ = false, rehearsal_ = false;
    Box screen_;
    float head_ = 0, foot_ = 0;
    float scale_ = 0, zoom_ = 1;
    NodeList nodes_;
    std::vector<Scroll> scrolls_;
    std::vector<std::size_t> open_scrolls_;
    std::vector<platform::Event> keys_;
    bool editing_ = false, enter_for_widget_ = false;
    bool pressing_ = false, dragging_ = false;
    float press_x_ = 0, press_y_ = 0, drag_y_ = 0;
    std::string drag_scroll_;
    std::uint32_t focus_wanted_ = 0, focus_next_ = 0, reveal_ = 0;
    int reveal_frames_ = 0;
    std::string announced_, first_said_;
    int scans_ = 0;
    bool leaked_ = false;
    bool scan_wanted_ = false;
    std::array<Scan, 4> waiting_scans_{}; // read, each with its event in the queue
    std::size_t waiting_ = 0;
    bool scan_read_ = false;              // the next event of a scan belongs to one that was read
    Scan scan_{};                         // of this frame
    bool scan_there_ = false;
};

} // namespace hangtime::ui
