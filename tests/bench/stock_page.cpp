/// What the page is measured against: Dear ImGui as it is commonly put on a page, with the GLFW and OpenGL 3
/// backends, its demo window and its built-in font, drawing as often as the browser lets it. Built by
/// scripts/bench only.

#include "backends/imgui_impl_glfw.h"
#include "backends/imgui_impl_opengl3.h"
#include "imgui.h"

#include <GLES3/gl3.h>
#include <GLFW/glfw3.h>
#include <emscripten.h>

namespace {

GLFWwindow* window = nullptr;
bool first = true;

void frame() {
    glfwPollEvents();
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
    ImGui::NewFrame();
    ImGui::ShowDemoWindow();
    ImGui::Render();
    int width = 0, height = 0;
    glfwGetFramebufferSize(window, &width, &height);
    glViewport(0, 0, width, height);
    glClearColor(0.2f, 0.3f, 0.4f, 1.0f);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    if (first) {
        // Drawing is only queued so far; a pixel that is read back was drawn.
        unsigned char pixel[4] = {};
        glReadPixels(0, 0, 1, 1, GL_RGBA, GL_UNSIGNED_BYTE, pixel);
        EM_ASM({ window.stockFirstFrame = performance.now(); });
        first = false;
    }
}

}  // namespace

int main() {
    if (!glfwInit()) return 1;
    window = glfwCreateWindow(1280, 800, "stock", nullptr, nullptr);
    if (window == nullptr) return 1;
    glfwMakeContextCurrent(window);
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ImGui_ImplGlfw_InitForOpenGL(window, true);
    ImGui_ImplOpenGL3_Init("#version 300 es");
    emscripten_set_main_loop(frame, 0, true);
    return 0;
}
