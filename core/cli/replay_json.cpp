#include "core/cli/replay_json.hpp"

#include "core/cli/report_json.hpp"
#include "core/json/write.hpp"
#include "core/plan/record_words.hpp"
#include "core/words/match_words.hpp"
#include "core/words/session_spelling.hpp"
#include "core/words/session_words.hpp"

namespace hangtime::cli {

namespace {

class ReplayWriter {
public:
    ReplayWriter(const Log& log, const Live& live)
        : log_(log), s_(log.session()), live_(live), day_(day_clock_of(s_)) {}

    std::string write() {
        w_.begin_object().integer("hangtime_replay", replay_version);
        w_.text("object", name(s_.object)).boolean("rehearsal", s_.rehearsal);
        w_.text("phase", code(s_.phase)).integer("records", static_cast<std::int64_t>(log_.events().size()));
        time("now", live_.reckoning.now);
        time("next_change", live_.next_change);
        to_do();
        ready();
        assumed();
        running();
        w_.text("match", code(s_.match.standing)).integer("match_steps", static_cast<std::int64_t>(s_.match.passed.size()));
        time("back_to_stock_until", live_.back_to_stock_until);
        time("attended_until", live_.attended_until);
        w_.integer("uncharted", static_cast<std::int64_t>(live_.uncharted));
        w_.integer("units_covered", s_.units_covered).integer("units_called_for", s_.units_requested);
        w_.key("sheet").text("");
        w_.end_object();
        std::string out = w_.take();
        // The sheet is a whole JSON text of its own, in its place.
        const std::string mark = "\"sheet\": \"\"";
        const std::size_t at = out.rfind(mark);
        std::string sheet = report_json(*s_.protocol, request(), live_.reckoning);
        while (!sheet.empty() && sheet.back() == '\n') sheet.pop_back();
        return out.substr(0, at) + "\"sheet\": " + sheet + out.substr(at + mark.size());
    }

private:
    Request request() const {
        Request request;
        request.protocol = s_.protocol->id;
        request.wall = s_.wall;
        Assumed assumed;
        request.state = assumed_state(s_, live_.reckoning.now, assumed);
        if (s_.digits) request.bag_digits = std::string(s_.digits->data(), s_.digits->size());
        request.object = s_.object;
        return request;
    }

    void time(std::string_view key, std::optional<Instant> at) {
        if (!at) {
            w_.null(key);
            return;
        }
        w_.key(key).begin_object(json::Writer::Layout::along).text("at", iso_text(*at, s_.wall));
        w_.text("clock", clock_text(*at, day_)).end_object();
    }

    void to_do() {
        w_.key("to_do").begin_list();
        for (const ToDo& todo : live_.to_do) {
            w_.begin_object().text("what", code(todo.what)).text("text", to_do_text(todo, live_.reckoning));
            w_.boolean("due", todo.due);
            time("at", todo.at);
            time("latest", todo.latest);
            w_.end_object();
        }
        w_.end_list();
    }

    void ready() {
        w_.key("ready").begin_list();
        for (const ReadyItem& item : live_.ready) {
            w_.begin_object().text("item", code(item.item)).text("group", code(group_of(item.item)));
            w_.text("state", code(item.state)).boolean("before_call", item.before_call);
            time("good_until", item.good_until);
            w_.end_object();
        }
        w_.end_list();
    }

    void assumed() {
        w_.key("assumed").begin_object(json::Writer::Layout::along).boolean("volume", live_.assumed.volume);
        w_.boolean("issue", live_.assumed.issue).boolean("start", live_.assumed.start).end_object();
    }

    // Volumes in units of core/quantity.hpp: exact.
    void running() {
        const RunningBand& r = live_.running;
        w_.key("running").begin_object(json::Writer::Layout::along).integer("pushed_units", r.pushed.units);
        w_.integer("given_units", r.given.units).integer("least_given_units", r.least_given.units);
        w_.integer("most_given_units", r.most_given.units);
        w_.integer("in_force_units_per_s", live_.reckoning.in_force.units_per_s).end_object();
    }

    const Log& log_;
    const Session& s_;
    const Live& live_;
    DayClock day_;
    json::Writer w_;
};

}  // namespace

std::string replay_json(const Log& log, const Live& live) { return ReplayWriter(log, live).write(); }

}  // namespace hangtime::cli
