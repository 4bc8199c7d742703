/// Groups and requirements on screen: what is settled before the bag hangs, by whom, and what nothing settles.

#include "tests/web/ward.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using test::at;
using test::Ward;

namespace {

struct Tag : Ward {
    explicit Tag(int width = 1280, int height = 800) : Ward(at(13, 30), width, height) {
        open_new();
        order();
        get_ready();
        call();
        go_to(at(13, 40));
        issue("316", "0481");
    }
    void read_bag(const char* group) {
        for (const char* text : {"=A99992600048178", "=<E4306V00", group}) {
            scan(text);
            wait(400);
        }
    }
    void say(const char* group, const char* infant = "no", const char* special = "none on the order or tag") {
        pick("tag.group", group);
        pick("tag.infant", infant);
        pick("tag.transplant", "no");
        pick("tag.special", special);
    }
    void hang_is_refused(std::string_view why) {
        act("tab.unit");
        act("unit.spike");
        CHECK(session().phase == Phase::here);
        CHECK(label("refused").find(why) != std::string::npos);
    }
    const facts::GroupsJudged& noted() {
        const Event* found = nullptr;
        for (const Event& e : only().log.events())
            if (e.kind == EventKind::groups_judged && !only().log.is_void(e.number))
                found = &e;
        REQUIRE(found != nullptr);
        return facts_of<facts::GroupsJudged>(*found);
    }
};

} // namespace

TEST_CASE("a bag does not hang before groups and requirements are settled, and that comes before the match", "[groups]") {
    Tag t;
    CHECK(t.label("match.title") == "First: do groups and requirements fit?");
    CHECK_FALSE(t.has("match.same"));
    CHECK_FALSE(t.has("match.says.yes"));
    t.write_png("groups-first");
    t.hang_is_refused("match"); // neither is there; the match is said first
    t.act("do.settle_groups");
    t.read_bag("=%6200");
    CHECK(t.label("compatible.verdict").starts_with("Cannot tell"));
    t.say("A, RhD positive");
    t.write_png("groups-answer");
    t.act("groups.note");
    CHECK(t.noted().because[0] == CompatibleReason::identical);
    CHECK(t.noted().by == GroupsBy::answer);
    CHECK(t.session().groups->settled());
    REQUIRE(t.has("match.says.yes"));
    t.write_png("match-who");
    t.match();
    t.act("do.hang");
    CHECK(t.session().phase == Phase::hung);
}

TEST_CASE("what cannot be told is settled by the laboratory's instruction, and that is in log, sheet and list", "[groups]") {
    Tag t;
    t.act("match.read");
    t.read_bag("=%5100");
    t.say("A, RhD positive", "yes");
    CHECK(t.label("compatible.verdict").find("Under four months") != std::string::npos);
    CHECK_FALSE(t.has("groups.note"));
    CHECK_FALSE(t.has("groups.waive")); // nobody but the laboratory says which group
    t.act("groups.laboratory");
    CHECK(t.noted().by == GroupsBy::laboratory);
    CHECK(t.session().item(Item::groups).number == 0);
    CHECK(state_of(t.session(), Item::groups, at(13, 41)) == ItemState::waived);
    t.match();
    t.act("do.hang");
    CHECK(t.session().phase == Phase::hung);
    t.app().before_print();
    const std::string& paper = t.shown().print_html;
    CHECK(paper.find("The laboratory&#39;s instruction is followed.") != std::string::npos);
    CHECK(paper.find("Under four months") != std::string::npos);
}

TEST_CASE("a requirement that is not on the label needs a waiver with reason and role before it hangs", "[groups]") {
    Tag t;
    t.act("match.read");
    t.read_bag("=%6200");
    t.say("A, RhD positive", "no", "some, as below");
    t.pick("tag.irradiated", "asked for, not on the label");
    CHECK(t.label("compatible.verdict").find("A special requirement is not on the label") != std::string::npos);
    t.act("groups.waive");
    CHECK((t.find("groups.waiver")->state & ui::State::disabled) != 0);
    t.act("groups.reason.2");
    CHECK((t.find("groups.waiver")->state & ui::State::disabled) != 0);
    t.act("groups.role.3");
    t.write_png("groups-waiver");
    t.act("groups.waiver");
    CHECK(t.noted().by == GroupsBy::waiver);
    CHECK(t.noted().reason == WaiverReason::clinician_decides);
    CHECK(t.noted().role == Role::prescriber);
    CHECK(t.noted().unmet.has(Requirement::irradiated));
    t.match();
    t.act("do.hang");
    CHECK(t.session().phase == Phase::hung);
    t.app().before_print();
    const std::string& paper = t.shown().print_html;
    CHECK(paper.find("Waived: the clinician decides so, by prescriber.") != std::string::npos);
    CHECK(paper.find("Not on the label: irradiated.") != std::string::npos);
}

TEST_CASE("red cells that clash have one way only, and nothing on the screen settles them", "[groups]") {
    Tag t;
    t.act("match.read");
    t.read_bag("=%6200");
    t.say("O, RhD positive");
    CHECK(t.label("compatible.verdict").starts_with("Not compatible"));
    for (const char* id : {"groups.note", "groups.laboratory", "groups.waive"})
        CHECK_FALSE(t.has(id));
    CHECK(t.label("groups.never").find("Nothing waives that answer.") != std::string::npos);
    t.write_png("groups-clash");
    t.act("groups.close_unit");
    CHECK(t.session().match.standing == MatchStanding::differed);
    t.act("tab.unit");
    t.act("unit.spike");
    CHECK(t.session().phase == Phase::here);
}

TEST_CASE("groups and the question who it is, on a tablet and at night", "[groups]") {
    for (const bool night : {false, true}) {
        Tag t(768, 1024);
        if (night)
            t.act("page.ground");
        const std::string suffix = night ? "-768-night" : "-768";
        t.write_png("groups-first" + suffix);
        t.act("match.read");
        t.read_bag("=%6200");
        t.write_png("groups-read" + suffix);
        t.say("A, RhD positive");
        t.show("groups.note");
        t.write_png("groups-answer" + suffix);
        t.act("groups.note");
        t.write_png("match-who" + suffix);
        t.act("match.says.yes");
        t.write_png("match-step" + suffix);
    }
}
