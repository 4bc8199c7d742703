// Changing a protocol value by value: that nothing of the format is missing in the editor (held against the schema,
// which is written by hand), that every change goes through the reader, and that a refused one changes nothing.

#include "support.hpp"

#include "core/protocol/compare.hpp"
#include "core/protocol/edit.hpp"
#include "core/protocol/read.hpp"
#include "core/protocol/write.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>
#include <set>

using namespace hangtime;
using namespace hangtime::test;

namespace {

// "components.red_cells.limits[2]" -> "components.red_cells.limits[]", "sources.qs138" -> "sources.*"
std::string pattern(const std::string& path) {
    std::string out;
    for (std::size_t i = 0; i < path.size(); ++i) {
        out += path[i];
        if (path[i] == '[')
            while (i + 1 < path.size() && path[i + 1] != ']') ++i;
    }
    if (out.starts_with("sources.")) {
        const std::size_t end = out.find('.', 8);
        out = "sources.*" + (end == out.npos ? std::string() : out.substr(end));
    }
    return out;
}

std::string below(const std::string& path, const std::string& key) { return path.empty() ? key : path + "." + key; }

// Every leaf that the schema has, by walking its properties, items and references.
void leaves(const json::Value& schema, const json::Value& at, const std::string& path, std::set<std::string>& out) {
    if (const json::Value* ref = at.find("$ref"); ref && !at.find("properties")) {
        const std::string name = ref->text.substr(std::string("#/$defs/").size());
        const json::Value* found = schema.find("$defs")->find(name);
        REQUIRE(found);
        leaves(schema, *found, path, out);
        return;
    }
    if (const json::Value* properties = at.find("properties")) {
        for (std::size_t i = 0; i < properties->items.size(); ++i)
            leaves(schema, properties->items[i], below(path, properties->keys[i]), out);
    } else if (const json::Value* items = at.find("items")) {
        leaves(schema, *items, path + "[]", out);
    } else if (const json::Value* any = at.find("additionalProperties"); any && any->kind == json::Kind::object) {
        leaves(schema, *any, below(path, "*"), out);
    } else {
        out.insert(path);
    }
}

std::set<std::string> reachable(const ProtocolEdit& edit) {
    std::set<std::string> out;
    for (const EditGroup& group : edit.groups()) {
        for (const EditValue& value : group.values) out.insert(pattern(below(group.path, value.key)));
        if (!group.has_basis) continue;
        out.insert(pattern(below(group.path, "source")));
        out.insert(pattern(below(group.path, "grade")));
    }
    return out;
}

std::string told(const std::optional<Error>& error) {
    return error ? error->where + ": " + error->problem + "; accepted: " + error->accepted : "taken";
}

// The changes that set every value of a group to what it is.
std::vector<EditChange> as_it_is(const EditGroup& group) {
    std::vector<EditChange> out;
    for (const EditValue& value : group.values)
        if (!value.more) out.push_back({value.key, value.text});
    if (!group.has_basis) return out;
    out.push_back({"grade", group.grade});
    out.push_back({"source", group.source.empty() ? std::nullopt : std::optional(group.source)});
    return out;
}

}  // namespace

TEST_CASE("every key of the protocol schema is reachable in the editor") {
    const json::Value schema = tree_of(file_text("core/protocol/protocol.schema.json"));
    std::set<std::string> wanted;
    leaves(schema, schema, "", wanted);
    REQUIRE(wanted.size() > 300);
    // In each single protocol, whatever optional groups it has: an editor that only shows what is there could not add.
    for (const std::string& name : demo_names("protocols")) {
        INFO(name);
        const std::set<std::string> found = reachable(ProtocolEdit(shipped_protocol(name)));
        std::vector<std::string> missing, unknown;
        std::set_difference(wanted.begin(), wanted.end(), found.begin(), found.end(), std::back_inserter(missing));
        std::set_difference(found.begin(), found.end(), wanted.begin(), wanted.end(), std::back_inserter(unknown));
        for (const std::string& path : missing) UNSCOPED_INFO("missing: " << path);
        for (const std::string& path : unknown) UNSCOPED_INFO("not in the schema: " << path);
        CHECK(missing.empty());
        CHECK(unknown.empty());
    }
}

TEST_CASE("every value of every shipped protocol can be set to what it is, and nothing changes") {
    for (const std::string& name : demo_names("protocols")) {
        const Protocol p = shipped_protocol(name);
        ProtocolEdit edit(p);
        std::vector<EditGroup> groups = edit.groups();
        int there = 0;
        for (const EditGroup& group : groups) {
            if (!group.there || there++ % static_cast<int>(in_steps(7)) != 0) continue;
            INFO(name << ": " << group.path);
            CHECK(told(edit.set(group.path, as_it_is(group))) == "taken");
            CHECK(edit.protocol() == p);
        }
        CHECK(there > 100);
    }
}

TEST_CASE("every number of a protocol is held to the reader's bounds in the editor") {
    ProtocolEdit edit(shipped_protocol("children-by-weight"));
    const std::string before = write_protocol(edit.protocol());
    const std::vector<EditGroup> groups = edit.groups();
    int numbers = 0;
    for (const EditGroup& group : groups)
        for (const EditValue& value : group.values) {
            if (!group.there || value.asked.kind != json::Asked::Kind::number || !value.text) continue;
            ++numbers;
            INFO(group.path << " " << value.key);
            CHECK((value.key == "hangtime_protocol" || !edit_unit(value.key).empty()));
            for (const std::int64_t beyond : {value.asked.least - 1, value.asked.most + 1}) {
                std::vector<EditChange> changes = as_it_is(group);
                for (EditChange& change : changes)
                    if (change.key == value.key) change.text = json::decimal_text(beyond, value.asked.places);
                const auto error = edit.set(group.path, changes);
                REQUIRE(error);
                CHECK(error->where == below(group.path, value.key));
                CHECK(error->accepted.starts_with(accepted_text(value.asked)));
            }
        }
    CHECK(numbers > 100);
    CHECK(write_protocol(edit.protocol()) == before);
}

TEST_CASE("a value of a protocol is set with its source and its grade, or not at all") {
    ProtocolEdit edit(shipped_protocol("general-ward"));
    const std::string hang = "components.red_cells.limits[1]";
    REQUIRE(edit.find(hang));
    CHECK(edit.find(hang)->find("kind")->text == "hang");
    CHECK(edit.find(hang)->find("within_min")->asked.most == 7200);
    const Protocol before = edit.protocol();

    // Published values need a source: alone it is refused, with the place and what would be accepted.
    CHECK(told(edit.set(hang, {{"within_min", "20"}, {"grade", "published"}})) ==
          hang + ".source: is missing: the grade is published; accepted: the key of one of the file's sources");
    CHECK(edit.protocol() == before);
    CHECK(told(edit.set(hang, {{"within_min", "20"}, {"grade", "published"}, {"source", "nhssc"}})) == "taken");
    const auto differences = compare(before, edit.protocol());
    REQUIRE(differences.size() == 1);
    CHECK(differences[0].path == "components.red_cells.limits.hang.issued");
    CHECK(differences[0].right == "20 min");
    CHECK(edit.find(hang)->source == "nhssc");

    // What contradicts another rule is refused as well.
    const Protocol taken = edit.protocol();
    for (const auto& [key, text] : {std::pair{"within_min", "0"}, {"within_min", "1e2"}, {"within_min", ".5"},
                                    {"within_min", "20 min"}, {"kind", "hang_by"}, {"within", "20"}, {"from", "started"}}) {
        INFO(key << " = " << text);
        const auto error = edit.set(hang, {{key, text}});
        REQUIRE(error);
        CHECK(error->where == hang + "." + key);
        CHECK_FALSE(error->accepted.empty());
        CHECK(edit.protocol() == taken);
    }
    const auto error = edit.set("components.red_cells.usual", {{"least_min", "200"}, {"most_min", "100"}});
    REQUIRE(error);
    CHECK(error->where.starts_with("components.red_cells.usual"));
    CHECK(edit.protocol() == taken);
}

TEST_CASE("groups of a protocol are added and left out, and the reader has the last word") {
    ProtocolEdit edit(shipped_protocol("removal-clock"));
    const Protocol before = edit.protocol();
    const EditGroup* slow = edit.find("components.red_cells.slow_stage");
    REQUIRE(slow);
    CHECK_FALSE(slow->there);
    REQUIRE(slow->find("first_rate_ml_per_h"));
    CHECK(slow->find("first_rate_ml_per_h")->asked.places == 2);
    CHECK_FALSE(slow->find("first_rate_ml_per_h")->needed);
    CHECK(slow->find("lasts_min")->needed);
    CHECK(told(edit.set(slow->path, {{"lasts_min", "15"}, {"grade", "common_practice"}})) ==
          "components.red_cells.slow_stage: has no rate; accepted: first_rate_ml_per_h, first_rate_ml_per_kg_per_h or both");
    CHECK(edit.protocol() == before);
    CHECK(told(edit.set("components.red_cells.slow_stage",
                        {{"first_rate_ml_per_h", "50"}, {"lasts_min", "15"}, {"grade", "common_practice"}})) == "taken");
    REQUIRE(edit.protocol().rules(Component::red_cells).slow);
    CHECK(edit.protocol().rules(Component::red_cells).slow->rate == ml_per_h(50));
    CHECK(told(edit.remove("components.red_cells.slow_stage")) == "taken");
    CHECK(edit.protocol() == before);

    CHECK(told(edit.remove("components.red_cells.usual")) ==
          "components.red_cells.usual: is missing; accepted: the key \"usual\"");
    CHECK(told(edit.remove("nothing.there")) == "nothing.there: is not there; accepted: what stands in this protocol");

    // One more item of a list, and a list within a group.
    const std::size_t n = edit.protocol().rules(Component::plasma).limits.size();
    const std::string next = "components.plasma.limits[" + std::to_string(n) + "]";
    REQUIRE(edit.find(next));
    CHECK_FALSE(edit.find(next)->there);
    // Which events there are to count from depends on the kind.
    const EditGroup start = edit.with(next, {{"kind", "start"}}), set = edit.with(next, {{"kind", "change_set"}});
    CHECK(start.find("from")->asked.words == std::vector<std::string>{"issued", "left_storage", "thawed", "spiked"});
    CHECK(set.find("from")->asked.words == std::vector<std::string>{"spiked", "started"});
    CHECK(told(edit.set(next, {{"kind", "start"}, {"from", "spiked"}, {"within_min", "30"}, {"grade", "common_practice"}})) ==
          "taken");
    CHECK(edit.protocol().rules(Component::plasma).limits.size() == n + 1);

    const EditGroup* saline = edit.find("saline");
    REQUIRE((saline && saline->find("bags_ml[0]") && !saline->values.back().text && saline->values.back().more));
    CHECK(told(edit.set("saline", {{"bags_ml[0]", "50"}, {"bags_ml[1]", std::nullopt}, {"bags_ml[2]", "500"}})) == "taken");
    CHECK(edit.protocol().saline_bags == std::vector<Volume>{ml(50), ml(500)});
    CHECK(told(edit.set("saline", {{"bags_ml[0]", std::nullopt}})) ==
          "saline.bags_ml: has 0 items; accepted: a list of 1 to 4 items");
    CHECK(edit.protocol().saline_bags.size() == 2);
}

TEST_CASE("a part that a protocol leaves out is taken over from another, with the sources that it names") {
    const Protocol whole = shipped_protocol("general-ward");
    Protocol bare = shipped_protocol("half-hour-checks");
    bare.match.reset();
    bare.session.reset();
    ProtocolEdit edit(bare);
    const auto& out = edit.parts_left_out();
    REQUIRE(std::find(out.begin(), out.end(), "match") != out.end());
    CHECK(std::find(out.begin(), out.end(), "session") != out.end());
    CHECK_FALSE(edit.find("match.people"));
    CHECK(told(edit.take_over("match", whole, "match")) == "taken");
    REQUIRE(edit.protocol().match);
    const auto cites = [](const Protocol& p, const Basis& basis) {
        return basis.source == Basis::no_source ? std::string("none") : p.sources[basis.source].title;
    };
    CHECK(edit.protocol().match->people.value == whole.match->people.value);
    CHECK(cites(edit.protocol(), edit.protocol().match->stale.basis) == cites(whole, whole.match->stale.basis));
    CHECK(cites(edit.protocol(), edit.protocol().match->compatibility.plasma.basis) ==
          cites(whole, whole.match->compatibility.plasma.basis));
    for (const Difference& d : compare(edit.protocol(), whole)) {
        INFO(d.path);
        CHECK_FALSE(d.path.starts_with("match."));
    }
    // A key that stands for another source here gets a free one.
    Protocol other = whole;
    for (Source& source : other.sources) source.title += " (another edition)";
    ProtocolEdit again(whole);
    CHECK(told(again.take_over("match", other, "match")) == "taken");
    CHECK(cites(again.protocol(), again.protocol().match->compatibility.whole_blood.basis) ==
          cites(other, other.match->compatibility.whole_blood.basis));
    CHECK(told(edit.take_over("match", bare, "match")) ==
          "match: is not there; accepted: what stands in the other protocol");
}

TEST_CASE("a source is added to a protocol, and one that is cited cannot go") {
    ProtocolEdit edit(shipped_protocol("general-ward"));
    const std::size_t n = edit.protocol().sources.size();
    CHECK(told(edit.add_source("local", "Local policy of this ward", "2026", "kept on the ward")) == "taken");
    CHECK(edit.protocol().sources.size() == n + 1);
    CHECK(told(edit.add_source("local", "x", "2026", "y")) == "sources.local: is there already; accepted: a key that is free");
    CHECK(told(edit.set("closing", {{"source", "local"}, {"grade", "published"}})) == "taken");
    const auto error = edit.remove("sources.local");
    REQUIRE(error);
    CHECK(error->where == "closing.source");
    CHECK(told(edit.set("closing", {{"source", std::nullopt}, {"grade", "common_practice"}})) == "taken");
    CHECK(told(edit.remove("sources.local")) == "taken");
    CHECK(edit.protocol() == shipped_protocol("general-ward"));
    // The words of the head are values like the others.
    CHECK(told(edit.set("", {{"title", "Ward 12"}, {"revised", "2026-11-25"}, {"adopted", "true"}, {"id", "ward-12"}})) == "taken");
    CHECK(edit.protocol().adopted);
    CHECK(told(edit.set("", {{"id", "Ward 12"}})) ==
          "id: \"Ward 12\" is not an id; accepted: letters a to z, digits and -, beginning with a letter");
    CHECK(told(edit.set("", {{"adopted", "yes"}})) == "adopted: \"yes\" is neither true nor false; accepted: true or false");
}
