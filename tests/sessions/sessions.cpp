// Writes N logs of sessions into a folder, the same on every machine for the same seed: what a review is held against.
// They go as on wards, mostly well: some are hung late, run over, stand still, miss a check, are stopped, refused,
// returned or thrown away, have two bags, or hold entries that were put right or taken back.
//
//   sessions N SEED FOLDER PROTOCOL...

#include "core/protocol/read.hpp"
#include "core/session/record.hpp"
#include "tests/core/random_plans.hpp"

#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

using namespace hangtime;

namespace {

std::string text_of(const std::string& path) {
    std::string out;
    if (std::FILE* file = std::fopen(path.c_str(), "rb")) {
        char buffer[65536];
        for (std::size_t n; (n = std::fread(buffer, 1, sizeof buffer, file)) > 0;) out.append(buffer, n);
        std::fclose(file);
    }
    return out;
}

class Maker {
public:
    Maker(std::uint64_t seed, std::shared_ptr<const Protocol> protocol) : r_(seed), protocol_(std::move(protocol)) {
        now_ = Instant{1'772'000'000 + r_.between(0, 40 * 86'400)};
    }

    Log make() {
        note(EventKind::opened, facts::Opened{log_version, static_cast<SpokenObject>(r_.between(0, 7)), WallClock(minutes(60)),
                                              {protocol_}, false});
        const int kind = static_cast<int>(r_.between(1, 100));
        component_ = kind <= 60 ? Component::red_cells : kind <= 75 ? Component::platelets : kind <= 90 ? Component::plasma
                                                       : kind <= 97 ? Component::cryoprecipitate : Component::granulocytes;
        note(EventKind::ordered, facts::Ordered{component_, {}, ml(r_.between(180, 320))});
        Recipient person;
        person.weight = Mass{(protocol_->children ? r_.between(12, 45) : r_.between(45, 100)) * 1000};
        person.overload_risk = Answer::no;
        person.can_report = r_.chance(15) ? Answer::no : Answer::yes;
        note(EventKind::recipient_told, facts::RecipientTold{person});
        for (const Item item : {Item::authorisation, Item::sample, Item::consent, Item::premedication, Item::access, Item::set_and_saline})
            tick(item, 2);
        const int units = r_.chance(25) ? 2 : 1;
        for (int i = 0; i < units && unit(); ++i) wait(60, 1200);
        return std::move(log_);
    }

private:
    bool note(EventKind kind, Facts facts, std::int32_t replaces = 0) { return note_at(now_, kind, std::move(facts), replaces); }
    bool note_at(Instant at, EventKind kind, Facts facts, std::int32_t replaces = 0) {
        Event e;
        e.kind = kind;
        e.facts = std::move(facts);
        const bool to_minute = kind != EventKind::opened && r_.chance(40);
        e.at = {to_minute ? minute_of(at) : at, to_minute ? Precision::minute : Precision::second};
        if (replaces > 0) e.replaces = {replaces};
        return !log_.append(std::move(e), now_);
    }
    void wait(std::int64_t least, std::int64_t most) { now_ = now_ + Seconds{r_.between(least, most)}; }
    void tick(Item item, std::int32_t count) {
        facts::ItemNoted f;
        f.item = item;
        f.how = ItemHow::confirmed;
        if (item == Item::authorisation) f.count = count;
        note(EventKind::item_noted, f);
        wait(5, 60);
    }
    void check(CheckKind kind, std::int32_t index = 0) { note(EventKind::observed, facts::Observed{kind, index, false, {}}); }
    Event last() const { return log_.events().back(); }

    // Somebody sees that the time was wrong, or that it was another bag's.
    void mend() {
        if (!r_.chance(6)) return;
        const Event e = last();
        wait(30, 600);
        if (e.kind == EventKind::observed && r_.chance(40)) {
            note(EventKind::withdrawn, facts::Numbers{{e.number}});
            if (r_.chance(30)) note(EventKind::withdrawn, facts::Numbers{{log_.next_number() - 1}});  // it was right after all
            return;
        }
        note_at(e.at.at - Seconds{60 * r_.between(1, 4)}, e.kind, e.facts, e.number);
    }

    // False where the session goes no further.
    bool unit() {
        tick(Item::second_checker, 0);
        check(CheckKind::baseline);
        wait(20, 400);
        if (!note(EventKind::requested, std::monostate{})) return false;
        wait(120, 1500);
        facts::Issued issued;
        issued.component = component_;
        issued.bag = ml(r_.between(150, 330));
        if (r_.chance(30)) issued.expires = Stated{minute_of(now_ + minutes(r_.between(100, 5000))), Precision::minute};
        if (r_.chance(40) && (component_ == Component::plasma || component_ == Component::cryoprecipitate))
            issued.thawed = Stated{minute_of(now_ - minutes(r_.between(5, 60))), Precision::minute};
        issued.digits = BagDigits{'0', '0', '1', static_cast<char>('0' + r_.between(0, 9))};
        note(EventKind::issued, issued);
        mend();
        if (r_.chance(20)) note_at(now_ - Seconds{r_.between(0, 60)}, EventKind::storage_noted, facts::StorageNoted{StorageChange::left});
        wait(60, r_.chance(12) ? 2400 : 900);
        if (r_.chance(6)) return not_hung();
        const std::size_t steps = script_of(log_.session()).size();
        for (std::size_t i = 0; i < steps; ++i) {
            wait(4, 15);
            note(EventKind::match_noted, facts::MatchNoted{MatchOutcome::passed, static_cast<std::int32_t>(i)});
        }
        wait(10, 90);
        if (!note(EventKind::spiked, std::monostate{})) return not_hung();
        mend();
        wait(20, 200);
        note(EventKind::primed, facts::PrimedWith{r_.chance(50) ? Primed::saline : Primed::component, ml(r_.between(10, 25)), {}});
        if (r_.chance(3)) return stop(StopReason::bag_damaged);
        note(EventKind::connected, std::monostate{});
        wait(10, 120);
        note(EventKind::started, facts::RateSet{ml_per_h(r_.between(40, 90)), true, {}});
        mend();
        if (r_.chance(2)) return false;  // the log ends in the first minutes
        return run();
    }

    bool not_hung() {
        const auto reason = static_cast<ReturnReason>(r_.between(0, 7));
        if (r_.chance(50)) {
            note(EventKind::bag_temperature, facts::BagTemperature{static_cast<std::int32_t>(r_.between(30, 120))});
            if (note(EventKind::returned, facts::Returned{ReturnTo::stock, reason})) return true;
        }
        if (r_.chance(50)) note(EventKind::returned, facts::Returned{ReturnTo::blood_bank, reason});
        else note(EventKind::discarded, facts::Discarded{reason});
        return true;
    }

    bool stop(StopReason reason) {
        note(EventKind::stopped, facts::Stopped{reason});
        wait(60, 900);
        note(EventKind::discarded, facts::Discarded{static_cast<ReturnReason>(r_.between(7, 9))});
        return r_.chance(50);
    }

    // Every minute is decided in its order: pauses, checks, the end.
    bool run() {
        const Instant start = log_.session().state.times.start->when.at;
        const auto after = [&](std::int64_t least, std::int64_t most) { return start + Seconds{r_.between(least, most)}; };
        struct Plan { Instant at; int what; std::int32_t index; };
        std::vector<Plan> plans;
        if (r_.chance(92)) plans.push_back({after(0, 240), 0, 0});
        if (r_.chance(12)) plans.push_back({after(120, 620), 1, 0});   // too early: counts for nothing
        if (r_.chance(90)) plans.push_back({after(600, r_.chance(12) ? 4000 : 1500), 1, 0});
        const Instant end = after(r_.chance(4) ? 600 : 3000, r_.chance(10) ? 17'000 : 12'600);
        const Given<Seconds>* interval = interval_for(*protocol_, log_.session().state.recipient);
        for (std::int32_t i = 0; interval; ++i) {
            const Instant due = start + Seconds{interval->value.count * (i + 1)};
            if (due >= end) break;
            if (r_.chance(88)) plans.push_back({due + Seconds{r_.between(-240, r_.chance(15) ? 2200 : 500)}, 2, i});
        }
        if (r_.chance(18)) plans.push_back({after(300, 9000), 3, static_cast<std::int32_t>(r_.between(0, pause_reasons - 1))});
        if (r_.chance(5)) plans.push_back({after(300, 9000), 3, static_cast<std::int32_t>(r_.between(0, pause_reasons - 1))});
        if (r_.chance(3)) plans.push_back({after(300, 6000), 5, 0});
        plans.push_back({end, 4, 0});
        for (std::size_t i = 1; i < plans.size(); ++i)
            for (std::size_t k = i; k > 0 && plans[k].at < plans[k - 1].at; --k) std::swap(plans[k], plans[k - 1]);
        for (const Plan& plan : plans) {
            if (plan.at > now_) now_ = plan.at;
            switch (plan.what) {
            case 0: check(CheckKind::start); mend(); break;
            case 1:
                check(CheckKind::early);
                mend();
                if (r_.chance(60)) note(EventKind::rate_set, facts::RateSet{ml_per_h(r_.between(90, 180)), true, {}});
                break;
            case 2: check(CheckKind::interval, plan.index); mend(); break;
            case 3:
                if (!note(EventKind::paused, facts::Paused{static_cast<PauseReason>(plan.index)})) break;
                wait(40, r_.chance(20) ? 5000 : 1200);
                note(EventKind::resumed, std::monostate{});
                break;
            case 5:
                note(EventKind::reaction_suspected, std::monostate{});
                wait(300, 1800);
                return stop(StopReason::reaction);
            default:
                if (r_.chance(4)) return stop(static_cast<StopReason>(r_.between(0, 6)));
                if (r_.chance(1)) {
                    note(EventKind::consent_withdrawn, facts::ConsentWithdrawn{RefusalReason::changed_mind});
                    wait(60, 900);
                    note(EventKind::discarded, facts::Discarded{ReturnReason::refused});
                    return false;
                }
                note(EventKind::all_in, std::monostate{});
                mend();
                return closing();
            }
        }
        return false;
    }

    bool closing() {
        wait(0, 400);
        if (r_.chance(90)) check(CheckKind::end);
        mend();
        if (r_.chance(50)) {
            wait(2400, 5400);
            if (r_.chance(80)) check(CheckKind::after);
        }
        wait(30, 600);
        if (r_.chance(70)) note(EventKind::bag_kept, std::monostate{});
        else if (r_.chance(50)) note(EventKind::discarded, facts::Discarded{ReturnReason::part_given});
        return true;
    }

    static constexpr std::int64_t pause_reasons = 7;
    test::Random r_;
    std::shared_ptr<const Protocol> protocol_;
    Component component_{};
    Instant now_{};
    Log log_;
};

}  // namespace

int main(int argc, char** argv) {
    if (argc < 5) {
        std::fputs("sessions N SEED FOLDER PROTOCOL...\n", stderr);
        return 2;
    }
    std::vector<std::shared_ptr<const Protocol>> protocols;
    for (int i = 4; i < argc; ++i) {
        const Result<Protocol> protocol = read_protocol(text_of(argv[i]));
        if (!protocol.ok()) {
            std::fprintf(stderr, "%s: %s\n", argv[i], protocol.error().problem.c_str());
            return 2;
        }
        protocols.push_back(std::make_shared<const Protocol>(protocol.value()));
    }
    const int count = std::atoi(argv[1]);
    const auto seed = static_cast<std::uint64_t>(std::atoll(argv[2]));
    for (int i = 0; i < count; ++i) {
        test::Random which(seed * 1'000'003 + static_cast<std::uint64_t>(i));
        // Of the protocols the first ones are used more often, so that some groups are small.
        std::size_t p = 0;
        while (p + 1 < protocols.size() && which.chance(40)) ++p;
        const Log log = Maker(which.next(), protocols[p]).make();
        char name[32];
        std::snprintf(name, sizeof name, "/%05d.log", i);
        std::FILE* file = std::fopen((std::string(argv[3]) + name).c_str(), "wb");
        if (!file) {
            std::fprintf(stderr, "%s cannot be written\n", argv[3]);
            return 2;
        }
        const std::string text = write_log(log);
        std::fwrite(text.data(), 1, text.size(), file);
        std::fclose(file);
    }
    return 0;
}
