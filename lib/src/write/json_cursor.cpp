#include "write/json_cursor.hpp"

#include <algorithm>
#include <limits>
#include <set>

#include "planform/error.hpp"

namespace planform::write {

namespace {

/// The schema nests 7 deep; a document that nests deeper is none of ours.
constexpr int deepest_nesting = 16;
/// Text for about five million curves; more would fill the memory before anyone saw an error.
constexpr std::size_t longest_text = std::size_t{1} << 29;

[[noreturn]] void refuse_text(const std::string& reason) {
    throw GeometryError(ErrorKind::json_invalid, "not a profile set in JSON: " + reason);
}

/// The parser's own message without its number.
std::string reason_of(const nlohmann::json::exception& error) {
    const std::string message = error.what();
    const std::size_t end = message.find("] ");
    return end == std::string::npos ? message : message.substr(end + 2);
}

/// Watches the parser: counts the nesting and the keys of the objects that are open.
class Guard {
  public:
    bool operator()(int depth, nlohmann::json::parse_event_t event, const nlohmann::json& parsed) {
        using Event = nlohmann::json::parse_event_t;
        if (depth > deepest_nesting) {
            refuse_text("it nests deeper than " + std::to_string(deepest_nesting) + " levels");
        }
        if (event == Event::object_start) {
            keys_.emplace_back();
        } else if (event == Event::object_end) {
            keys_.pop_back();
        } else if (event == Event::key && !keys_.back().insert(parsed).second) {
            refuse_text("the key " + parsed.dump() + " stands twice in one object");
        }
        return true;
    }

  private:
    std::vector<std::set<nlohmann::json>> keys_;
};

}  // namespace

nlohmann::json parse_json(std::string_view text) {
    if (text.size() > longest_text) {
        refuse_text("it is longer than " + std::to_string(longest_text) + " bytes");
    }
    try {
        return nlohmann::json::parse(text.begin(), text.end(), Guard());
    } catch (const nlohmann::json::exception& error) {
        refuse_text(reason_of(error));
    }
}

void JsonCursor::refuse(const std::string& expected) const {
    throw GeometryError(ErrorKind::json_invalid,
                        "not a profile set in JSON: at " + place_ + ": " + expected);
}

void JsonCursor::require_keys(std::initializer_list<std::string_view> required,
                              std::initializer_list<std::string_view> optional) const {
    if (!value_.is_object()) refuse("expected an object");
    for (const std::string_view key : required) {
        if (!has(key)) refuse("the key \"" + std::string(key) + "\" is missing");
    }
    const auto in = [](std::initializer_list<std::string_view> keys, const std::string& key) {
        return std::find(keys.begin(), keys.end(), key) != keys.end();
    };
    for (const auto& [key, value] : value_.items()) {
        if (!in(required, key) && !in(optional, key)) {
            refuse("the key " + nlohmann::json(key).dump() + " is unknown");
        }
    }
}

bool JsonCursor::has(std::string_view key) const { return value_.contains(key); }

JsonCursor JsonCursor::at(std::string_view key) const {
    return {value_.at(key), place_ + "." + std::string(key)};
}

std::vector<JsonCursor> JsonCursor::elements() const {
    if (!value_.is_array()) refuse("expected an array");
    std::vector<JsonCursor> result;
    result.reserve(value_.size());
    for (std::size_t i = 0; i < value_.size(); ++i) {
        result.emplace_back(value_[i], place_ + "[" + std::to_string(i) + "]");
    }
    return result;
}

double JsonCursor::number() const {
    if (!value_.is_number()) refuse("expected a number");
    return value_.get<double>();
}

int JsonCursor::integer() const {
    using Limits = std::numeric_limits<int>;
    const bool fits = value_.is_number_unsigned()
                          ? value_.get<std::uint64_t>() <= std::uint64_t{Limits::max()}
                          : value_.is_number_integer() &&
                                value_.get<std::int64_t>() >= std::int64_t{Limits::min()};
    if (!fits) refuse("expected a whole number of moderate size");
    return value_.get<int>();
}

std::string JsonCursor::string() const {
    if (!value_.is_string()) refuse("expected a string");
    return value_.get<std::string>();
}

std::vector<double> JsonCursor::numbers() const {
    if (!value_.is_array()) refuse("expected an array of numbers");
    std::vector<double> result;
    result.reserve(value_.size());
    for (const auto& element : value_) {
        if (!element.is_number()) refuse("expected an array of numbers");
        result.push_back(element.get<double>());
    }
    return result;
}

std::vector<double> JsonCursor::numbers(std::size_t count) const {
    const std::vector<double> result = numbers();
    if (result.size() != count) {
        refuse("expected " + std::to_string(count) + " numbers, found " +
               std::to_string(result.size()));
    }
    return result;
}

Point2 JsonCursor::point2() const { return Point2(numbers(2).data()); }

Point3 JsonCursor::point3() const { return Point3(numbers(3).data()); }

std::string JsonCursor::object_text() const {
    if (!value_.is_object()) refuse("expected an object");
    return value_.dump();
}

std::string data_text(std::string_view text) {
    const nlohmann::json document = parse_json(text);
    return JsonCursor(document, "data").object_text();
}

}  // namespace planform::write
