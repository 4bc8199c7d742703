#include "core/session/reader.hpp"

namespace hangtime::session_reader {

std::string utc_text(Instant at, Precision precision) {
    std::string out = iso_text(at, WallClock());
    constexpr std::size_t minute = 16, second = 19;  // so many characters, up to there
    out.resize(precision == Precision::second ? second : minute);
    return out + "Z";
}

void write_clock(json::Writer& out, const WallClock& wall, json::Writer::Layout layout) {
    out.key("clock").begin_object(layout).integer("utc_offset_min", wall.first_offset().count / 60);
    if (wall.change_count() > 0) {
        out.key("changes").begin_list(layout);
        for (std::size_t i = 0; i < wall.change_count(); ++i)
            out.begin_object(json::Writer::Layout::along)
                .text("at", utc_text(wall.changes()[i].at, Precision::second))
                .integer("utc_offset_min", wall.changes()[i].offset.count / 60)
                .end_object();
        out.end_list();
    }
    out.end_object();
}

void write_time(json::Writer& out, std::string_view key, const std::optional<Instant>& at, const WallClock& wall) {
    if (at) out.text(key, iso_text(*at, wall));
}

}  // namespace hangtime::session_reader
