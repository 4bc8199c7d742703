#include "web/widgets/lanes.hpp"

#include "web/widgets/object.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace hangtime::ui {
namespace {

constexpr float lane_px = 72, nurse_px = 44, axis_px = 26, label_px = 208, narrow_label_px = 96, drag_px = 6;

class Painter {
public:
    Painter(Ui& ui, Box box, const Lanes& picture) : ui_(ui), draw_(ui.draw()), p_(ui.palette()), picture_(picture) {
        label_ = ui.px(box.w < ui.px(720) ? narrow_label_px : label_px);
        narrow_ = box.w < ui.px(720);
        plot_ = {box.x + label_, box.y, box.w - label_ - ui.px(10), box.h};
    }

    float x_of(std::int64_t at) const {
        const double part = static_cast<double>(at - picture_.from) / static_cast<double>(picture_.to - picture_.from);
        return std::round(plot_.x + plot_.w * static_cast<float>(std::clamp(part, 0.0, 1.0)));
    }
    std::int64_t seconds_of(float pixels) const {
        return static_cast<std::int64_t>(static_cast<double>(pixels) / static_cast<double>(plot_.w) *
                                         static_cast<double>(picture_.to - picture_.from));
    }

    void axis(Box row, float bottom) {
        float free = plot_.x - ui_.px(20);
        for (const LaneTick& t : picture_.ticks) {
            const float x = x_of(t.at), w = ui_.text_width(Face::small, t.label);
            fill({x, row.bottom(), ui_.line(), bottom - row.bottom()}, p_.sunk);
            const float left = std::clamp(x - w / 2, plot_.x - ui_.px(20), plot_.right() - w + ui_.px(8));
            if (left < free)
                continue;
            ui_.put_text({left, row.y, w + 1, row.h}, Face::small, p_.quiet, t.label);
            free = left + w + ui_.px(10);
        }
    }

    void now(Box row, float bottom) {
        if (!picture_.has_now || picture_.now < picture_.from || picture_.now > picture_.to)
            return;
        const float x = x_of(picture_.now);
        fill({x - ui_.line(), row.bottom() - ui_.px(4), 2 * ui_.line(), bottom - row.bottom() + ui_.px(4)}, p_.primary);
        draw_->AddTriangleFilled({x - ui_.px(6), row.bottom() - ui_.px(8)}, {x + ui_.px(6), row.bottom() - ui_.px(8)},
                                 {x, row.bottom()}, p_.primary);
    }

    void lane(Box row, const Lane& lane, bool focused, bool held) {
        const float round = ui_.px(8);
        fill(row, lane.chosen || held ? p_.sunk : p_.sheet, round);
        if (lane.chosen)
            outline(row, p_.primary, round, ui_.px(2));
        label(row, lane);
        const Box track = {plot_.x, row.y + ui_.px(6), plot_.w, row.h - ui_.px(12)};
        const float bar_h = ui_.px(30), bar_y = track.y + ui_.px(2);
        if (lane.has_window)
            window(track, bar_y + bar_h / 2, lane);
        if (lane.placed) {
            if (lane.tried) { // where it stood
                const float x = x_of(lane.was), w = x_of(lane.was + lane.all_in - lane.start) - x;
                dashed({x, bar_y, w, bar_h});
            }
            bar({plot_.x, bar_y, plot_.w, bar_h}, lane);
            wall(x_of(lane.finish_by), track, ui_.px(5));
        } else {
            const std::string_view text = "no start yet";
            const float x = lane.has_window ? x_of(lane.window_to) + ui_.px(12) : plot_.x;
            ui_.put_text({x, bar_y + ui_.px(6), track.w, bar_h}, Face::small, p_.quiet, text);
        }
        if (focused)
            ui_.focus_ring(row, round);
    }

    void nurse(Box row, const NurseLane& nurse) {
        ui_.note({.id = nurse.id, .label = nurse.name, .value = nurse.spoken, .role = Role::text, .box = row});
        const float h = ui_.line_height(Face::small);
        ui_.put_text({row.x + ui_.px(10), row.y + (row.h - h) / 2, label_, h}, Face::small, p_.ink, nurse.name);
        const Box track = {plot_.x, row.y + ui_.px(8), plot_.w, row.h - ui_.px(16)};
        for (const auto kind : {LaneStretch::Kind::hours, LaneStretch::Kind::rest, LaneStretch::Kind::handover,
                                LaneStretch::Kind::busy})
            for (const LaneStretch& s : nurse.stretches)
                if (s.kind == kind)
                    stretch(track, s);
    }

private:
    void fill(Box b, Color c, float rounding = 0) {
        draw_->AddRectFilled({b.x, b.y}, {b.right(), b.bottom()}, c, rounding);
    }
    void outline(Box b, Color c, float rounding, float thick) {
        const float half = thick / 2;
        draw_->AddRect({b.x + half, b.y + half}, {b.right() - half, b.bottom() - half}, c, rounding, 0, thick);
    }
    void dashed(Box b) {
        const float dash = ui_.px(6), gap = ui_.px(4), thick = ui_.line();
        for (float x = b.x; x < b.right(); x += dash + gap)
            for (const float y : {b.y, b.bottom() - thick})
                fill({x, y, std::min(dash, b.right() - x), thick}, p_.quiet);
        fill({b.x, b.y, thick, b.h}, p_.quiet);
        fill({b.right() - thick, b.y, thick, b.h}, p_.quiet);
    }

    void label(Box row, const Lane& lane) {
        const float size = ui_.px(narrow_ ? 30 : 44), gap = ui_.px(8);
        const float title = ui_.line_height(Face::body), small = ui_.line_height(Face::small);
        if (narrow_) {
            draw_object(ui_, {row.x + gap, row.y + ui_.px(6), size, size}, lane.object, p_.ink);
            ui_.put_text({row.x + gap, row.y + ui_.px(10) + size, label_ - gap, small}, Face::small, p_.ink, lane.name);
            if (lane.held)
                pin({row.x + gap + size + ui_.px(8), row.y + ui_.px(12)});
            return;
        }
        draw_object(ui_, {row.x + gap, row.y + (row.h - size) / 2, size, size}, lane.object, p_.ink);
        const float x = row.x + size + 2 * gap, top = row.y + (row.h - title - small - ui_.px(3)) / 2;
        ui_.put_text({x, top, label_, title}, Face::body, p_.ink, lane.name);
        if (lane.held)
            pin({x + ui_.text_width(Face::body, lane.name) + ui_.px(10), top + ui_.px(4)});
        ui_.put_text({x, top + title + ui_.px(3), label_, small}, Face::small, p_.quiet, lane.detail);
    }

    // Put there by hand: a filled square on a line.
    void pin(ImVec2 at) {
        const float s = ui_.px(8);
        draw_->AddRectFilled(at, {at.x + s, at.y + s}, p_.ink);
        draw_->AddRectFilled({at.x + s / 2 - ui_.line(), at.y + s}, {at.x + s / 2 + ui_.line(), at.y + s + ui_.px(6)},
                             p_.ink);
    }

    void wall(float x, Box track, float thick) { fill({x, track.y, thick, track.h}, p_.ink); }

    void window(Box track, float middle, const Lane& lane) {
        const float x0 = x_of(lane.window_from), x1 = x_of(lane.window_to), thick = ui_.px(3);
        fill({x0, middle - ui_.line(), x1 - x0, 2 * ui_.line()}, p_.edge);
        // A foot inwards: a start is open between the two.
        wall(x0 - thick, track, thick);
        wall(x1, track, thick);
        for (const float y : {track.y, track.bottom() - thick}) {
            fill({x0 - thick, y, ui_.px(8), thick}, p_.ink);
            fill({x1 - ui_.px(5), y, ui_.px(8), thick}, p_.ink);
        }
    }

    void bar(Box line, const Lane& lane) {
        const float match = x_of(lane.match), start = x_of(lane.start), attended = x_of(lane.attended_to),
                    end = std::max(x_of(lane.all_in), attended);
        const float round = ui_.px(5);
        fill({start, line.y, end - start, line.h}, p_.sheet, round);
        fill({start, line.y, end - start, line.h}, with_alpha(p_.component, 0x40), round);
        outline({start, line.y, end - start, line.h}, p_.component, round, ui_.px(2));
        // The match before the start, open; the attended minutes after it, filled.
        const Box before = {match, line.y, start - match, line.h};
        fill(before, p_.sheet);
        outline(before, p_.primary, 0, ui_.px(2));
        fill({start, line.y, attended - start, line.h}, p_.primary);
        char digit[2] = {static_cast<char>('0' + lane.nurse), 0};
        const float h = ui_.line_height(Face::body);
        const std::string_view text(digit, 1);
        const float w = ui_.text_width(Face::body, text);
        // The line of now has the same colour: the figure stands beside it.
        float from = start, to = attended;
        if (const float now = x_of(picture_.now); picture_.has_now && now > start && now < attended) {
            if (now - start > attended - now)
                to = now - ui_.line();
            else
                from = now + ui_.line();
        }
        if (lane.nurse > 0 && to - from >= w + ui_.px(2))
            ui_.put_text({from, line.y + (line.h - h) / 2, to - from, h}, Face::body, p_.on_primary, text, Align::centre);
        if (lane.breaks) { // a broken edge above: what is tried here cannot be
            const float y = line.y - ui_.px(3), tooth = ui_.px(6);
            for (float x = match; x + tooth <= end; x += 2 * tooth)
                draw_->AddTriangleFilled({x, y}, {x + 2 * tooth, y}, {x + tooth, y + tooth}, p_.ink);
        }
        float free = 0;
        for (const LaneCheck& c : lane.checks) {
            const float x = x_of(c.at), y = line.bottom() + ui_.px(11);
            draw_->AddCircleFilled({x, y}, ui_.px(6), p_.sheet);
            draw_->AddCircle({x, y}, ui_.px(5), p_.ink, 0, ui_.px(2));
            if (c.nurse <= 0 || x < free)
                continue;
            digit[0] = static_cast<char>('0' + c.nurse);
            const float beside = x + ui_.px(8), wide = ui_.text_width(Face::small, text);
            const float wall = x_of(lane.finish_by);  // would stand on the figure
            const bool left = wall < beside + wide + ui_.px(2) && wall + ui_.px(5) > beside;
            ui_.put_text({left ? x - ui_.px(8) - wide : beside, y - ui_.line_height(Face::small) / 2, ui_.px(20), h},
                         Face::small, p_.quiet, text);
            free = x + ui_.px(20);
        }
    }

    void stretch(Box track, const LaneStretch& s) {
        const float x0 = x_of(s.from), x1 = std::max(x_of(s.to), x0 + ui_.px(2));
        Box b = {x0, track.y, x1 - x0, track.h};
        switch (s.kind) {
        case LaneStretch::Kind::hours:
            fill(b, p_.sunk, ui_.px(4));
            return;
        case LaneStretch::Kind::rest: // a gap in her hours
            fill(b, p_.ground);
            outline(b, p_.edge, 0, ui_.line());
            break;
        case LaneStretch::Kind::handover:
            fill(b, p_.ground);
            outline(b, p_.edge, 0, ui_.line());
            draw_->PushClipRect({b.x, b.y}, {b.right(), b.bottom()}, true);
            for (float x = b.x - b.h; x < b.right(); x += ui_.px(8))
                draw_->AddLine({x, b.bottom()}, {x + b.h, b.y}, p_.quiet, ui_.line());
            draw_->PopClipRect();
            return;
        case LaneStretch::Kind::busy:
            fill(b.inset(0, ui_.px(3)), p_.primary);
            return;
        }
        if (ui_.text_width(Face::small, s.label) + ui_.px(4) <= b.w)
            ui_.put_text({b.x, b.y + (b.h - ui_.line_height(Face::small)) / 2, b.w, b.h}, Face::small, p_.quiet, s.label,
                         Align::centre);
    }

    Ui& ui_;
    ImDrawList* draw_;
    const Palette& p_;
    const Lanes& picture_;
    Box plot_;
    float label_ = 0;
    bool narrow_ = false;
};

} // namespace

float lanes_height(const Ui& ui, std::size_t lanes, std::size_t nurses) {
    return ui.px(axis_px) + static_cast<float>(lanes) * (ui.px(lane_px) + ui.px(8)) + ui.px(8) +
           static_cast<float>(nurses) * ui.px(nurse_px);
}

LaneTouch lanes(Ui& ui, Box box, const Lanes& picture, LaneDrag& drag) {
    LaneTouch out;
    Painter paint(ui, box, picture);
    const float height = lanes_height(ui, picture.lanes.size(), picture.nurses.size());
    const Box axis = box.cut_top(ui.px(axis_px));
    const float bottom = axis.y + height;
    const ImGuiIO& io = ImGui::GetIO();
    paint.axis(axis, bottom);
    for (std::size_t i = 0; i < picture.lanes.size(); ++i) {
        const Lane& lane = picture.lanes[i];
        const Box row = box.cut_top(ui.px(lane_px), ui.px(8));
        const Touch t = ui.touch({.id = lane.id,
                                  .label = lane.name,
                                  .value = lane.spoken,
                                  .role = Role::button,
                                  .state = static_cast<std::uint16_t>(lane.chosen ? State::expands | State::expanded
                                                                                  : State::expands),
                                  .box = row});
        const int n = static_cast<int>(i);
        const bool by_pointer = t.held && ImGui::IsMousePosValid(&io.MousePos) && io.MouseDown[0];
        if (by_pointer && drag.lane != n)
            drag = {n, false, lane.start};
        if (drag.lane == n) {
            if (by_pointer) {
                const float dx = io.MousePos.x - io.MouseClickedPos[0].x;
                const float dy = io.MousePos.y - io.MouseClickedPos[0].y;
                const bool along = std::fabs(dx) > ui.px(drag_px) && std::fabs(dx) > std::fabs(dy);
                if (lane.movable && lane.placed && (drag.moved || along)) {
                    drag.moved = true;
                    const std::int64_t to = drag.from_start + paint.seconds_of(dx) - picture.from;
                    const std::int64_t snapped = (to + picture.grid / 2) / picture.grid * picture.grid;
                    out = {n, LaneTouch::Kind::dragged, picture.from + std::clamp<std::int64_t>(
                                                            snapped, 0, picture.to - picture.from - picture.grid)};
                }
            } else {
                if (drag.moved)
                    out = {n, LaneTouch::Kind::dropped, lane.start};
                else if (t.pressed)
                    out = {n, LaneTouch::Kind::pressed, lane.start};
                drag = {};
            }
        } else if (t.pressed) {
            out = {n, LaneTouch::Kind::pressed, lane.start};
        }
        if (t.visible)
            paint.lane(row, lane, t.focused, t.held);
    }
    box.cut_top(ui.px(8));
    for (const NurseLane& nurse : picture.nurses)
        paint.nurse(box.cut_top(ui.px(nurse_px)), nurse);
    paint.now(axis, bottom);
    return out;
}

} // namespace hangtime::ui
