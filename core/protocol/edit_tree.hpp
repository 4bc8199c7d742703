#pragma once

/// Trees of values that are changed by path. For core/protocol/edit.cpp only. Paths are those of core/json/field.hpp:
/// "components.red_cells.limits[2]"; "" is the whole tree.

#include "core/json/value.hpp"

#include <functional>
#include <string>
#include <string_view>

namespace hangtime::edit_tree {

/// "a.b" of "a" and "b"; "b" of "" and "b".
std::string below(std::string_view path, std::string_view key);

json::Value object();
json::Value list();

/// Null where nothing stands.
json::Value* find(json::Value& tree, std::string_view path);
const json::Value* find(const json::Value& tree, std::string_view path);

/// What stands there; where nothing does, an empty object in its place, if all that is around it is there and it is a
/// list's next item at most. Null: it cannot stand there.
json::Value* make(json::Value& tree, std::string_view path);

/// Takes out what stands there; false where nothing does.
bool remove(json::Value& tree, std::string_view path);

json::Value* member(json::Value& object, std::string_view key);
void put(json::Value& object, std::string_view key, json::Value value);  // in its place, or at the end
void drop(json::Value& object, std::string_view key);

/// Every text under a key "source", at any depth.
void each_source(json::Value& tree, const std::function<void(std::string&)>& with);

bool same(const json::Value& a, const json::Value& b);

/// A JSON number without an exponent.
bool is_number(std::string_view text);

}  // namespace hangtime::edit_tree
