#include "web/widgets/ui.hpp"

#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <cstring>

namespace hangtime::ui {

// --- nodes ----------------------------------------------------------------------------------------------

bool Ui::visible(Box box) const {
    const ImVec2 low = ImGui::GetWindowDrawList()->GetClipRectMin();
    const ImVec2 high = ImGui::GetWindowDrawList()->GetClipRectMax();
    const float x = box.x + box.w / 2, y = box.y + box.h / 2;
    return x >= low.x && x < high.x && y >= low.y && y < high.y;
}

void Ui::note(const Node& node) {
    Node noted = node;
    noted.clipped = !visible(node.box);
    nodes_.add(noted);
}

std::string_view Ui::id(std::string_view before, int number, std::string_view after) {
    char text[64];
    std::size_t n = std::min<std::size_t>(before.size(), 40);
    std::memcpy(text, before.data(), n);
    char digits[12];
    int count = 0;
    unsigned rest = static_cast<unsigned>(number < 0 ? 0 : number);
    do
        digits[count++] = static_cast<char>('0' + rest % 10);
    while ((rest /= 10) != 0);
    while (count > 0)
        text[n++] = digits[--count];
    for (std::size_t i = 0; i < after.size() && n < sizeof text; ++i)
        text[n++] = after[i];
    return nodes_.keep({text, n});
}

Touch Ui::touch(const Node& node) {
    ImGuiWindow* window = ImGui::GetCurrentWindow();
    const ImRect bb({node.box.x, node.box.y}, {node.box.right(), node.box.bottom()});
    const std::uint32_t key = platform::node_key(node.id);
    const ImGuiID item = window->GetID(static_cast<int>(key));
    Node noted = node;
    noted.item = item;
    noted.clipped = !visible(node.box);
    nodes_.add(noted);

    Touch t;
    t.visible = ImGui::ItemAdd(bb, item);
    const bool focus = focus_wanted_ != 0 && focus_wanted_ == key;
    if (focus) {
        ImGui::SetFocusID(item, window);
        context_->NavDisableHighlight = false;
    }
    if (focus || (reveal_frames_ > 0 && reveal_ == key))
        for (const std::size_t open : open_scrolls_) {
            Scroll& s = scrolls_[open];
            if (node.box.y < s.box.y)
                s.at += node.box.y - s.box.y;
            if (node.box.bottom() > s.box.bottom())
                s.at += node.box.bottom() - s.box.bottom();
        }
    if ((node.state & State::disabled) == 0) {
        bool hovered = false;
        t.pressed = ImGui::ButtonBehavior(bb, item, &hovered, &t.held);
    }
    t.focused = context_->NavId == item && !context_->NavDisableHighlight;
    return t;
}

std::uint32_t Ui::focused_key() const {
    if (context_->NavDisableHighlight || context_->NavId == 0)
        return 0;
    for (const Node& n : nodes_.now())
        if (n.item == context_->NavId)
            return platform::node_key(n.id);
    return 0;
}

void Ui::draw_bar(Box box) {
    draw()->AddRectFilled({box.x, box.y}, {box.right(), box.bottom()}, palette().primary);
}

void Ui::want_focus(std::string_view id) {
    if (!context_->NavDisableHighlight)
        focus_next_ = platform::node_key(id);
}

void Ui::focus_ring(Box box, float rounding) {
    const float w = px(3), off = px(2);
    draw()->AddRect({box.x - off - w / 2, box.y - off - w / 2},
                    {box.right() + off + w / 2, box.bottom() + off + w / 2}, palette().primary,
                    rounding + off, 0, w);
}

// --- scrolling ------------------------------------------------------------------------------------------

Box Ui::begin_scroll(std::string_view id, Box box) {
    std::size_t n = 0;
    while (n < scrolls_.size() && scrolls_[n].id != id)
        ++n;
    if (n == scrolls_.size())
        scrolls_.push_back({std::string(id), box, 0, 0, true});
    Scroll& s = scrolls_[n];
    s.box = box;
    s.seen = true;
    open_scrolls_.push_back(n);
    ImGui::SetCursorScreenPos({box.x, box.y});
    ImGui::BeginChild(static_cast<ImGuiID>(platform::node_key(id)), {box.w, box.h}, false,
                      ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoBackground |
                          ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoScrollWithMouse |
                          ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NavFlattened);
    return {box.x, box.y - std::round(s.at), box.w, box.h};
}

void Ui::end_scroll(float content_height) {
    Scroll& s = scrolls_[open_scrolls_.back()];
    open_scrolls_.pop_back();
    s.most = std::max(0.0f, content_height - s.box.h);
    s.at = std::clamp(s.at, 0.0f, s.most);
    if (s.most > 0) { // a slim bar says that there is more, and where one is
        const float w = px(5), track = s.box.h, length = std::max(px(24), track * s.box.h / content_height);
        const float y = s.box.y + (track - length) * (s.at / s.most);
        draw()->AddRectFilled({s.box.right() - w, y}, {s.box.right(), y + length}, palette().edge, w / 2);
    }
    ImGui::EndChild();
}

void Ui::scroll_to_top(std::string_view id) {
    for (Scroll& s : scrolls_)
        if (s.id == id)
            s.at = 0;
}

void Ui::announce(std::string_view text) {
    std::string all(text);
    if (!first_said_.empty() && text.find(first_said_) == text.npos)
        all.insert(0, first_said_ + ". ");
    if (announced_ == all)
        return;
    announced_ = std::move(all);
    platform::announce(announced_);
}

} // namespace hangtime::ui
