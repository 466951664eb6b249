#pragma once

/// A value of a JSON document that knows its place in it, so that errors can name it.

#include <initializer_list>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "planform/geometry.hpp"

namespace planform::write {

/// Every function throws GeometryError (json_invalid) with the place ("$.profiles[0].outer") when
/// the value is not what is asked for.
class JsonCursor {
  public:
    JsonCursor(const nlohmann::json& value, std::string place)
        : value_(value), place_(std::move(place)) {}

    [[noreturn]] void refuse(const std::string& expected) const;

    /// An object that has all of `required`, maybe some of `optional`, and nothing else.
    void require_keys(std::initializer_list<std::string_view> required,
                      std::initializer_list<std::string_view> optional = {}) const;
    bool has(std::string_view key) const;
    JsonCursor at(std::string_view key) const;
    /// The elements of an array.
    std::vector<JsonCursor> elements() const;

    bool is_null() const { return value_.is_null(); }
    double number() const;
    int integer() const;
    std::string string() const;
    std::vector<double> numbers() const;
    Point2 point2() const;
    Point3 point3() const;
    /// An object of any content, as text.
    std::string object_text() const;

  private:
    std::vector<double> numbers(std::size_t count) const;

    const nlohmann::json& value_;
    std::string place_;
};

/// Parses the text; throws GeometryError (json_invalid) with line and column for what is no JSON,
/// keys that stand twice, nesting deeper or text longer than any profile set needs.
nlohmann::json parse_json(std::string_view text);

/// The caller's own metadata on one line, keys sorted; throws GeometryError (json_invalid) for what
/// is no JSON object.
std::string data_text(std::string_view text);

}  // namespace planform::write
