#pragma once

/// The rehearsals that the page carries, and reading one of somebody's own.

#include "core/rehearse/scenario.hpp"

#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::rehearse {

using Shared = std::shared_ptr<const Scenario>;

class Library {
public:
    /// `protocols` are those in use; the page's examples stand behind them. Reads what the page carries, once.
    void open(const std::vector<Protocol>& protocols);

    const std::vector<Shared>& all() const { return all_; }
    /// What could not be read of the page's own; empty: everything could.
    const std::string& trouble() const { return trouble_; }
    Shared by_number(std::int32_t number) const;

    /// A rehearsal out of a file, checked as the command checks it.
    Result<Shared> read(std::string_view text) const;
    /// The same of one that was put together here.
    Result<Shared> check(const Scenario& scenario) const { return read(write_scenario(scenario)); }

private:
    std::shared_ptr<const Protocol> rules_of(std::string_view id) const;

    bool opened_ = false;
    std::vector<std::shared_ptr<const Protocol>> rules_;
    std::vector<Shared> all_;
    std::string trouble_;
};

} // namespace hangtime::rehearse
