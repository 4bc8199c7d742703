#pragma once

/// Errors are values: the product is built without exceptions.

#include <cassert>
#include <string>
#include <utility>
#include <variant>

namespace hangtime {

/// What was wrong with an input: where (a JSON path such as "unit.bag_ml", an option, or "line 3"), what it
/// was, and what would be accepted there. All three are for a person to read.
struct Error {
    std::string where;
    std::string problem;
    std::string accepted;
};

/// A value or the reason why there is none. Ask `ok()` before taking either.
template <class T>
class Result {
public:
    Result(T value) : held_(std::in_place_index<0>, std::move(value)) {}
    Result(Error error) : held_(std::in_place_index<1>, std::move(error)) {}

    bool ok() const { return held_.index() == 0; }
    explicit operator bool() const { return ok(); }

    const T& value() const { assert(ok()); return *std::get_if<0>(&held_); }
    T& value() { assert(ok()); return *std::get_if<0>(&held_); }
    const Error& error() const { assert(!ok()); return *std::get_if<1>(&held_); }

private:
    std::variant<T, Error> held_;
};

/// Success, or the reason for none.
struct Done {};

}  // namespace hangtime
