// Whatever happens to a file, reading it ends in a value or an error, and nothing is read half: truncated
// anywhere, every key renamed, left out or doubled, every value null, every number negated or raised.

#include "support.hpp"

#include "core/protocol/read.hpp"
#include "core/protocol/write.hpp"

#include <catch2/catch_test_macros.hpp>

#include <cstdint>
#include <functional>
#include <optional>
#include <sstream>
#include <type_traits>

using namespace hangtime;
using namespace hangtime::test;

namespace {

struct File {
    std::string name, text;
    std::optional<Protocol> protocol;  // a transfusion's; none for a protocol
};

std::vector<File> files() {
    std::vector<File> out;
    // Two protocols that have every key between them; four would take twice the time and find no more.
    for (const std::string name : {"general-ward", "children-by-weight"})
        out.push_back({name, file_text("demo-data/protocols/" + name + ".json"), std::nullopt});
    for (const std::string& name : demo_names("transfusions"))
        out.push_back({name, file_text("demo-data/transfusions/" + name + ".json"),
                       shipped_protocol(demo_request(name).protocol)});
    return out;
}

std::optional<Error> error_in(const File& file, const std::string& text) {
    if (!file.protocol) {
        const auto read = read_protocol(text);
        return read.ok() ? std::nullopt : std::optional(read.error());
    }
    if (const auto id = read_protocol_id(text); !id.ok()) return id.error();
    const auto read = read_request(text, *file.protocol);
    return read.ok() ? std::nullopt : std::optional(read.error());
}

void refuses(const File& file, const std::string& path, const std::string& text) {
    const auto error = error_in(file, text);
    const bool told = error && !error->where.empty() && !error->problem.empty() && !error->accepted.empty();
    if (!told) FAIL_CHECK(file.name << ", " << path << (error ? ": not told why" : ": read"));
}

// Every file, with each of its values changed in turn where `change` can.
void all_refused(const std::function<bool(json::Value& parent, std::size_t index)>& change) {
    for (const File& file : files()) {
        const std::size_t changes =
            each_change(tree_of(file.text), change, [&](const std::string& path, const std::string& text) {
                refuses(file, path, text);
            }, in_steps(7));
        CHECK(changes > 0);
    }
}

class Shown {
public:
    template <class T>
    Shown& operator<<(const T& value) {
        if constexpr (std::is_enum_v<T>) out_ << static_cast<int>(value);
        else out_ << value;
        out_ << ' ';
        return *this;
    }
    Shown& operator<<(const std::optional<Stated>& t) {
        return t ? *this << t->at.utc << t->precision : *this << '-';
    }
    std::string text() const { return out_.str(); }

private:
    std::ostringstream out_;
};

// What a file means, in a form that shows any change.
std::string meaning(const File& file, const std::string& text) {
    if (!file.protocol) return write_protocol(read_protocol(text).value());
    const auto read = read_request(text, *file.protocol);
    REQUIRE(read.ok());
    const Request& r = read.value();
    const State& s = r.state;
    Shown out;
    out << r.protocol << r.now << r.bag_digits << (r.object ? static_cast<int>(*r.object) : -1)
        << (r.not_covered ? static_cast<int>(*r.not_covered) : -1) << r.wall.first_offset().count;
    for (std::size_t i = 0; i < r.wall.change_count(); ++i)
        out << r.wall.changes()[i].at.utc << r.wall.changes()[i].offset.count;
    out << (s.unit.component ? static_cast<int>(*s.unit.component) : -1)
        << (s.unit.bag ? s.unit.bag->units : -1) << s.unit.expires;
    out << (s.order.dose ? s.order.dose->units : -1)
        << (s.order.dose_per_kg ? s.order.dose_per_kg->tenths_of_ml : -1) << s.order.pace
        << s.order.duration.count << s.order.rate.units_per_s << s.order.rate_per_kg.units_per_s
        << (s.order.counts_from ? static_cast<int>(*s.order.counts_from) : -1)
        << (s.order.most ? s.order.most->units_per_s : -1);
    out << s.recipient.weight.grams << s.recipient.weight_estimated << s.recipient.overload_risk
        << s.recipient.can_report << s.recipient.gauge;
    out << s.line.holds.units << s.line.primed_with << s.line.cleared << s.line.lost.units;
    out << s.device.kind << s.device.step.units_per_s << s.device.most.units_per_s << s.device.drops.per_ml;
    out << s.times.issued << s.times.left_storage << s.times.thawed << s.times.spiked;
    if (s.times.start) out << std::optional(s.times.start->when) << s.times.start->happened;
    for (const CheckDone& done : s.checks_done) out << done.kind << done.index << std::optional(done.when);
    return out.text();
}

}  // namespace

TEST_CASE("a file that is cut off anywhere is refused") {
    for (const File& file : files()) {
        const std::size_t whole = file.text.find_last_of('}');
        // At every byte of each transfusion and of one protocol; at some of the other, which is as large.
        const std::size_t step = file.name == "children-by-weight" ? 37 : in_steps(11);
        for (std::size_t n = 0; n <= whole; n += step) {
            const auto error = error_in(file, file.text.substr(0, n));
            if (!error || error->problem != "the text ends too early") {
                FAIL(file.name << ", first " << n << " bytes: " << (error ? error->problem : "read"));
            }
        }
        CHECK_FALSE(error_in(file, file.text.substr(0, whole + 1)));
    }
}

TEST_CASE("damage to any byte does no harm") {
    std::uint32_t random = 1;
    const auto next = [&](std::uint32_t most) {
        random = random * 1'664'525u + 1'013'904'223u;
        return (random >> 8) % most;
    };
    std::size_t refused = 0, tried = 0;
    for (const File& file : files()) {
        for (int round = 0; round < 500; ++round) {
            std::string text = file.text;
            for (std::uint32_t n = next(3) + 1; n > 0; --n) {
                const std::size_t at = next(static_cast<std::uint32_t>(text.size()));
                switch (next(3)) {
                case 0: text[at] = static_cast<char>(next(256)); break;
                case 1: text.erase(at, next(8) + 1); break;
                default: text.insert(at, 1, "{}[]\",:0.-e\\"[next(12)]); break;
                }
            }
            ++tried;
            const auto error = error_in(file, text);
            if (error) {
                ++refused;
                CHECK_FALSE((error->where.empty() || error->accepted.empty()));
            }
        }
    }
    CHECK(refused > tried / 2);
}

TEST_CASE("every key renamed is refused") {
    all_refused([](json::Value& parent, std::size_t i) {
        if (parent.kind != json::Kind::object) return false;
        parent.keys[i] += "_x";
        return true;
    });
}

TEST_CASE("every key given twice is refused") {
    all_refused([](json::Value& parent, std::size_t i) {
        if (parent.kind != json::Kind::object) return false;
        parent.keys.push_back(parent.keys[i]);
        parent.items.push_back(json::Value(parent.items[i]));
        return true;
    });
}

TEST_CASE("every value replaced by null is refused: none is passed over") {
    all_refused([](json::Value& parent, std::size_t i) {
        parent.items[i] = {};
        return true;
    });
}

TEST_CASE("every value in quotes or out of them is refused") {
    all_refused([](json::Value& parent, std::size_t i) {
        json::Value& value = parent.items[i];
        switch (value.kind) {
        case json::Kind::number: value.kind = json::Kind::text; return true;
        case json::Kind::boolean:
            value.kind = json::Kind::text;
            value.text = value.truth ? "true" : "false";
            return true;
        case json::Kind::text:
            value.kind = json::Kind::number;
            value.text = "1";
            return true;
        case json::Kind::null:
        case json::Kind::list:
        case json::Kind::object: break;
        }
        return false;
    });
}

TEST_CASE("every number negated is refused, but for the clock's offset and zero") {
    all_refused([](json::Value& parent, std::size_t i) {
        json::Value& value = parent.items[i];
        if (value.kind != json::Kind::number || value.text == "0") return false;
        const bool member = parent.kind == json::Kind::object;
        if (member && parent.keys[i] == "utc_offset_min") return false;
        value.text = "-" + value.text;
        return true;
    });
}

TEST_CASE("every number raised is refused or makes a difference: none is passed over") {
    for (const File& file : files()) {
        const std::string before = meaning(file, file.text);
        const std::size_t changed =
            each_change(tree_of(file.text),
                    [](json::Value& parent, std::size_t i) {
                        json::Value& value = parent.items[i];
                        if (value.kind != json::Kind::number) return false;
                        const bool last_is_9 = value.text.back() == '9';
                        value.text.back() = last_is_9 ? '8' : static_cast<char>(value.text.back() + 1);
                        return true;
                    },
                    [&](const std::string& path, const std::string& text) {
                        if (error_in(file, text)) return;
                        if (meaning(file, text) == before) FAIL_CHECK(file.name << ", " << path);
                    }, in_steps(7));
        CHECK(changed > 1);
    }
}

TEST_CASE("every member left out is refused or makes a difference") {
    for (const File& file : files()) {
        const std::string before = meaning(file, file.text);
        each_change(tree_of(file.text),
                    [](json::Value& parent, std::size_t i) {
                        if (parent.kind != json::Kind::object) return false;
                        parent.keys.erase(parent.keys.begin() + static_cast<std::ptrdiff_t>(i));
                        parent.items.erase(parent.items.begin() + static_cast<std::ptrdiff_t>(i));
                        return true;
                    },
                    [&](const std::string& path, const std::string& text) {
                        if (error_in(file, text)) return;
                        if (meaning(file, text) != before) return;
                        // A transfusion may spell out what goes without saying.
                        INFO(file.name << ", " << path);
                        CHECK(file.protocol.has_value());
                        CHECK((path.starts_with("line") || path.starts_with("device") ||
                               path == "times.start_is" || path == "recipient.weight_is" ||
                               path.ends_with(".index")));
                    }, in_steps(7));
    }
}
