#pragma once

/// Changing a protocol value by value. What there is to change is derived from the reader itself (json::Survey),
/// so that no key of a file is ever missing here, and every change goes through the same reader: a change that it
/// refuses changes nothing.
///
/// Use in this order: `ProtocolEdit edit(protocol)`; look through `groups()`; `set` the values of one of them.

#include "core/json/survey.hpp"
#include "core/json/value.hpp"
#include "core/protocol/protocol.hpp"
#include "core/result.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime {

/// A value of a group.
struct EditValue {
    std::string key;                  // below the group's path: "within_min", of a list's item "bags_ml[1]"
    json::Asked asked;                // a text, a number, a truth or a choice
    std::optional<std::string> text;  // as it stands in the file; none: it is left out
    bool needed = false;              // it cannot be left out
    bool more = false;                // the place for one more item of a list

    friend bool operator==(const EditValue&, const EditValue&) = default;
};

/// What belongs together in a file: values that share a source and a grade, or the words of the file's head.
struct EditGroup {
    std::string path;                 // "components.red_cells.limits[2]"; "" is the file's head
    std::vector<EditValue> values;
    bool has_basis = false;           // its values say where they are from
    std::string source, grade;        // as in the file; empty: none
    bool there = true;                // false: the file leaves it out
    bool can_go = false;              // it may be left out (whether it may in this file, the reader says)

    const EditValue* find(std::string_view key) const {
        for (const EditValue& value : values)
            if (value.key == key) return &value;
        return nullptr;
    }
};

/// A value to be set; no text: it is to be left out. Keys are those of EditValue, "source" and "grade". Of a list all
/// items are given together, those without a text go.
struct EditChange {
    std::string key;
    std::optional<std::string> text;
};

class ProtocolEdit {
public:
    explicit ProtocolEdit(const Protocol& protocol);

    const Protocol& protocol() const { return protocol_; }
    /// In the order of the file; groups that it leaves out stand where they would stand in it. What stands inside a
    /// part that is left out as a whole is not there.
    const std::vector<EditGroup>& groups() const { return groups_; }
    const EditGroup* find(std::string_view path) const;
    /// Parts with groups of their own that the file leaves out: "match", "observations.rule_sets[2]". They can be taken
    /// over from a protocol that has them.
    const std::vector<std::string>& parts_left_out() const { return parts_left_out_; }

    /// The group as it would be with these changes, whether the reader takes them or not: which choices there are can
    /// depend on another value.
    EditGroup with(const std::string& path, const std::vector<EditChange>& changes) const;

    /// Sets values of one group; one that was left out comes to be there. None: done. An error says where, what and
    /// what would be accepted, and nothing has changed.
    std::optional<Error> set(const std::string& path, const std::vector<EditChange>& changes);
    /// Leaves a group or a part out.
    std::optional<Error> remove(const std::string& path);
    /// Sets `path` to what `other` has at `from`, with the sources that it names.
    std::optional<Error> take_over(const std::string& path, const Protocol& other, const std::string& from);
    /// One more source; `key` by json::is_key.
    std::optional<Error> add_source(const std::string& key, const std::string& title, const std::string& year,
                                    const std::string& place);

private:
    std::optional<Error> take(json::Value tree);
    void look();

    Protocol protocol_;
    json::Value tree_;
    std::vector<EditGroup> groups_;
    std::vector<std::string> parts_left_out_;
};

/// The unit of a value by its key, as people write it: "within_min" -> "min", "rate_ml_per_kg_per_h" -> "mL/kg/h".
std::string_view edit_unit(std::string_view key);

/// What would be accepted for a value: "a whole number from 1 to 1440", "pump or gravity".
std::string accepted_text(const json::Asked& asked);

}  // namespace hangtime
