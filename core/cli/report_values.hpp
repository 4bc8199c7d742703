#pragma once

/// The values of a report, each written the same way wherever it stands; see report_json.hpp for their forms.
/// Only report_json.cpp includes this.

#include "core/json/write.hpp"
#include "core/protocol/protocol.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/session/read.hpp"
#include "core/words/figure.hpp"
#include "core/words/format.hpp"

#include <optional>
#include <string_view>

namespace hangtime::cli {

class ReportValues {
public:
    ReportValues(const Protocol& protocol, const Request& request, const Reckoning& reckoning);

protected:
    using Layout = json::Writer::Layout;

    void time(std::string_view key, Instant at);
    void time(std::string_view key, const std::optional<Instant>& at);
    void volume(std::string_view key, Volume v);
    void rate(std::string_view key, Rate r);
    void ratio(std::string_view key, const RateRatio& r);
    void ratio(std::string_view key, const std::optional<RateRatio>& r);
    void mass(std::string_view key, const std::optional<Mass>& m);
    void sum(std::string_view key, const Sum& s);
    void source(const Basis& basis);
    void source(const Basis& basis, bool from_protocol); // null for what follows from the order or the device

    const Protocol& protocol_;
    const Request& request_;
    const Reckoning& r_;
    DayClock day_;
    json::Writer out_{};
};

}  // namespace hangtime::cli
