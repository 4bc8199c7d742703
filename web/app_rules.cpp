#include "core/plan/plan_words.hpp"
#include "core/protocol/read.hpp"
#include "web/app.hpp"
#include "web/json_list.hpp"
#include "web/rehearsals.hpp"
#include "web/screens/workshop.hpp"
#include "web/teach.hpp"
#include "web/widgets/controls.hpp"

/// The protocol workshop, and whose rules each screen goes by.

namespace hangtime {

// --- local rules ----------------------------------------------------------------------------------------

void App::enter_rules() {
    if (!workshop_) {
        workshop_ = std::make_unique<screens::Workshop>(protocols());
        std::vector<Protocol> examples;
        if (!platform::protocols_are_examples())
            for (const std::string_view text : elements_of(platform::examples()))
                if (Result<Protocol> read = read_protocol(text); read.ok())
                    examples.push_back(std::move(read.value()));
        std::vector<DemoCase> cases;
        const auto named = elements_of(platform::cases());
        for (std::size_t i = 0; i + 1 < named.size(); i += 2) {
            const std::string_view name = named[i].substr(named[i].find('"') + 1);
            cases.push_back({std::string(name.substr(0, name.find('"'))), std::string(named[i + 1])});
        }
        workshop_->tell_carried(std::move(examples), std::move(cases));
        workshop_->tell_examples(platform::protocols_are_examples());
    }
    go(Where::rules);
}

// At the foot of every screen: whose rules what is shown was worked out by, and of when.
void App::say_whose_rules() {
    const Protocol* rules = nullptr;
    if (where_ == Where::plan) {
        rules = &plan_->entries().protocol();
    } else if (where_ == Where::round) {
        rules = round_.rules();
    } else if (where_ == Where::sequence) {
        rules = sequence_.rules();
    } else if (where_ == Where::rehearse) {
        rules = rehearsals_->rules();
    } else if (where_ == Where::session) {
        const desk::Case* open = desk_.find(bedside_.key());
        if (open && !open->unreadable && !open->log.empty())
            rules = open->session().protocol.get();
    }
    std::string text;
    if (rules) {
        text = joined({where_ == Where::rehearse ? "Rehearsed under: " : "Rules: ", rules_text(*rules)});
    } else {
        const std::size_t more = protocols().size() - 1;
        text = joined({"Rules of this page: ", rules_text(protocols_.front()),
                       more > 0 ? joined({", and ", std::to_string(more), " more"}) : std::string()});
        if (platform::protocols_are_examples())
            text = joined({"Rules of this page: ", std::to_string(protocols().size()), " examples, none adopted by a ward"});
    }
    ui::Box box = ui_.foot();
    box = {box.x + ui_.px(12), box.y, box.w - ui_.px(24), ui_.line_height(ui::Face::small)};
    ui_.note({.id = "page.rules", .label = text, .role = ui::Role::text, .box = box});
    ui_.put_text(box, ui::Face::small, ui_.palette().quiet, text);
}

} // namespace hangtime
