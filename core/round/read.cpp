#include "core/protocol/fields.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/round/round.hpp"
#include "core/session/reader.hpp"

#include <algorithm>
#include <array>
#include <memory>

namespace hangtime::rounds {

namespace {

using namespace session_reader;

constexpr FileForm form = {"hangtime_round", [](const json::Field& file) {
    return file.object({"hangtime_round", "protocol", "clock", "now", "from", "until", "match_second", "put_first",
                        "nurses", "transfusions"});
}};

class RoundReader {
public:
    RoundReader(const Protocol& protocol, json::Report& report) : protocol_(protocol), report_(report) {}

    Round read(const json::Object& top) {
        out_.protocol = protocol_.id;
        if (!protocol_.round) {
            top.named("protocol").fail("\"" + protocol_.id + "\" has no rules for more than one unit",
                                       "a protocol with \"round\"");
            return out_;
        }
        out_.wall = read_clock(top.at("clock"));
        out_.from = time(top.at("from"));
        out_.until = time(top.at("until"));
        if (report_.ok() && (out_.until - out_.from > minutes(most_slots * slot_minutes) ||
                out_.until <= out_.from))
            top.named("until").fail(iso_text(out_.until, out_.wall) + " is not within 42 h 40 min after from",
                                    "a time after from, on the same day or the next");
        if (const auto f = top.find("now")) out_.now = time(*f);
        constexpr std::array<std::string_view, 2> seconds = {"outside", "round"};
        const json::Field second = top.at("match_second");
        out_.second_from_round = second.choice(seconds) == 1;
        constexpr std::array<std::string_view, 2> first = {"finish", "promise"};
        if (const auto f = top.find("put_first"))
            out_.priority = f->choice(first) == 1 ? Priority::promise : Priority::finish;
        for (const json::Field& item : top.at("nurses").list(1, most_nurses)) nurse(item);
        if (report_.ok() && out_.second_from_round && out_.nurses.size() < 2)
            second.fail("is \"round\", but there is one nurse", "\"outside\", or a second nurse");
        for (const json::Field& item : top.at("transfusions").list(1, most_jobs)) transfusion(item);
        return std::move(out_);
    }

private:
    Instant time(const json::Field& field) { return read_stated(field, out_.wall).at; }

    std::vector<Stretch> stretches(const json::Field& field, std::size_t least, const char* what) {
        std::vector<Stretch> out;
        for (const json::Field& item : field.list(least, 8)) {
            const json::Object o = item.object({"from", "until"});
            const Stretch stretch{time(o.at("from")), time(o.at("until"))};
            if (report_.ok() && stretch.to <= stretch.from)
                o.named("until").fail(iso_text(stretch.to, out_.wall) + " is not after from", "a later time");
            if (report_.ok() && !out.empty() && stretch.from < out.back().to)
                o.named("from").fail(iso_text(stretch.from, out_.wall) + " is before the " +
                        std::string(what) +
                                         " before it are over",
                                     "a time at or after " + iso_text(out.back().to, out_.wall));
            out.push_back(stretch);
        }
        return out;
    }

    void nurse(const json::Field& item) {
        const json::Object o = item.object({"hours", "breaks", "handovers"});
        NursePlan nurse;
        nurse.hours = stretches(o.at("hours"), 1, "hours");
        if (const auto f = o.find("breaks")) nurse.breaks = stretches(*f, 0, "breaks");
        if (const auto f = o.find("handovers")) nurse.handovers = stretches(*f, 0, "hand-overs");
        out_.nurses.push_back(std::move(nurse));
    }

    int nurse_number(const json::Field& field) {
        return static_cast<int>(field.integer(1, static_cast<std::int64_t>(out_.nurses.size()))) - 1;
    }

    void transfusion(const json::Field& item) {
        const json::Object o =
            item.object({"object", "component", "bag_ml", "expires_at", "order", "recipient", "line", "device",
                         "other_line_ml_per_h", "weight", "call", "follows", "same_person", "beside", "promised",
                         "happened"});
        PlannedTransfusion t;
        t.state = new_state(protocol_);
        const json::Field object = o.at("object");
        t.object = object.choice<SpokenObject>(spoken_object_names);
        for (const PlannedTransfusion& other : out_.transfusions)
            if (report_.ok() && other.object == t.object)
                object.fail("is there twice: \"" + std::string(name(t.object)) + "\"",
                        "an object of its own");
        t.state.unit.component = read_component(o.at("component"));
        t.state.unit.bag = fields::volume(o.at("bag_ml"));
        if (const auto f = o.find("expires_at")) t.state.unit.expires = read_stated(*f, out_.wall);
        if (const auto f = o.find("order")) t.state.order = read_order(*f);
        if (const auto f = o.find("recipient")) recipient(*f, t.state.recipient);
        if (const auto f = o.find("line")) read_line(*f, protocol_, t.state.line);
        if (const auto f = o.find("device")) read_device(*f, t.state.device);
        if (const auto f = o.find("other_line_ml_per_h")) t.state.other_line = fields::rate(*f);
        if (const auto f = o.find("weight")) t.weight = static_cast<int>(f->integer(1, most_weight));
        call(o.at("call"), t);
        person(o, t);
        if (const auto f = o.find("promised")) {
            const json::Object promised = f->object({"start_at", "nurse"});
            t.promised_start = time(promised.at("start_at"));
            if (report_.ok() && (*t.promised_start - out_.from).count % (slot_minutes * 60) != 0)
                promised.named("start_at").fail(
                    iso_text(*t.promised_start, out_.wall) + " is not on the grid of 5 min from \"from\"",
                    "a time that is a multiple of 5 min after from");
            t.promised_nurse = nurse_number(promised.at("nurse"));
        }
        if (const auto f = o.find("happened")) happened(*f, t);
        needs(o, t);
        out_.transfusions.push_back(std::move(t));
    }

    // What the plan of this one cannot be reckoned without.
    void needs(const json::Object& o, const PlannedTransfusion& t) {
        if (!report_.ok()) return;
        State state = t.state;
        state.times.issued = Stated{t.call_latest, Precision::minute};
        state.times.start = Start{Stated{t.call_latest, Precision::minute}, false};
        const auto r = std::make_unique<Reckoning>();
        reckon(protocol_, state, t.call_latest, *r);
        if (r->missing.weight)
            report_.fail(o.field().path() + ".recipient.weight_kg",
                    "is missing, and a rule for this one needs it",
                         "the weight in kg");
    }

    void recipient(const json::Field& field, Recipient& out) {
        const json::Object o = field.object({"weight_kg", "overload_risk", "can_report", "gauge"});
        if (const auto f = o.find("weight_kg")) out.weight = fields::mass(*f);
        if (const auto f = o.find("overload_risk")) out.overload_risk = fields::choice<Answer>(*f);
        if (const auto f = o.find("can_report")) out.can_report = fields::choice<Answer>(*f);
        if (const auto f = o.find("gauge")) out.gauge = static_cast<std::int32_t>(f->integer(14, 27));
    }

    void call(const json::Field& field, PlannedTransfusion& t) {
        const json::Object o = field.object({"earliest", "latest", "ready_min", "transport_min"});
        t.call_earliest = time(o.at("earliest"));
        t.call_latest = time(o.at("latest"));
        if (report_.ok() && t.call_latest < t.call_earliest)
            o.named("latest").fail(iso_text(t.call_latest, out_.wall) +
                    " is before earliest: it closes before it opens",
                                   "a time at or after " + iso_text(t.call_earliest, out_.wall));
        const RoundRules::Call& usual = protocol_.round->call;
        t.ready = usual.ready;
        t.transport = usual.transport;
        if (const auto f = o.find("ready_min")) t.ready = fields::minutes_of(*f, 0, 240);
        if (const auto f = o.find("transport_min")) t.transport = fields::minutes_of(*f, 0, 120);
    }

    // Another one for the same person: it stands above, and what is known of the person is the same for both.
    void person(const json::Object& o, PlannedTransfusion& t) {
        int links = 0;
        const auto link = [&](std::string_view key, int& to) {
            const auto f = o.find(key);
            if (!f) return;
            const SpokenObject object = f->choice<SpokenObject>(spoken_object_names);
            for (std::size_t i = 0; i < out_.transfusions.size(); ++i)
                if (out_.transfusions[i].object == object) to = static_cast<int>(i);
            if (report_.ok() && to < 0)
                f->fail("\"" + std::string(name(object)) + "\" is not above it in the file",
                        "the object of a transfusion that stands above");
            if (report_.ok() && ++links > 1)
                f->fail("is there beside another link to the same person", "one of follows, same_person and beside");
            if (report_.ok()) same_recipient(o, t, out_.transfusions[static_cast<std::size_t>(to)]);
        };
        link("follows", t.follows);
        link("same_person", t.same_person);
        link("beside", t.beside);
        if (!report_.ok()) return;
        if (t.follows >= 0) follows(o.named("follows"), t);
        if (t.beside >= 0) beside(o, t);
    }

    void same_recipient(const json::Object& o, const PlannedTransfusion& t, const PlannedTransfusion& other) {
        const Recipient &mine = t.state.recipient, &theirs = other.state.recipient;
        const char* key = mine.weight != theirs.weight                 ? "weight_kg"
                          : mine.overload_risk != theirs.overload_risk ? "overload_risk"
                          : mine.can_report != theirs.can_report       ? "can_report"
                                                                       : nullptr;
        if (key)
            report_.fail(o.field().path() + ".recipient." + key,
                         "is not that of \"" + std::string(name(other.object)) + "\", for the same person",
                         "the same for both");
    }

    // Two that begin after the same one would leave open which of them is the next.
    void follows(const json::Field& field, const PlannedTransfusion& t) {
        const std::string object(name(out_.transfusions[static_cast<std::size_t>(t.follows)].object));
        for (const PlannedTransfusion& other : out_.transfusions)
            if (report_.ok() && other.follows == t.follows)
                field.fail("\"" + object + "\" is followed by \"" + std::string(name(other.object)) +
                               "\" already: one person gets one after another",
                           "\"" + std::string(name(other.object)) + "\", or the last one for this person");
    }

    // Two lines share the person's ceiling: each is planned beside the other's highest rate, so both have to say one.
    void beside(const json::Object& o, PlannedTransfusion& t) {
        const json::Field field = o.named("beside");
        PlannedTransfusion& other = out_.transfusions[static_cast<std::size_t>(t.beside)];
        const bool taken = other.beside >= 0 ||
                           std::any_of(out_.transfusions.begin(), out_.transfusions.end(),
                                       [&](const PlannedTransfusion& third) { return third.beside == t.beside; });
        if (taken)
            field.fail("\"" + std::string(name(other.object)) + "\" runs beside another one already",
                       "two lines into one person, no more");
        for (const PlannedTransfusion* one : {&other, &t}) {
            const std::string path =
                one == &t ? o.field().path() : "transfusions[" + std::to_string(t.beside) + "]";
            if (one->state.other_line > Rate{})
                report_.fail(path + ".other_line_ml_per_h", "is there, and the two that run beside each other are two lines",
                             "two lines into one person, no more");
            if (!one->state.order.most)
                report_.fail(path + ".order.max_rate_ml_per_h", "is missing, and two lines share one ceiling by it",
                             "the highest rate that this line may have");
        }
        if (!report_.ok()) return;
        const Rate mine = *t.state.order.most;
        t.state.other_line = *other.state.order.most;
        other.state.other_line = mine;
    }

    void happened(const json::Field& field, PlannedTransfusion& t) {
        const json::Object o =
            field.object({"issued_at", "started_at", "nurse", "paused_min", "reaction_at",
                    "reaction_takes_min"});
        Happened& h = t.happened;
        if (!out_.now) field.fail("is there, but the round has no \"now\"", "\"now\" at the top, or neither");
        h.issued = time(o.at("issued_at"));
        if (const auto f = o.find("started_at")) {
            h.started = time(*f);
            h.nurse = nurse_number(o.at("nurse"));
        }
        for (const std::string_view key : {"paused_min", "reaction_at"})
            if (o.has(key) && !h.started)
                o.named(key).fail("is there, but started_at is not", "started_at beside it");
        if (const auto f = o.find("paused_min")) h.paused = fields::minutes_of(*f, 0, 360);
        if (const auto f = o.find("reaction_at")) {
            h.reaction = time(*f);
            h.reaction_takes = fields::minutes_of(o.at("reaction_takes_min"), 5, 240);
        }
        const auto in_past = [&](const char* key, const std::optional<Instant>& at) {
            if (report_.ok() && at && out_.now && *at > *out_.now)
                o.named(key).fail(iso_text(*at, out_.wall) + " has happened, but \"now\" is before it",
                                  "a time at or before " + iso_text(*out_.now, out_.wall));
        };
        in_past("issued_at", h.issued);
        in_past("started_at", h.started);
        in_past("reaction_at", h.reaction);
        if (report_.ok() && h.started && *h.started < *h.issued)
            o.named("started_at").fail(iso_text(*h.started, out_.wall) + " is before issued_at",
                    "a later time");
        if (report_.ok() && h.reaction && *h.reaction < *h.started)
            o.named("reaction_at").fail(iso_text(*h.reaction, out_.wall) + " is before started_at",
                    "a later time");
    }

    const Protocol& protocol_;
    json::Report& report_;
    Round out_;
};

}  // namespace

Result<std::string> read_round_protocol_id(std::string_view text) { return read_protocol_key(text, form); }

Result<Round> read_round(std::string_view text, const Protocol& protocol) {
    return read_whole<Round>(text, form, protocol, [&](const json::Object& top, json::Report& report) {
        return RoundReader(protocol, report).read(top);
    });
}

}  // namespace hangtime::rounds
