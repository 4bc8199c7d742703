#pragma once

/// A typed way through a tree: every value is taken together with its path, so that an error says where
/// ("components.red_cells.limits[2].within_min") and what would be accepted there.
///
/// The first error is kept in the Report and everything taken after it is a harmless default: a reader reads
/// straight through, asks the report at the end and returns nothing where there was an error.

#include "core/json/survey.hpp"
#include "core/json/value.hpp"
#include "core/result.hpp"

#include <array>
#include <cstdint>
#include <initializer_list>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::json {

class Report {
public:
    /// `survey` is told what is asked for, and must outlive the reading; null: nobody wants to know.
    explicit Report(Survey* survey = nullptr) : survey_(survey) {}

    bool ok() const { return !error_; }
    const Error& error() const { return *error_; }  // only where not ok
    void fail(std::string where, std::string problem, std::string accepted) {
        if (!error_) error_ = Error{std::move(where), std::move(problem), std::move(accepted)};
    }
    Survey* survey() const { return survey_; }

    /// From here on keys that are not known are passed over: what an older version of this program has written and
    /// checked is read by what of it is still meant.
    void pass_over_unknown(bool yes) { passes_over_ = yes; }
    bool passes_over_unknown() const { return passes_over_; }

private:
    std::optional<Error> error_;
    Survey* survey_;
    bool passes_over_ = false;
};

class Object;

/// A value and where it stands. A field that was missing or wrong is `absent`; taking anything from it gives
/// the least or first thing that is accepted, and the report has the error.
class Field {
public:
    Field(Report& report, const Value* value, std::string path)
        : report_(&report), value_(value), path_(std::move(path)) {}

    bool absent() const { return value_ == nullptr; }
    bool is_null() const { return value_ && value_->kind == Kind::null; }
    const std::string& path() const { return path_; }
    Report& report() const { return *report_; }
    void fail(std::string problem, std::string accepted) const {
        report_->fail(path_, std::move(problem), std::move(accepted));
    }

    /// Between `least` and `most` bytes of text without control characters.
    std::string text(std::size_t least, std::size_t most) const;
    /// A text that `is_key`.
    std::string key() const;

    /// A decimal with at most `places` of them, exactly, as a whole number of its last place: 50.5 with one
    /// place is 505. The bounds are in the same unit. Exponents are refused.
    std::int64_t decimal(int places, std::int64_t least, std::int64_t most) const;
    std::int64_t integer(std::int64_t least, std::int64_t most) const { return decimal(0, least, most); }

    bool boolean() const;

    /// The index of one of the accepted words.
    std::size_t choice(std::span<const std::string_view> accepted) const;
    template <class Enum, std::size_t n>
    Enum choice(const std::array<std::string_view, n>& accepted) const {
        return static_cast<Enum>(choice(std::span<const std::string_view>(accepted)));
    }

    /// The items of a list of between `least` and `most`.
    std::vector<Field> list(std::size_t least, std::size_t most) const;

    /// An object that has no other keys than the accepted ones; which of them must be there is asked later.
    Object object(std::initializer_list<std::string_view> accepted) const;

    /// A member of an object, before it is known which keys go with it: then `object` is still to be asked.
    std::optional<Field> member(std::string_view key) const;

    /// The members of an object whose keys are free (letters a to z, digits and -), up to `most`.
    struct Named;
    std::vector<Named> members(std::size_t most) const;

private:
    bool is(Kind kind) const;  // reports where it is not
    void asks(Asked::Kind kind, int places, std::int64_t least, std::int64_t most,
              std::span<const std::string_view> words = {}) const;

    Report* report_;
    const Value* value_;
    std::string path_;
};

struct Field::Named {
    std::string key;
    Field field;
};

class Object {
public:
    Object(Field field) : field_(std::move(field)), value_(nullptr) {}
    Object(Field field, const Value* value) : field_(std::move(field)), value_(value) {}

    bool has(std::string_view key) const { return value_ && value_->find(key); }
    /// A member that must be there: reported where it is not.
    Field at(std::string_view key) const;
    /// A member that may be there.
    std::optional<Field> find(std::string_view key) const;
    /// The member's field for an error, whether it is there or not.
    Field named(std::string_view key) const;
    const Field& field() const { return field_; }

private:
    Field field_;
    const Value* value_;
};

/// The decimal that `n` of the last of `places` stands for: (505, 1) is "50.5", (500, 1) is "50".
std::string decimal_text(std::int64_t n, int places);

/// "a", "a or b", "a, b or c".
std::string listed(std::span<const std::string_view> words);

/// True for 1 to 40 of a to z, 0 to 9 and "-", beginning with a letter: protocol ids and source keys.
bool is_key(std::string_view text);

}  // namespace hangtime::json
