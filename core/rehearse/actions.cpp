#include "core/rehearse/actions.hpp"

#include "core/json/read.hpp"
#include "core/protocol/fields.hpp"
#include "core/rehearse/filter_read.hpp"
#include "core/words/match_words.hpp"
#include "core/words/session_spelling.hpp"

namespace hangtime {

namespace {

using namespace rehearse_reader;

void read_wait(const json::Field& field, const Scenario& scenario, Action& out) {
    const json::Object o = field.object({"happening", "check", "doing", "at_min"});
    int ways = 0;
    if (const auto f = o.find("happening")) {
        out.wait = Action::Wait::happening;
        out.happening = f->key();
        bool there = false;
        std::vector<std::string_view> ids;
        for (const Happening& h : scenario.happenings) {
            there = there || h.id == out.happening;
            ids.push_back(h.id);
        }
        if (field.report().ok() && !there)
            f->fail("\"" + out.happening + "\" does not happen in this scenario", json::listed(ids));
        ++ways;
    }
    if (const auto f = o.find("check")) {
        out.wait = Action::Wait::check;
        out.check = fields::choice<CheckKind>(*f);
        ++ways;
    }
    if (const auto f = o.find("doing")) {
        out.wait = Action::Wait::doing;
        out.doing = fields::choice<Doing>(*f);
        ++ways;
    }
    if (const auto f = o.find("at_min")) {
        out.wait = Action::Wait::at;
        out.at = minutes(f->integer(0, bounds::span.count / 60));
        ++ways;
    }
    if (ways != 1) field.fail("does not say what for", "one of happening, check, doing and at_min");
}

void read_record_of(const json::Field& field, Action& out) {
    out.record = read_facts_of(field);
    if (!field.report().ok()) return;
    if (out.record.kind == EventKind::opened || out.record.kind == EventKind::issued)
        field.fail("is not the learner's to do", "any other record: the scenario opens the session and sends the bag");
    const auto* seen = std::get_if<facts::Observed>(&out.record.facts);
    if (seen && seen->set != Observation{})
        field.fail("says what was seen", "observations without a set: the scenario says what is seen");
}

Action read_action(const json::Field& field, const Scenario& scenario) {
    const json::Object o = field.object({"when", "wait_s", "record", "confirm", "match", "differs", "observe", "start",
                                         "raise"});
    Action out;
    if (const auto f = o.find("when")) read_wait(*f, scenario, out);
    if (const auto f = o.find("wait_s")) out.then = Seconds{f->integer(0, bounds::span.count)};
    int ways = 0;
    if (const auto f = o.find("record")) {
        read_record_of(*f, out);
        ++ways;
    }
    if (const auto f = o.find("confirm")) {
        out.what = Action::Do::confirm;
        for (const json::Field& item : f->list(1, item_count)) out.items.push_back(fields::choice<Item>(item));
        ++ways;
    }
    if (const auto f = o.find("match")) {
        out.what = Action::Do::match;
        out.steps = static_cast<std::int32_t>(f->integer(0, most_match_steps));
        ++ways;
    }
    if (const auto f = o.find("differs")) {
        out.what = Action::Do::differs;
        out.field = fields::choice<MatchField>(*f);
        ++ways;
    }
    if (const auto f = o.find("observe")) {
        out.what = Action::Do::observe;
        out.observe = fields::choice<CheckKind>(*f);
        ++ways;
    }
    constexpr std::array<std::string_view, 1> reckoned = {"reckoned"};
    if (const auto f = o.find("start")) {
        out.what = Action::Do::start;
        f->choice(reckoned);
        ++ways;
    }
    if (const auto f = o.find("raise")) {
        out.what = Action::Do::raise;
        f->choice(reckoned);
        ++ways;
    }
    if (ways != 1)
        field.fail("does not say what is done", "one of record, confirm, match, differs, observe, start and raise");
    return out;
}

}  // namespace

Result<Actions> read_actions(std::string_view text, const Scenario& scenario) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    const json::Object top =
        json::Field(report, &tree.value(), "").object({"hangtime_actions", "scenario", "actions"});
    top.at("hangtime_actions").integer(1, 1);
    Actions out;
    out.scenario = top.at("scenario").key();
    if (report.ok() && out.scenario != scenario.id)
        top.named("scenario").fail("\"" + out.scenario + "\" is another scenario", "\"" + scenario.id + "\"");
    for (const json::Field& item : top.at("actions").list(0, 500)) {
        if (!report.ok()) break;
        out.list.push_back(read_action(item, scenario));
    }
    if (!report.ok()) return report.error();
    return out;
}

}  // namespace hangtime
