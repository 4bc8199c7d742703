/// ImGui's four test-engine functions, our own: they list the interactive items of a frame, so that the
/// harness can tell one that has no node.

#include "tests/web/harness.hpp"

#include <imgui.h>
#include <imgui_internal.h>

namespace {
std::vector<ImGuiID>& items() {
    static std::vector<ImGuiID> all;
    return all;
}
int frame = -1;
} // namespace

void ImGuiTestEngineHook_ItemAdd(ImGuiContext* context, ImGuiID id, const ImRect&, const ImGuiLastItemData*) {
    if (context->CurrentWindow != nullptr && context->CurrentWindow->IsFallbackWindow)
        return; // never shown
    // The parts of the screen (windows and scrolled parts) are no items to press.
    for (const ImGuiWindow* window : context->Windows)
        if (window->ID == id || window->ChildId == id || window->MoveId == id)
            return;
    if (frame != context->FrameCount)
        items().clear(); // of the picture that is drawn, not of those before it
    frame = context->FrameCount;
    items().push_back(id);
}
void ImGuiTestEngineHook_ItemInfo(ImGuiContext*, ImGuiID, const char*, ImGuiItemStatusFlags) {}
void ImGuiTestEngineHook_Log(ImGuiContext*, const char*, ...) {}
const char* ImGuiTestEngine_FindItemDebugLabel(ImGuiContext*, ImGuiID) {
    return nullptr;
}

namespace hangtime::test {
std::vector<std::uint32_t> take_items() {
    std::vector<std::uint32_t> all(items().begin(), items().end());
    items().clear();
    return all;
}
} // namespace hangtime::test
