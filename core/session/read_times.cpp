#include "core/protocol/fields.hpp"
#include "core/session/reader.hpp"

namespace hangtime::session_reader {

Stated read_stated(const json::Field& field, const WallClock& wall) {
    const std::string text = field.text(1, 40);
    if (!field.report().ok()) return {};
    const Result<Stated> out = read_time(text, wall, field.path());
    if (out.ok()) return out.value();
    field.report().fail(out.error().where, out.error().problem, out.error().accepted);
    return {};
}

WallClock read_clock(const json::Field& field) {
    constexpr std::int64_t most = 15 * 60;
    const json::Object o = field.object({"utc_offset_min", "changes"});
    WallClock wall(minutes(o.at("utc_offset_min").integer(-most, most)));
    const auto changes = o.find("changes");
    if (!changes) return wall;
    for (const json::Field& item : changes->list(0, WallClock::most_changes)) {
        const json::Object change = item.object({"at", "utc_offset_min"});
        const json::Field at = change.at("at");
        const Stated when = read_stated(at, WallClock());
        // An offset would have to be the old one or the new one; only Z cannot be misread.
        if (field.report().ok() && !at.text(1, 40).ends_with('Z'))
            at.fail("is not a time in UTC", "a time that ends in Z, such as 2026-10-25T01:00:00Z");
        const Seconds offset = minutes(change.at("utc_offset_min").integer(-most, most));
        if (field.report().ok() && offset == wall.offset_at(when.at))
            change.named("utc_offset_min").fail("is the offset that the clock has already", "another offset");
        if (field.report().ok() && !wall.add_change(when.at, offset))
            at.fail("is not later than the change before it", "changes in order");
    }
    return wall;
}

Times read_times(const json::Field& field, const WallClock& wall) {
    const json::Object o = field.object(
        {"issued_at", "left_storage_at", "thawed_at", "spiked_at", "start_at", "start_is"});
    Times out;
    const auto stated = [&](std::string_view key, std::optional<Stated>& into) {
        if (const auto f = o.find(key)) into = read_stated(*f, wall);
    };
    stated("issued_at", out.issued);
    stated("left_storage_at", out.left_storage);
    stated("thawed_at", out.thawed);
    stated("spiked_at", out.spiked);
    if (const auto f = o.find("start_at")) out.start = Start{read_stated(*f, wall), false};
    if (const auto f = o.find("start_is")) {
        constexpr std::array<std::string_view, 2> accepted = {"planned", "happened"};
        const bool happened = f->choice(accepted) == 1;
        if (out.start) out.start->happened = happened;
        else f->fail("is there, but start_at is not", "start_at beside it, or neither");
    }
    return out;
}

}  // namespace hangtime::session_reader
