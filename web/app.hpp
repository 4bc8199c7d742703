#pragma once

/// The program between the platform and the screens: start, input, frame.

#include "core/protocol/protocol.hpp"
#include "web/platform/platform.hpp"
#include "web/render/renderer.hpp"
#include "web/screens/plan.hpp"
#include "web/widgets/mirror.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime {

class App final : public platform::Guest {
public:
    void start() override;
    void frame() override;
    bool input(const platform::Event& event) override;
    void before_print() override;

    ui::Ui& ui() { return ui_; }
    const ui::Mirror& mirror() const { return mirror_; }
    const screens::Plan& plan() const { return *plan_; }
    /// All of them; reads those that are still waiting. Whoever looks for one asks here.
    const std::vector<Protocol>& protocols();
    const std::string& trouble() const { return trouble_; }
    int builds() const { return builds_; } // frames put together for the last picture

private:
    void build(Instant now, const WallClock& wall);
    void set_night(bool night);
    void read_next_protocol();

    ui::Ui ui_;
    ui::Mirror mirror_;
    render::Renderer renderer_;
    std::vector<std::string_view> files_; // the protocols' texts
    std::size_t next_file_ = 0;           // the first that has not been read
    std::vector<Protocol> protocols_;
    std::optional<screens::Plan> plan_;
    std::string trouble_; // why there are no protocols; shown instead of a screen
    int builds_ = 0;
};

} // namespace hangtime
