#include "web/widgets/ui.hpp"

#include "web/input/wipe.hpp"

#include <imgui.h>
#include <imgui_internal.h>

#include <cmath>
#include <cstring>

namespace hangtime::ui {
namespace {

using platform::Event;
using platform::Key;
using Kind = platform::Event::Kind;

constexpr float drag_px = 10; // CSS pixels that a finger moves before it scrolls

} // namespace

Ui::Ui() : context_(ImGui::CreateContext()) {
    ImGui::SetCurrentContext(context_);
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    io.ConfigFlags = ImGuiConfigFlags_NavEnableKeyboard;
    io.ConfigInputTextCursorBlink = false;
    io.BackendFlags = ImGuiBackendFlags_RendererHasVtxOffset;
    io.DeltaTime = 1.0f / 60;
    ImGuiStyle& style = ImGui::GetStyle();
    style.AntiAliasedLinesUseTex = false; // the renderer takes no textured lines
    style.WindowPadding = {0, 0};
    style.WindowBorderSize = 0;
    style.ChildBorderSize = 0;
    style.ItemSpacing = {0, 0};
    style.CircleTessellationMaxError = 0.2f;
#ifdef IMGUI_ENABLE_TEST_ENGINE
    context_->TestEngineHookItems = true;
#endif
}

Ui::~Ui() {
    ImGui::DestroyContext(context_);
}

// --- events ---------------------------------------------------------------------------------------------

bool Ui::input(const Event& event) {
    switch (event.kind) {
    case Kind::key:
        return burst_.feed(event);
    case Kind::move:
        if (!queue_.empty() && queue_.back().kind == Kind::move)
            queue_.back() = event;
        else
            queue_.push_back(event);
        return true;
    default:
        queue_.push_back(event);
        return true;
    }
}

void Ui::key(const Event& event) {
    // Where there is a browser it moves the focus by Tab, through the accessibility DOM; the twin has none.
    queue_.push_back(event);
}

void Ui::scan(bool leaked) {
    // In the queue, behind the keys that leaked: they are in the entry before it is put back.
    Event event;
    event.kind = Kind::scan;
    event.node = leaked ? 1 : 0;
    event.shift = scan_read_; // it was read: the first of those that wait is its
    scan_read_ = false;
    queue_.push_back(event);
}

// At once, so that no more of it is ever held than what stands on a bag.
void Ui::scanned(std::string_view text) {
    if (waiting_ == waiting_scans_.size())
        return; // nobody looks: dropped
    waiting_scans_[waiting_++] = read_scan(text);
    scan_read_ = true;
}

std::optional<Scan> Ui::take_scan() {
    if (!scan_there_)
        return std::nullopt;
    const Scan out = scan_;
    input::wipe(scan_);
    scan_there_ = false;
    return out;
}

bool Ui::take_scan_leak() {
    const bool leaked = leaked_;
    leaked_ = false;
    return leaked;
}

void Ui::moved() {
    change_screen(false);
    aimed_ = aimed_ || (!asked_ && !rehearsal_); // where the clock runs at 240 times nothing would be left to touch
}

void Ui::change_screen(bool keys_too) {
    ImGui::ClearActiveID(); // what is held down belongs to the arrangement before
    drop_pointer_ = unseen_ = true;
    drop_keys_ = drop_keys_ || keys_too;
    unseen_keys_ = unseen_keys_ || keys_too;
}

void Ui::shown(std::int64_t now_ms) {
    if (!unseen_)
        return;
    if (drop_pointer_)
        drop_aimed_before();
    pointer_from_ms_ = now_ms + (aimed_ ? aimed_ms : 0);
    if (unseen_keys_)
        keys_from_ms_ = now_ms;
    unseen_ = unseen_keys_ = aimed_ = false;
}

// Made by somebody who saw the arrangement before.
void Ui::drop_aimed_before() {
    ImGui::SetCurrentContext(context_);
    std::erase_if(queue_, [this](const Event& e) { return e.kind != Kind::scan && (drop_keys_ || e.kind != Kind::key); });
    if (pressing_)
        ImGui::GetIO().AddMouseButtonEvent(0, false);
    pressing_ = dragging_ = false;
    drop_pointer_ = drop_keys_ = false;
}

bool Ui::feed() {
    ImGui::SetCurrentContext(context_);
    keys_.clear();
    enter_for_widget_ = false;
    if (drop_pointer_)
        drop_aimed_before();
    std::erase_if(queue_, [this](const Event& e) {
        return (e.kind == Kind::press && e.at_ms < pointer_from_ms_) || (e.kind == Kind::key && e.at_ms < keys_from_ms_);
    });
    if (ImGui::GetCurrentContext()->InputEventsQueue.Size > 0)
        return true;
    if (queue_.empty())
        return false;
    const Event event = queue_.front();
    queue_.pop_front();
    asked_ = true;
    switch (event.kind) {
    case Kind::key:
        feed_key(event);
        break;
    case Kind::activate:
    case Kind::focus:
        feed_node(event);
        break;
    case Kind::scan:
        ++scans_;
        leaked_ = leaked_ || event.node != 0;
        if (event.shift) {
            scan_ = waiting_scans_[0];
            scan_there_ = true;
            for (std::size_t i = 1; i < waiting_; ++i)
                waiting_scans_[i - 1] = waiting_scans_[i];
            input::wipe(waiting_scans_[--waiting_]);
        }
        break;
    default:
        feed_pointer(event);
        break;
    }
    return true;
}

void Ui::feed_pointer(const Event& event) {
    ImGuiIO& io = ImGui::GetIO();
    const auto away = [&io] { io.AddMousePosEvent(-FLT_MAX, -FLT_MAX); };
    io.AddMouseSourceEvent(event.pointer == platform::Pointer::mouse ? ImGuiMouseSource_Mouse
                           : event.pointer == platform::Pointer::pen ? ImGuiMouseSource_Pen
                                                                     : ImGuiMouseSource_TouchScreen);
    switch (event.kind) {
    case Kind::press: {
        io.AddMousePosEvent(event.x, event.y);
        io.AddMouseButtonEvent(0, true);
        pressing_ = true;
        dragging_ = false;
        press_x_ = event.x, press_y_ = drag_y_ = event.y;
        const Scroll* under = scroll_at(event.x, event.y);
        drag_scroll_ = under != nullptr ? under->id : std::string();
        break;
    }
    case Kind::move:
        if (pressing_ && !dragging_ && !drag_scroll_.empty() &&
            std::fabs(event.y - press_y_) > drag_px * scale_ &&
            std::fabs(event.y - press_y_) > std::fabs(event.x - press_x_)) { // along a lane it moves the lane
            dragging_ = true; // the press turns into scrolling and presses nothing
            away();
            io.AddMouseButtonEvent(0, false);
        }
        if (dragging_) {
            for (Scroll& s : scrolls_)
                if (s.id == drag_scroll_)
                    s.at = std::clamp(s.at + drag_y_ - event.y, 0.0f, s.most);
            drag_y_ = event.y;
        } else {
            io.AddMousePosEvent(event.x, event.y);
        }
        break;
    case Kind::release:
        if (!dragging_ && pressing_) {
            io.AddMousePosEvent(event.x, event.y);
            io.AddMouseButtonEvent(0, false);
        }
        if (event.pointer != platform::Pointer::mouse)
            away();
        pressing_ = dragging_ = false;
        break;
    case Kind::leave:
        away();
        io.AddMouseButtonEvent(0, false);
        pressing_ = dragging_ = false;
        break;
    case Kind::wheel:
        wheel(event.x, event.y, event.wheel_by);
        break;
    default:
        break;
    }
}

void Ui::feed_key(const Event& event) {
    ImGuiIO& io = ImGui::GetIO();
    const ImGuiContext& g = *context_;
    ImGuiKey nav = ImGuiKey_None;
    switch (event.key) {
    case Key::enter:
        enter_for_widget_ = g.NavId != 0 && !g.NavDisableHighlight;
        if (enter_for_widget_ && editing_) {
            // While something is entered, Enter ends it, unless the focus was moved on to another widget.
            for (const Node& n : nodes_.now())
                if (n.item == g.NavId && n.role == Role::field)
                    enter_for_widget_ = false;
        }
        if (enter_for_widget_)
            nav = ImGuiKey_Enter;
        break;
    case Key::tab:
        nav = ImGuiKey_Tab;
        break;
    case Key::left:
        nav = ImGuiKey_LeftArrow;
        break;
    case Key::right:
        nav = ImGuiKey_RightArrow;
        break;
    case Key::up:
        nav = ImGuiKey_UpArrow;
        break;
    case Key::down:
        nav = ImGuiKey_DownArrow;
        break;
    case Key::character:
        if (event.character == U' ')
            nav = ImGuiKey_Space;
        break;
    case Key::page_up:
    case Key::page_down:
    case Key::home:
    case Key::end:
        scroll_by_key(event.key);
        return;
    default:
        break;
    }
    if (nav == ImGuiKey_None) {
        keys_.push_back(event);
        return;
    }
    if (event.shift)
        io.AddKeyEvent(ImGuiMod_Shift, true);
    io.AddKeyEvent(nav, true);
    io.AddKeyEvent(nav, false);
    if (event.shift)
        io.AddKeyEvent(ImGuiMod_Shift, false);
}

void Ui::feed_node(const Event& event) {
    for (const Node& n : nodes_.now()) {
        if (n.item == 0 || platform::node_key(n.id) != event.node)
            continue;
        focus_wanted_ = event.kind == Kind::focus ? event.node : 0;
        if (event.kind == Kind::activate)
            ImGui::ActivateItemByID(n.item);
    }
}

// The largest part that scrolls is the one that is meant.
void Ui::scroll_by_key(Key key) {
    Scroll* largest = nullptr;
    for (Scroll& s : scrolls_)
        if (s.most > 0 && (largest == nullptr || s.box.w * s.box.h > largest->box.w * largest->box.h))
            largest = &s;
    if (largest == nullptr)
        return;
    const float page = largest->box.h * 0.8f;
    const float by = key == Key::page_down ? page
                     : key == Key::page_up ? -page
                     : key == Key::end     ? largest->most
                                           : -largest->most;
    largest->at = std::clamp(largest->at + by, 0.0f, largest->most);
}

void Ui::wheel(float x, float y, float by) {
    if (Scroll* s = scroll_at(x, y))
        s->at = std::clamp(s->at + by, 0.0f, s->most);
}

Ui::Scroll* Ui::scroll_at(float x, float y) {
    for (Scroll& s : scrolls_)
        if (s.seen && s.most > 0 && s.box.contains(x, y))
            return &s;
    return nullptr;
}

// --- a frame --------------------------------------------------------------------------------------------

bool Ui::fit(const platform::Surface& surface) {
    ImGui::SetCurrentContext(context_);
    ImGuiIO& io = ImGui::GetIO();
    screen_ = {0, 0, static_cast<float>(surface.width), static_cast<float>(surface.height)};
    io.DisplaySize = {screen_.w, screen_.h};
    const float zoom = zoom_for(screen_.w / surface.scale, screen_.h / surface.scale);
    if (surface.scale == scale_ && zoom == zoom_)
        return false;
    scale_ = surface.scale;
    zoom_ = zoom;
    float sizes[face_count];
    for (int i = 0; i < face_count; ++i)
        sizes[i] = std::round(face_px[i] * scale_ * zoom_);
    glyphs_.start(*io.Fonts, sizes);
    io.Fonts->SetTexID(reinterpret_cast<ImTextureID>(1));
    io.FontDefault = font(Face::body);
    return true;
}

Ui::Atlas Ui::atlas() const {
    unsigned char* alpha = nullptr;
    int width = 0, height = 0;
    context_->IO.Fonts->GetTexDataAsAlpha8(&alpha, &width, &height);
    return {alpha, width, height};
}

void Ui::begin() {
    ImGui::SetCurrentContext(context_);
    ImGui::NewFrame();
    nodes_.begin();
    if (focus_next_ != 0) {
        focus_wanted_ = focus_next_;
        focus_next_ = 0;
    }
    for (Scroll& s : scrolls_)
        s.seen = false;
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize({screen_.w, screen_.h});
    ImGui::Begin("screen", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoScrollWithMouse |
                     ImGuiWindowFlags_NoBringToFrontOnFocus);
}

void Ui::end() {
    ImGui::End();
    ImGui::Render();
    if (scan_there_) // nobody took it
        input::wipe(scan_), scan_there_ = false;
    burst_.listen(scan_wanted_);
    scan_wanted_ = false;
    std::erase_if(scrolls_, [](const Scroll& s) { return !s.seen; });
    focus_wanted_ = 0;
    if (reveal_frames_ > 0)
        --reveal_frames_;
}

const ImDrawData* Ui::draw_data() const {
    ImGui::SetCurrentContext(context_);
    return ImGui::GetDrawData();
}

void Ui::set_night(bool night) {
    night_ = night;
    palette_ = rehearsal_ ? (night_ ? &rehearsal_night : &rehearsal_day) : night_ ? &hangtime::ui::night : &day;
}

void Ui::set_rehearsal(bool rehearsal) {
    rehearsal_ = rehearsal;
    set_night(night_);
}

float Ui::px(float css) const {
    return std::max(1.0f, std::round(css * scale_ * zoom_));
}
float Ui::line() const {
    return std::max(1.0f, std::round(scale_));
}
ImDrawList* Ui::draw() const {
    return ImGui::GetWindowDrawList();
}

// --- text -----------------------------------------------------------------------------------------------

ImFont* Ui::font_for(Face face, std::string_view text) const {
    glyphs_.need(face, text);
    return font(face);
}

float Ui::text_width(Face face, std::string_view text) const {
    if (text.empty())
        return 0; // of a view that points nowhere ImGui would look for the end
    const ImFont* f = font_for(face, text);
    return f->CalcTextSizeA(f->FontSize, FLT_MAX, 0, text.data(), text.data() + text.size()).x;
}

float Ui::text_height(Face face, std::string_view text, float wrap_width) const {
    if (text.empty())
        return line_height(face);
    const ImFont* f = font_for(face, text);
    return f->CalcTextSizeA(f->FontSize, FLT_MAX, wrap_width, text.data(), text.data() + text.size()).y;
}

float Ui::line_height(Face face) const {
    return font(face)->FontSize;
}

void Ui::put_text(Box box, Face face, Color color, std::string_view text, Align align, bool wrap) {
    if (text.empty())
        return;
    ImFont* f = font_for(face, text);
    float x = box.x;
    if (align != Align::left) {
        const float width = std::min(box.w, text_width(face, text));
        x += align == Align::right ? box.w - width : (box.w - width) / 2;
    }
    draw()->AddText(f, f->FontSize, {std::floor(x), std::floor(box.y)}, color, text.data(),
                    text.data() + text.size(), wrap ? box.w : 0.0f);
}

} // namespace hangtime::ui
