/// Bag and tag on the screens of a session: scans and keys, what differs, what fits, what is kept and what
/// never is. Numbers are under issuers that are set aside for tests, their check characters from Python's
/// stdnum.

#include "tests/web/ward.hpp"
#include "web/platform/store_twin.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using platform::Key;
using test::at;
using test::Ward;
namespace twin = platform::twin;

namespace {

constexpr const char* bag_number = "=A99992600048178";   // A9999 26 000481, check I
constexpr const char* other_number = "=A99992600049174"; // A9999 26 000491, check E
constexpr const char* product = "=<E4306V00";
constexpr const char* other_half = "=<E4306VB0";
constexpr const char* group_a_positive = "=%6200";
constexpr const char* group_o_negative = "=%9500";
constexpr const char* expiry = "&>0260741340";  // 15 March 2026, 13:40
constexpr const char* earlier = "&>0260731800"; // 14 March 2026, 18:00

struct Bag : Ward {
    explicit Bag(int width = 1280, int height = 800, float scale = 1)
        : Ward(at(13, 30), width, height, scale) {}

    void until_here() {
        open_new();
        order();
        get_ready();
        call();
        go_to(at(13, 40));
        issue("316", "0481");
    }
    void scans(const std::vector<const char*>& all) {
        for (const char* text : all) {
            scan(text);
            wait(400);
        }
    }
    void side(const std::string& which) {
        key(Key::home); // the choice stands on top
        act("side." + which);
    }
    void read_both() {
        scans({bag_number, product, group_a_positive, expiry});
        side("tag");
        scans({bag_number, product, group_a_positive, expiry});
    }
    void say_of_person(const char* group) {
        pick("tag.group", group);
        pick("tag.infant", "no");
        pick("tag.transplant", "no");
        pick("tag.special", "none on the order or tag");
    }
    const facts::Issued& issued() {
        const Event* found = nullptr;
        for (const Event& e : only().log.events())
            if (e.kind == EventKind::issued && !only().log.is_void(e.number))
                found = &e;
        REQUIRE(found != nullptr);
        return facts_of<facts::Issued>(*found);
    }
    // The program itself, without what it holds elsewhere.
    std::string memory() { return std::string(reinterpret_cast<const char*>(&app()), sizeof(App)); }
    // What is kept: the store and the log.
    std::string kept() {
        std::string out;
        for (const auto& [key, text] : twin::disk())
            out += text + '\n';
        for (const auto& c : app().desk().cases())
            out += app().desk().file_of(*c) + '\n';
        return out;
    }
    // All that leaves the program, and all that it shows: the list, the DOM, title, print, store, log.
    std::string everything() {
        app().before_print();
        std::string out = all_text();
        for (const auto& m : shown().mirror)
            out += m.label + '\n' + m.value + '\n';
        out += shown().title + '\n' + shown().print_html + '\n' + shown().announced + '\n';
        return out + kept();
    }
};

bool holds_some_of(const std::string& everything, std::string_view text, std::size_t in_a_row = 5) {
    for (std::size_t i = 0; i + in_a_row <= text.size(); ++i)
        if (everything.find(text.substr(i, in_a_row)) != std::string::npos)
            return true;
    return false;
}

} // namespace

TEST_CASE("the issue of a bag is filled in by scanning its label", "[bag]") {
    Bag b;
    b.open_new();
    b.order();
    b.get_ready();
    b.call();
    b.go_to(at(13, 40));
    b.act("tab.unit");
    b.scans({bag_number}); // the bag is here: its entry opens by itself
    REQUIRE(b.has("act.digits"));
    CHECK(b.says("act.digits", "0481"));
    b.scans({expiry, product, group_a_positive});
    CHECK(b.says("act.expires", "tomorrow"));
    CHECK(b.says("act.expires_time", "13:40"));
    CHECK(b.label("act.scan").find("Read on the bag: group") != std::string::npos);
    b.write_png("bag-issue");
    b.number("act.volume", "316");
    b.confirm();
    REQUIRE(b.session().phase == Phase::here);
    CHECK(std::string(b.session().digits->data(), 4) == "0481");
    CHECK(b.session().state.unit.expires->at == at(13, 40) + minutes(24 * 60));
    // What was read is still there when the match begins; the tag is read for itself.
    b.act("tab.match");
    CHECK(b.value("unit.field.0") == "cannot tell: the tag is not read");
    CHECK(holds_some_of(b.memory(), "A999926000481"));     // in memory, for the match
    CHECK_FALSE(holds_some_of(b.kept(), "A999926000481")); // and in no record
}

TEST_CASE("a bag that has expired is noted as that, and does not hang", "[bag]") {
    Bag b;
    b.open_new();
    b.order();
    b.get_ready();
    b.call();
    b.go_to(at(13, 40));
    b.act("tab.unit");
    b.scans({bag_number, "&>0260710800"}); // 12 March
    CHECK(b.says("act.expires", "it has passed"));
    b.number("act.volume", "316");
    b.confirm();
    REQUIRE(b.session().state.unit.expires.has_value());
    CHECK(b.session().state.unit.expires->at == at(8, 0) - minutes(2 * 24 * 60));
    CHECK_FALSE(b.has("do.match")); // nothing is offered that goes on with it
    b.act("tab.match");
    b.match();
    b.act("tab.unit");
    b.act("unit.spike");
    CHECK(b.session().phase == Phase::here);
    CHECK(b.label("refused").starts_with("Not noted: "));
}

TEST_CASE("bag and tag are read by scan, and the record gets the last four and the expiry, no more",
          "[bag]") {
    Bag b;
    b.until_here();
    b.act("tab.match");
    b.read_both();
    CHECK(b.label("read.verdict").starts_with("Bag and tag say the same"));
    CHECK(b.value("read.field.0") == "the same");
    CHECK(b.label("read.confirm") == "The label says so: ends in 0481, expires 2026-03-15 13:40");
    b.write_png("bag-same");
    b.act("read.confirm");
    CHECK(b.label("read.confirmed") == "Confirmed against the label.");
    CHECK(b.issued().expires->at == at(13, 40) + minutes(24 * 60));
    CHECK_FALSE(b.issued().expires_far);
    b.say_of_person("A, RhD positive");
    CHECK(b.label("compatible.verdict") == "Compatible The same group.");
    b.write_png("bag-compatible");
    b.act("read.back");
    CHECK(b.value("unit.field.1") == "the same");
    b.match();
    // The match is over: nothing of the number is left, anywhere.
    b.wait(100);
    b.frame();
    CHECK_FALSE(holds_some_of(b.everything(), "A999926000481"));
    CHECK_FALSE(holds_some_of(b.memory(), "A999926000481"));
    CHECK_FALSE(holds_some_of(b.everything(), "E4306V00"));
    CHECK(b.everything().find("0481") != std::string::npos); // its last four
    const Session& s = b.session();
    CHECK(s.item(Item::bag_looked_at).state == ItemState::confirmed); // by the last step of the match
}

TEST_CASE("one wrong character on the tag is shown at its place, and the unit is closed", "[bag]") {
    for (const bool half : {false, true}) {
        Bag b;
        b.until_here();
        b.act("tab.match");
        b.scans({bag_number, product, group_a_positive});
        b.side("tag");
        b.scans({half ? bag_number : other_number, half ? other_half : product, group_a_positive});
        CHECK(b.value(half ? "read.field.1" : "read.field.0") ==
              (half ? "differs at character 7: bag 0, tag B" : "differs at character 12: bag 8, tag 9"));
        CHECK(b.label("read.verdict").starts_with("Bag and tag differ Do not give this unit."));
        b.write_png(half ? "bag-other-half" : "bag-differs");
        b.act("read.back");
        CHECK_FALSE(b.has("match.same")); // nothing leads on from there
        CHECK(b.has("match.stopped"));
        b.act("match.read");
        b.act("read.close_unit");
        CHECK(b.session().match.standing == MatchStanding::differed);
        CHECK_FALSE(b.has("do.hang"));
        b.act("tab.unit");
        CHECK_FALSE(b.has("unit.read"));
        b.act("unit.spike");
        CHECK(b.session().phase == Phase::here);
        b.frame();
        CHECK_FALSE(holds_some_of(b.everything(), "A999926000481"));
    }
}

TEST_CASE("a bag that is found to differ after the last step is closed all the same", "[bag]") {
    Bag b;
    b.until_here();
    b.match();
    b.act("tab.match");
    b.scans({bag_number});
    b.side("tag");
    b.scans({other_number});
    b.act("read.close_unit");
    CHECK(b.session().match.standing == MatchStanding::differed);
}

TEST_CASE("what cannot be scanned is typed sign by sign, and mixes with what was", "[bag]") {
    Bag b;
    b.until_here();
    b.act("tab.match");
    b.scans({bag_number, product});
    b.side("tag");
    b.act("type.number");
    for (const char c : std::string_view("A999926000481"))
        b.type({&c, 1});
    CHECK(b.value("code.typed") == "A9999 26 000481 [_]");
    b.write_png("bag-typing");
    b.type("1"); // the letter I is not the digit 1
    b.key(Key::enter);
    CHECK(b.label("code.refused").find("One character is wrong") != std::string::npos);
    b.key(Key::backspace);
    b.type("i");
    CHECK(b.value("code.typed") == "A9999 26 000481 [_]"); // and a small letter is nothing at all
    b.type("I");
    b.key(Key::enter);
    CHECK(b.value("read.field.0") == "the same");
    b.act("type.product");
    b.type("E4306V0");
    b.key(Key::enter);
    CHECK(b.has("code.refused"));
    b.type("0");
    b.act("key.done");
    CHECK(b.value("read.field.1") == "the same");
    b.act("type.group");
    b.choose("O, RhD negative");
    b.act("type.expiry");
    b.type("2603141800");
    b.write_png("bag-typing-expiry");
    b.key(Key::enter);
    CHECK(b.label("read.earliest").find("2026-03-14 18:00") != std::string::npos);
    b.side("bag");
    b.act("type.group");
    b.choose("A, RhD positive");
    CHECK(b.value("read.field.2").starts_with("differs"));
    CHECK(b.label("read.verdict").starts_with("Bag and tag differ"));
}

TEST_CASE("the earliest expiry wins, also one that was written by hand on a bag that was scanned", "[bag]") {
    Bag b;
    b.until_here();
    b.act("tab.match");
    b.scans({bag_number, expiry});
    b.side("tag");
    b.scans({bag_number, earlier});
    CHECK(b.label("read.confirm").ends_with("2026-03-14 18:00"));
    b.act("read.confirm");
    CHECK(b.issued().expires->at == at(18, 0));
    b.side("bag");
    b.act("type.expiry");
    b.type("2603141600");
    b.key(Key::enter);
    CHECK_FALSE(b.has("read.confirmed")); // that one has to be confirmed anew
    b.act("read.confirm");
    CHECK(b.issued().expires->at == at(16, 0));
    b.scans({expiry});
    CHECK(b.has("read.confirmed")); // a later one changes nothing
    CHECK(b.issued().expires->at == at(16, 0));
}

TEST_CASE("another bag scanned as the same one is not taken", "[bag]") {
    Bag b;
    b.until_here();
    b.act("tab.unit");
    b.scans({bag_number, other_number});
    CHECK(b.label("read.said").find("said something else before") != std::string::npos);
    CHECK(b.value("read.field.0") == "cannot tell: the tag is not read");
    b.act("read.clear");
    b.scans({other_number});
    // The issue was noted for a bag with other last digits.
    CHECK(b.label("read.other_digits").find("0481") != std::string::npos);
}

TEST_CASE("with anything missing the screen says cannot tell, and what clashes leaves one way only",
          "[bag]") {
    Bag b;
    b.until_here();
    b.act("tab.match");
    CHECK(b.label("compatible.verdict").starts_with("Cannot tell"));
    b.scans({group_a_positive}); // the tag is still to be looked at: that closes nothing
    CHECK(b.label("compatible.verdict")
              .starts_with("Cannot tell: do not hang it yet The group of the recipient"));
    b.act("read.back");
    CHECK(b.has("match.first"));
    CHECK_FALSE(b.has("match.stopped"));
    b.act("match.read");
    b.pick("tag.group", "no group is stated"); // and then only what fits everybody
    b.key(Key::escape);
    CHECK(b.label("compatible.verdict").starts_with("Not compatible While no group is known, only group O."));
    b.act("read.clear");
    b.say_of_person("O, RhD negative");
    CHECK(b.label("compatible.verdict").starts_with("Cannot tell: do not hang it yet The group of the unit"));
    b.scans({group_a_positive});
    CHECK(b.label("compatible.verdict").starts_with("Not compatible The recipient has antibodies"));
    b.act("read.back");
    CHECK_FALSE(b.has("match.same"));
    CHECK(b.has("match.differs"));
    b.act("match.read");
    b.act("read.clear");
    b.scans({group_o_negative});
    CHECK(b.label("compatible.verdict").starts_with("Compatible"));
    b.pick("tag.infant", "not recorded");
    CHECK(b.label("compatible.verdict").starts_with("Cannot tell"));
    b.pick("tag.infant", "yes");
    CHECK(b.label("compatible.verdict").find("laboratory") != std::string::npos);
    b.pick("tag.infant", "no");
    b.pick("tag.group", "two results differ");
    CHECK(b.label("compatible.verdict").starts_with("Cannot tell"));
    b.pick("tag.group", "O, RhD negative");
    // Special requirements: ticked, and compared with the label.
    b.pick("tag.special", "some, as below");
    CHECK(b.label("compatible.verdict").starts_with("Cannot tell")); // none is named
    b.pick("tag.irradiated", "asked for, label not read");
    CHECK(b.label("compatible.verdict").starts_with("Cannot tell"));
    b.pick("tag.irradiated", "asked for, not on the label");
    CHECK(b.label("compatible.verdict").starts_with("Not compatible A special requirement"));
    b.pick("tag.irradiated", "asked for, on the label");
    CHECK(b.label("compatible.verdict").starts_with("Compatible"));
    CHECK(b.label("compatible.requirement.0") == "Irradiated: on the label.");
}

TEST_CASE("a wristband scanned at the bedside leaves no byte anywhere", "[bag]") {
    for (const std::string_view text :
         {"KX73190445", "&#AB10KX73190445", "8018010731904455667784", "=#AB19470613"}) {
        INFO(text);
        Bag b;
        b.open_new();
        b.order();
        b.get_ready();
        b.call();
        b.go_to(at(13, 40));
        b.act("tab.unit");
        const std::size_t records = twin::disk().size();
        for (const char* where : {"call", "entry", "unit", "match", "typing", "form"}) {
            INFO(where);
            if (where == std::string_view("entry"))
                b.act("act.digits");
            if (where == std::string_view("unit")) {
                b.key(Key::escape);
                b.number("act.volume", "316");
                b.pick("act.expires", "a week or more away");
                b.number("act.digits", "0481");
                b.confirm();
                b.act("tab.unit");
            }
            if (where == std::string_view("match")) {
                b.act("read.back");
                b.act("tab.match");
            }
            if (where == std::string_view("typing"))
                b.act("type.number");
            if (where == std::string_view("form")) {
                b.key(Key::escape);
                b.act("tag.group");
            }
            b.scan(text);
            CHECK_FALSE(holds_some_of(b.everything(), text));
            CHECK_FALSE(holds_some_of(b.memory(), text));
            const std::string said = b.has("act.scan") ? b.label("act.scan") : b.label("read.said");
            CHECK(said.find("ot bag data, not kept") != std::string::npos);
            b.wait(400);
            CHECK_FALSE(holds_some_of(b.everything(), text));
        }
        CHECK(b.value("code.typed").empty());
        CHECK(twin::disk().size() == records + 1); // the issue, noted by hand
    }
}

TEST_CASE("a tube's or a record's bar code is no bag, also on screen", "[bag]") {
    Bag b;
    b.until_here();
    b.act("tab.match");
    b.scans({"=A99992600048107"}); // the number of this bag, with the flags of something else
    CHECK(b.label("read.said").find("tube, a sample or a record") != std::string::npos);
    CHECK_FALSE(holds_some_of(b.memory(), "A999926000481"));
    CHECK(b.value("read.field.0") == "cannot tell: neither is read");
}

TEST_CASE("a scan where nobody asks for a bag is dropped unread", "[bag]") {
    Bag b;
    b.until_here();
    b.act("tab.run");
    b.scans({bag_number, group_a_positive});
    CHECK(b.label("scan").starts_with("That was a scan."));
    b.act("tab.match");
    CHECK_FALSE(b.has("unit.field.0"));
    CHECK_FALSE(holds_some_of(b.everything(), "A999926000481"));
}

TEST_CASE("what was read is gone when the session is left, and when nobody has looked for five minutes",
          "[bag]") {
    for (const int way : {0, 1, 2, 3}) {
        Bag b;
        b.until_here();
        b.act("tab.match");
        b.scans({bag_number, product});
        REQUIRE(b.value("read.field.0") == "cannot tell: the tag is not read");
        CHECK(holds_some_of(b.memory(), "A999926000481")); // this search finds what is there
        if (way == 0) {
            b.act("read.back");
            b.act("sessions");
        } else if (way == 1) {
            b.act("type.number");
            b.type("A9999");
            twin::advance_ms(5 * 60'000 + 1); // hidden: no frame in between
            b.app().woken();
        } else if (way == 2) {
            twin::advance_ms(4 * 60'000); // not so long
            b.frame();
            CHECK(b.value("read.field.0") == "cannot tell: the tag is not read");
            twin::advance_ms(4 * 60'000); // seen in between
            b.frame();
            CHECK(b.value("read.field.0") == "cannot tell: the tag is not read");
            b.act("read.back");
            b.match();
        } else {
            twin::advance_ms(5 * 60'000);
            b.app().awake();
        }
        b.frame();
        CHECK_FALSE(holds_some_of(b.everything(), "A999926000481"));
        CHECK_FALSE(holds_some_of(b.memory(), "A999926000481"));
        CHECK_FALSE(b.has("unit.field.0"));
        CHECK_FALSE(b.has("read.field.0"));
    }
}

TEST_CASE("an interruption and a person who cannot say who they are, on screen and in the log", "[bag]") {
    Bag b;
    b.until_here();
    b.settle_groups();
    // Asked for itself, and each time anew.
    CHECK(b.label("match.who") == "Can the person say who they are?");
    CHECK_FALSE(b.has("match.same"));
    b.act("match.says.yes");
    b.act("match.same");
    CHECK(b.session().can_say == true);
    b.act("match.same");
    b.act("match.interrupted");
    CHECK_FALSE(b.session().can_say.has_value());
    b.act("match.says.yes");
    CHECK(b.session().match.standing == MatchStanding::interrupted);
    CHECK(b.label("match.count").starts_with("Step 1 of"));
    CHECK(b.label("match.step").find("ask the person to say") != std::string::npos);
    // Each step is a record of its own, with its time.
    int noted = 0;
    for (const Event& e : b.only().log.events())
        noted += e.kind == EventKind::match_noted;
    CHECK(noted == 3);
    for (int i = 0; i < 30 && !b.has("match.roles"); ++i)
        b.act("match.same");
    CHECK(b.label("match.roles").find("swapped roles") != std::string::npos);
    b.write_png("bag-roles");
    // Somebody else's rules for those who cannot say it.
    Bag c;
    c.open_new();
    c.order();
    c.act("tab.ready");
    for (int i = 0; i < 20 && c.has("do.get_ready"); ++i) {
        c.act("do.get_ready");
        if (c.has("act.units"))
            c.number("act.units", "1");
        if (c.has("act.checker"))
            c.pick("act.checker", "nurse");
        if (c.has("act.risk")) {
            c.pick("act.risk", "no");
            c.pick("act.can_report", "no");
        }
        if (c.has("act.confirm"))
            c.confirm();
    }
    c.call();
    c.go_to(at(13, 40));
    c.issue("316", "0481");
    // Who cannot report symptoms may well say who they are, and the other way round.
    c.settle_groups();
    c.act("match.says.no");
    CHECK(c.label("match.step").find("ask the person to say") == std::string::npos);
    c.act("match.same");
    CHECK(c.session().can_say == false);
    c.act("match.interrupted");
    c.act("match.says.yes");
    CHECK(c.label("match.step").find("ask the person to say") != std::string::npos);
}

TEST_CASE("bag and tag fit every screen, by day and by night", "[bag]") {
    struct Size {
        int width, height;
        float scale;
    };
    for (const Size& s : {Size{390, 844, 1}, {768, 1024, 1}, {1280, 800, 1}, {2048, 1536, 2}})
        for (const bool night : {false, true}) {
            Bag b(s.width, s.height, s.scale);
            b.until_here();
            if (night)
                b.act("page.ground");
            b.act("tab.match");
            b.scans({bag_number, product, group_a_positive, expiry});
            b.side("tag");
            b.scans({other_number, product, group_a_positive, expiry});
            const std::string name = std::to_string(s.width) + (night ? "-night" : "-day");
            b.write_png("bag-" + name);
            b.act("type.number");
            b.type("A9999");
            for (const ui::Node& n : b.app().ui().nodes().now())
                if (n.item != 0) {
                    INFO(n.id);
                    CHECK(n.box.h >= 44 * s.scale - 0.5f);
                    CHECK(n.box.w >= 44 * s.scale - 0.5f);
                }
            b.write_png("bag-typing-" + name);
            b.key(Key::escape);
            b.act("tag.group");
            b.write_png("bag-groups-" + name);
            b.key(Key::escape);
            b.act("read.back");
            b.write_png("bag-match-" + name);
        }
}
