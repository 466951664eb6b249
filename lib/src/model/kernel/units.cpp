#include "model/kernel/units.hpp"

#include <array>
#include <cmath>
#include <utility>

#include "planform/error.hpp"

namespace planform {

namespace {

/// Millimetres per unit. Inch and foot: the international ones, 25.4 mm and 12 inches exactly
/// (international yard and pound agreement of 1959; from memory).
constexpr std::array<std::pair<std::string_view, double>, 6> units = {
    {{"mm", 1.0}, {"cm", 10.0}, {"m", 1000.0}, {"um", 0.001}, {"inch", 25.4}, {"foot", 304.8}}};

}  // namespace

const std::vector<std::string>& unit_names() {
    static const std::vector<std::string> names = [] {
        std::vector<std::string> words;
        for (const auto& unit : units) words.emplace_back(unit.first);
        return words;
    }();
    return names;
}

double model::unit_factor(std::string_view word) {
    for (const auto& [name, factor] : units) {
        if (name == word) return factor;
    }
    std::string valid;
    for (const std::string& name : unit_names()) valid += (valid.empty() ? "" : ", ") + name;
    throw GeometryError(ErrorKind::unknown_option,
                        "unknown unit '" + std::string(word) + "'; use one of: " + valid);
}

std::string model::unit_word(double factor, const std::string& own_word) {
    for (const auto& [name, known] : units) {
        if (std::abs(factor - known) <= 1e-9 * known) return std::string(name);
    }
    return own_word;
}

void model::check(const LoadOptions& options) {
    if (!options.unit.empty()) unit_factor(options.unit);
    if (!std::isfinite(options.scale) || options.scale <= 0.0) {
        throw GeometryError(
            ErrorKind::invalid_argument,
            "scale is " + std::to_string(options.scale) + "; it must be a finite number above 0");
    }
}

double model::unitless_factor(const LoadOptions& options) {
    return (options.unit.empty() ? 1.0 : unit_factor(options.unit)) * options.scale;
}

}  // namespace planform
