#include "tests/core/log_script.hpp"

#include "core/protocol/read.hpp"
#include "core/session/record.hpp"
#include "core/words/match_words.hpp"
#include "core/words/session_spelling.hpp"
#include "core/words/spelling.hpp"
#include "tests/core/plan_support.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <map>
#include <memory>

namespace hangtime::test {

namespace {

using json::Kind;
using json::Value;

Value text_value(std::string text) {
    Value v;
    v.kind = Kind::text;
    v.text = std::move(text);
    return v;
}

Value number_value(std::int64_t n) {
    Value v;
    v.kind = Kind::number;
    v.text = std::to_string(n);
    return v;
}

void put(Value& object, const std::string& key, Value value) {
    for (std::size_t i = 0; i < object.keys.size(); ++i)
        if (object.keys[i] == key) {
            object.items[i] = std::move(value);
            return;
        }
    object.keys.push_back(key);
    object.items.push_back(std::move(value));
}

void drop(Value& object, const std::string& key) {
    for (std::size_t i = 0; i < object.keys.size(); ++i)
        if (object.keys[i] == key) {
            object.keys.erase(object.keys.begin() + static_cast<std::ptrdiff_t>(i));
            object.items.erase(object.items.begin() + static_cast<std::ptrdiff_t>(i));
            return;
        }
}

std::string said(const Value& object, std::string_view key) {
    const Value* v = object.find(key);
    return v ? v->text : std::string();
}

// "10:15", "10:15:30", "+1 00:10" -> "2026-03-14T10:15Z"; what is a whole time already stays.
std::string whole_time(const std::string& text) {
    if (text.find('T') != text.npos) return text;
    int day = 14;
    std::string clock = text;
    if (text.size() > 3 && (text[0] == '+' || text[0] == '-') && text[2] == ' ') {
        day += (text[0] == '+' ? 1 : -1) * (text[1] - '0');
        clock = text.substr(3);
    }
    return "2026-03-" + std::to_string(day) + "T" + clock + "Z";
}

Instant moment(const std::string& text) {
    const auto read = read_time(whole_time(text), WallClock(), "the script");
    if (!read.ok()) FAIL(text << ": " << read.error().problem);
    return read.value().at;
}

// To the second, as it stands in `noted`.
std::string noted_text(Instant at) { return iso_text(at, WallClock()).substr(0, 19) + "Z"; }

// "12.5", "12.5/3": mL, exactly.
Volume volume_of(const std::string& text) {
    const std::size_t slash = text.find('/');
    const std::string over = text.substr(0, slash);
    const std::int64_t by = slash == text.npos ? 1 : std::atoll(text.c_str() + slash + 1);
    const std::size_t dot = over.find('.');
    std::string digits = over;
    std::int64_t scale = 1;
    if (dot != over.npos) {
        digits.erase(dot, 1);
        for (std::size_t i = dot + 1; i < over.size(); ++i) scale *= 10;
    }
    const std::int64_t numerator = std::atoll(digits.c_str()) * ml(1).units;
    if (numerator % (scale * by) != 0) FAIL(text << " mL is no whole number of units");
    return {numerator / (scale * by)};
}

Value spliced_protocol(const Value& wanted) {
    const bool plain = wanted.kind == Kind::text;
    const std::string id = plain ? wanted.text.substr(1) : said(wanted, "@");
    Value tree = tree_of(file_text("demo-data/protocols/" + id + ".json"));
    const Value* set = plain ? nullptr : wanted.find("set");
    for (std::size_t i = 0; set && i < set->keys.size(); ++i) {
        Value* at = &tree;
        std::string path = set->keys[i];
        for (std::size_t dot; (dot = path.find('.')) != path.npos; path = path.substr(dot + 1)) {
            const std::string step = path.substr(0, dot);
            Value* next = nullptr;
            if (at->kind == Kind::list) next = &at->items[static_cast<std::size_t>(std::atoi(step.c_str()))];
            for (std::size_t k = 0; k < at->keys.size(); ++k)
                if (at->keys[k] == step) next = &at->items[k];
            if (!next) FAIL("the protocol has no " << set->keys[i]);
            at = next;
        }
        if (set->items[i].kind == Kind::null) drop(*at, path);
        else put(*at, path, set->items[i]);
    }
    return tree;
}

class Player {
public:
    void play(const std::string& text) {
        std::size_t from = 0;
        for (int line = 1; from < text.size(); ++line) {
            const std::size_t end = std::min(text.find('\n', from), text.size());
            const std::string one = text.substr(from, end - from);
            from = end + 1;
            if (one.empty()) continue;
            INFO("line " << line << ": " << one);
            Value tree = tree_of(one);
            if (tree.find("splice")) splice(tree);
            else if (tree.find("expect")) expect(tree);
            else if (tree.find("what")) record(std::move(tree));
        }
    }

    Log log;

    Event event_from(Value tree) {
        if (const Value* label = tree.find("n"); label && label->kind == Kind::text) labels_[label->text] = log.next_number();
        put(tree, "n", number_value(log.next_number()));
        const Instant at = moment(said(tree, "at"));
        Instant noted = tree.find("noted") ? moment(said(tree, "noted")) : std::max(at, last_noted_);
        put(tree, "noted", text_value(noted_text(noted)));
        for (const char* key : {"at", "expires_at", "thawed_at"})
            if (tree.find(key)) put(tree, key, text_value(whole_time(said(tree, key))));
        for (const char* key : {"of", "replaces"}) {
            const Value* list = tree.find(key);
            if (!list) continue;
            Value numbers = *list;
            for (Value& item : numbers.items)
                if (item.kind == Kind::text) {
                    if (!labels_.count(item.text)) FAIL("no record has the label " << item.text);
                    item = number_value(labels_[item.text]);
                }
            put(tree, key, numbers);
        }
        if (const Value* protocol = tree.find("protocol")) put(tree, "protocol", spliced_protocol(*protocol));
        const auto event = read_record(text_of(tree), "the script");
        if (!event.ok()) FAIL(event.error().where << " " << event.error().problem << "; accepted: " << event.error().accepted);
        return event.value();
    }

private:
    void record(Value tree) {
        const std::string wanted = said(tree, "refused");
        const std::string live = said(tree, "refused_live");
        drop(tree, "refused");
        drop(tree, "refused_live");
        drop(tree, "why");
        const Event event = event_from(std::move(tree));
        if (!live.empty()) {
            const auto by_reckoning = refuses(log, event, event.noted);
            CHECK((by_reckoning ? std::string(code(*by_reckoning)) : "") == live);
            return;
        }
        const std::string before = wanted.empty() ? std::string() : write_log(log);
        const auto would = wanted.empty() ? std::nullopt : log.would_refuse(event, event.noted);
        const auto refused = log.append(event, event.noted);
        const std::string got = refused ? std::string(code(*refused)) : std::string();
        CHECK(got == wanted);
        if (!wanted.empty()) {
            CHECK(would == refused);
            CHECK(write_log(log) == before);
        }
        if (!refused) last_noted_ = std::max(last_noted_, event.noted);
    }

    void line(const std::string& text) {
        const Value tree = tree_of(text);
        if (tree.find("splice")) splice(tree);
        else record(tree);
    }

    // prepared: everything up to the start of an ordinary transfusion, opened at 09:30 and ready at 10:14, of which some
    // can be said otherwise: version, protocol, component, bag_ml, order, recipient, units, with, holds_ml, lost_ml, equipment.
    void prepare(const Value& tree) {
        const auto or_else = [&](std::string_view key, const char* usual) {
            const Value* v = tree.find(key);
            return v ? text_of(*v) : std::string(usual);
        };
        line(R"({"at": "09:30", "what": "opened", "hangtime_log": )" + or_else("version", "3") +
             R"(, "object": "kite", "clock": {"utc_offset_min": 0}, "protocol": )" + or_else("protocol", R"("@general-ward")") + "}");
        line(R"({"at": "09:31", "what": "ordered", "component": )" + or_else("component", R"("red_cells")") + R"(, "order": )" +
             or_else("order", R"({"within_min": 120})") + "}");
        line(R"({"at": "09:32", "what": "recipient_told", "recipient": )" +
             or_else("recipient", R"({"weight_kg": 70, "weight_is": "measured", "overload_risk": "no", "can_report": "yes", "gauge": 20})") + "}");
        if (const Value* equipment = tree.find("equipment")) {
            Value v = *equipment;
            put(v, "at", text_value("09:33"));
            put(v, "what", text_value("equipment_chosen"));
            record(v);
        }
        line(R"({"splice": "ready", "at": "09:50", "units": )" + or_else("units", "1") + "}");
        line(R"({"at": "09:52", "what": "requested"})");
        line(R"({"at": "10:00", "what": "issued", "component": )" + or_else("component", R"("red_cells")") + R"(, "bag_ml": )" +
             or_else("bag_ml", "300") + R"(, "expires_at": "+1 23:59", "bag_digits": "4711"})");
        line(R"({"at": "10:05", "what": "received"})");
        if (tree.find("until") && said(tree, "until") == "received") return;
        line(R"({"splice": "match", "at": "10:10"})");
        if (tree.find("until") && said(tree, "until") == "match") return;
        line(R"({"splice": "hang", "at": "10:13", "with": )" + or_else("with", R"("component")") + R"(, "holds_ml": )" +
             or_else("holds_ml", "20") + R"(, "lost_ml": )" + or_else("lost_ml", "0") + "}");
    }

    // ready: what is settled before the bag is called for (units: covered by the authorisation).
    // match: every step of the script in force, all at one minute.
    // hang: spiked, primed with 20 mL of component, connected, and what is looked at before the start.
    void splice(const Value& tree) {
        const std::string what = said(tree, "splice");
        const std::string when = "{\"at\": \"" + said(tree, "at") + "\", \"what\": ";
        const std::string units = tree.find("units") ? said(tree, "units") : "1";
        const auto item = [&](const char* name, const char* how = "confirmed") {
            line(when + "\"item_noted\", \"item\": \"" + name + "\", \"how\": \"" + how + "\"}");
        };
        if (what == "ready") {
            if (!tree.find("again"))
                line(when + "\"item_noted\", \"item\": \"authorisation\", \"how\": \"confirmed\", \"units\": " + units + "}");
            line(when + "\"sample_drawn\"}");
            for (const char* name : {"sample", "consent", "access", "set_and_saline", "second_checker"}) item(name);
            item("premedication", "not_needed");
            line(when + "\"observed\", \"check\": \"baseline\"}");
        } else if (what == "match") {
            const std::size_t steps = script_of(log.session()).size();
            for (std::size_t i = 0; i < steps; ++i)
                line(when + "\"match_noted\", \"outcome\": \"passed\", \"step\": " + std::to_string(i) + "}");
        } else if (what == "hang") {
            const std::string with = tree.find("with") ? said(tree, "with") : "component";
            const std::string holds = tree.find("holds_ml") ? said(tree, "holds_ml") : "20";
            const std::string lost = tree.find("lost_ml") ? said(tree, "lost_ml") : "0";
            const std::string set = "\"with\": \"" + with + "\", \"holds_ml\": " + holds + ", \"lost_ml\": " + lost + "}";
            line(when + "\"spiked\"}");
            line(when + "\"primed\", " + set);
            line(when + "\"connected\"}");
            for (const char* name : {"report_explained", "bag_looked_at", "only_saline"}) item(name);
            item("warmer_considered", "not_needed");
        } else if (what == "prepared") {
            prepare(tree);
        } else {
            FAIL("no such splice: " << what);
        }
    }

    static std::string time_of(std::optional<Instant> at) { return at ? clock_of(*at) : "none"; }

    // An exact volume is compared in units; `want` is put in its place where it is the same.
    static std::string shown(Volume got, const std::string& want) {
        if (volume_of(want) == got) return want;
        const std::int64_t thousandths = got.units / (ml(1).units / 1000);
        std::string rest = std::to_string(thousandths % 1000);
        rest.insert(0, 3 - rest.size(), '0');
        return std::to_string(thousandths / 1000) + "." + rest + " (" + std::to_string(got.units) + " units)";
    }
    static std::string shown(Rate got, const std::string& want) {
        const Volume hour = got * Seconds{3600};
        return shown(hour, want);
    }

    void expect(const Value& tree) {
        const Instant now = moment(said(tree, "expect"));
        const Rate other = tree.find("other_line") ? Rate{volume_of(said(tree, "other_line")).units / 3600} : Rate{};
        const auto live = std::make_unique<Live>();
        reckon_live(log.session(), now, *live, other);
        for (std::size_t i = 0; i < tree.keys.size(); ++i) {
            const std::string& key = tree.keys[i];
            if (key == "expect" || key == "why" || key == "other_line") continue;
            const Value& want = tree.items[i];
            INFO("expected: " << key);
            if (want.kind == Kind::object) {
                for (std::size_t k = 0; k < want.keys.size(); ++k) {
                    INFO("of " << want.keys[k]);
                    const std::string found = of(*live, key, want.keys[k], want.items[k].text);
                    CHECK(found == want.items[k].text);
                }
            } else if (want.kind == Kind::list) {
                std::string wanted, found;
                for (const Value& item : want.items) wanted += item.text + "; ";
                for (const std::string& item : all(*live, key, want)) found += item + "; ";
                CHECK(found == wanted);
            } else {
                CHECK(one(*live, key, want.text) == want.text);
            }
        }
    }

    // One value by its key.
    std::string one(const Live& l, const std::string& key, const std::string& want) {
        const Session& s = log.session();
        const Reckoning& r = l.reckoning;
        if (key == "phase") return std::string(code(l.phase));
        if (key == "pushed_ml") return shown(l.running.pushed, want);
        if (key == "given_ml") return shown(l.running.given, want);
        if (key == "least_ml") return shown(l.running.least_given, want);
        if (key == "most_ml") return shown(l.running.most_given, want);
        if (key == "in_force") return shown(r.in_force, want);
        if (key == "rate_to_set") return shown(r.rates.set, want);
        if (key == "to_push_ml") return shown(r.volumes.pushed, want);
        if (key == "to_give_ml") return shown(r.volumes.given, want);
        if (key == "wanted_ml") return shown(r.volumes.wanted, want);
        if (key == "left_in_bag_ml") return shown(r.volumes.left_in_bag, want);
        if (key == "left_in_line_ml") return shown(r.volumes.left_in_line, want);
        if (key == "all_in") return time_of(r.all_in);
        if (key == "bag_empty") return time_of(r.bag_empty);
        if (key == "finish_by") return time_of(r.finish_by);
        if (key == "start_by") return time_of(r.start_by);
        if (key == "first_component") return time_of(r.first_component);
        if (key == "over_by_s") return std::to_string(r.judgement.over_by.count);
        if (key == "can_give_ml") return shown(r.judgement.can_give, want);
        if (key == "would_be_left_ml") return shown(r.judgement.would_be_left, want);
        if (key == "verdict") return std::string(code(r.judgement.verdict));
        if (key == "next_change") return time_of(l.next_change);
        if (key == "back_to_stock_until") return time_of(l.back_to_stock_until);
        if (key == "attended_until") return time_of(l.attended_until);
        if (key == "open_before_call") return l.open_before_call ? std::string(code(*l.open_before_call)) : "none";
        if (key == "open_before_start") return l.open_before_start ? std::string(code(*l.open_before_start)) : "none";
        if (key == "uncharted") return std::to_string(l.uncharted);
        if (key == "units_covered") return std::to_string(s.units_covered);
        if (key == "units_called_for") return std::to_string(s.units_requested);
        if (key == "past_units") return std::to_string(s.past_units.size());
        if (key == "match") return std::string(code(s.match.standing));
        if (key == "groups")
            return !s.groups ? "none" : std::string(code(s.groups->answer())) + (s.groups->settled() ? ", settled" : ", open");
        if (key == "can_say") return !s.can_say ? "none" : *s.can_say ? "yes" : "no";
        if (key == "identity")
            return !s.identity_agrees ? "none"
                                      : std::string(*s.identity_agrees ? "agrees" : "differs") + " " + time_of(s.identity_at);
        if (key == "other_fluid_ml") return shown(s.other_fluid, want);
        if (key == "rule_set") return rules_now(s).rules() ? rules_now(s).rules()->id : "none";
        if (key == "rules_chosen") return rules_now(s).chosen ? "yes" : "no";
        if (key == "first_step") return std::string(code(script_of(s)[0].kind));
        if (key == "protocol") return s.protocol->id;
        if (key == "records") return std::to_string(log.events().size());
        if (key == "with") return std::string(code(s.with));
        if (key == "offered") return s.offered ? "yes" : "no";
        if (key == "linked") return s.linked ? std::string(name(*s.linked)) : "none";
        if (key == "refused_at") return time_of(s.refused);
        if (key == "reaction") return time_of(s.reaction);
        if (key == "ahead_s") return std::to_string(s.ahead.count);
        if (key == "wall_clock") {
            std::string text = iso_text(r.all_in, s.wall);
            return text;
        }
        if (key == "primed_with") return std::string(code(s.state.line.primed_with));
        if (key == "primary") return l.to_do.empty() ? "none" : std::string(code(l.to_do[0].what));
        if (key == "disposal") return s.disposal ? std::string(code(s.disposal->how)) : "none";
        FAIL("no such key: " << key);
        return {};
    }

    // One of several, by its key and its name.
    std::string of(const Live& l, const std::string& key, const std::string& which, const std::string& want) {
        const Reckoning& r = l.reckoning;
        if (key == "windows") {
            for (const Window& w : r.windows)
                if (std::string(code(w.kind)) + " " + std::string(code(w.from)) == which)
                    return time_of(w.latest) + " " + std::string(code(w.state));
            return "none";
        }
        if (key == "checks") {
            for (const Check& c : r.checks)
                if (std::string(code(c.kind)) + " " + std::to_string(c.index) == which) {
                    std::string text = clock_of(c.due) + " " + std::string(code(c.state));
                    if (c.done && (c.state == CheckState::done || c.state == CheckState::done_late)) text += " " + clock_of(*c.done);
                    return text;
                }
            return "none";
        }
        if (key == "to_do") {
            for (const ToDo& todo : l.to_do)
                if (code(todo.what) == which) {
                    std::string text = clock_of(todo.at) + (todo.due ? " due" : " later");
                    if (todo.latest) text += " latest " + clock_of(*todo.latest);
                    if (todo.rate > Rate{}) {
                        const std::size_t at = want.find(" rate ");
                        text += " rate " + shown(todo.rate, at == want.npos ? "0" : want.substr(at + 6));
                    }
                    return text;
                }
            return "none";
        }
        if (key == "ready") {
            for (const ReadyItem& item : l.ready)
                if (code(item.item) == which)
                    return std::string(code(item.state)) + (item.good_until ? " until " + clock_of(*item.good_until) : "");
            return "none";
        }
        if (key == "records") {  // where a record was placed in its minute, or that it is void
            const std::int32_t n = labels_.at(which);
            return log.is_void(n) ? "void" : clock_of(log.events()[static_cast<std::size_t>(n - 1)].at.at);
        }
        if (key == "warning_at") {
            for (const Warned& w : r.warnings)
                if (code(w.code) == which)
                    for (const Figure& figure : w.figures)
                        if (figure.kind == FigureKind::instant) return clock_of(Instant{figure.a});
            return "none";
        }
        FAIL("no such key: " << key);
        return {};
    }

    // A whole list; of warnings, reasons and advice only those that the script asks about, with "no " before what must
    // not be there.
    std::vector<std::string> all(const Live& l, const std::string& key, const Value& want) {
        const Reckoning& r = l.reckoning;
        std::vector<std::string> out;
        if (key == "stages") {
            for (std::size_t i = 0; i < r.stages.size(); ++i) {
                const Stage& stage = r.stages[i];
                const std::string wanted = i < want.items.size() ? want.items[i].text : "";
                const std::size_t at = wanted.rfind(' ');
                out.push_back(std::string(code(stage.kind)) + " " + clock_of(stage.from) + " " + clock_of(stage.to) + " at " +
                              shown(stage.rate, at == wanted.npos ? "0" : wanted.substr(at + 1)));
            }
            return out;
        }
        if (key == "reasons") {
            for (const Reason reason : r.judgement.reasons) out.push_back(std::string(code(reason)));
            return out;
        }
        if (key == "checks_in_order") {
            for (const Check& c : r.checks) out.push_back(std::string(code(c.kind)) + " " + clock_of(c.due));
            return out;
        }
        if (key == "past_given_ml") {
            for (std::size_t i = 0; i < log.session().past_units.size(); ++i)
                out.push_back(shown(log.session().past_units[i].given, i < want.items.size() ? want.items[i].text : "0"));
            return out;
        }
        if (key == "judged_by") {
            for (const ObservedSet& set : log.session().sets)
                out.push_back(rules_of(log.session(), set).rules() ? rules_of(log.session(), set).rules()->id : "none");
            return out;
        }
        if (key == "holds") {  // of the sets beside the baselines, in their order; the baseline itself is the first "no"
            for (const ObservedSet& set : log.session().sets)
                if (set.extra || set.kind != CheckKind::baseline || set.number == baseline_set(log.session())->number)
                    out.push_back(asks_to_hold(log.session(), set) ? "yes" : "no");
            return out;
        }
        std::vector<std::string> there;
        if (key == "warned")
            for (const Warned& w : r.warnings) there.push_back(std::string(code(w.code)));
        else if (key == "advised")
            for (const Advised& a : r.judgement.advice) there.push_back(std::string(code(a.code)));
        else FAIL("no such key: " << key);
        for (const Value& item : want.items) {
            const bool not_there = item.text.starts_with("no ");
            const std::string name = not_there ? item.text.substr(3) : item.text;
            const bool found = std::find(there.begin(), there.end(), name) != there.end();
            out.push_back(found ? name : "no " + name);
        }
        return out;
    }

    std::map<std::string, std::int32_t> labels_;
    Instant last_noted_{};
};

}  // namespace

std::vector<std::string> hand_log_names() {
    const char* root = std::getenv("HANGTIME_ROOT");
    if (!root) FAIL("HANGTIME_ROOT is not set: it must name the project's top folder");
    std::vector<std::string> out;
    std::error_code error;
    for (const auto& entry : std::filesystem::directory_iterator(std::string(root) + "/tests/logs", error))
        if (entry.path().extension() == ".jsonl") out.push_back(entry.path().stem().string());
    std::sort(out.begin(), out.end());
    if (out.empty()) FAIL("no files in tests/logs");
    return out;
}

Log played(const std::string& name) { return played_text(file_text("tests/logs/" + name + ".jsonl")); }

Log played_text(const std::string& text) {
    Player player;
    player.play(text);
    return player.log;
}

Log prepared_log() {
    return played_text("{\"splice\": \"prepared\"}\n");
}

Event event_of(const Log& log, const std::string& line) {
    Player player;
    player.log = log;
    return player.event_from(tree_of(line));
}

}  // namespace hangtime::test
