#include "core/protocol/compare.hpp"

#include "core/protocol/describe.hpp"

#include <algorithm>

namespace hangtime {

namespace {

const Rule* find(const std::vector<Rule>& rules, const std::string& path) {
    const auto at = std::find_if(rules.begin(), rules.end(), [&](const Rule& r) { return r.path == path; });
    return at == rules.end() ? nullptr : &*at;
}

}  // namespace

std::vector<Difference> compare(const Protocol& left, const Protocol& right) {
    const std::vector<Rule> ours = rules_of(left), theirs = rules_of(right);
    std::vector<Difference> out;
    for (const Rule& rule : ours) {
        const Rule* other = find(theirs, rule.path);
        if (!other) out.push_back({rule.path, rule.text, no_rule_text});
        else if (other->text != rule.text) out.push_back({rule.path, rule.text, other->text});
    }
    for (const Rule& rule : theirs)
        if (!find(ours, rule.path)) out.push_back({rule.path, no_rule_text, rule.text});
    return out;
}

}  // namespace hangtime
