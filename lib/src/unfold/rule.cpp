#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <string>

#include "planform/error.hpp"
#include "planform/unfold.hpp"

namespace planform {

namespace {

/// Rows count for a sheet whose thickness differs by no more than this share.
constexpr double same_row_share = 0.01;
/// Radii and angles nearer than this to a row's are the row's (mm, rad).
constexpr double same_row = 1e-6;
/// DIN 6935: no correction for bends of less (opening angles above 165 degrees).
constexpr double least_corrected = 15.0 * pi / 180.0;
/// Angles are read in degrees: the limit holds whatever their rounding.
constexpr double angle_rounding = 1e-9;

std::string number(double value) {
    char buffer[32];
    std::snprintf(buffer, sizeof buffer, "%.6g", value);
    return buffer;
}

void check_bend(double thickness, double inside_radius, double angle) {
    if (!(thickness > 0.0) || !std::isfinite(thickness))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the thickness of a bend must be positive and finite (mm)");
    if (!(inside_radius >= 0.0) || !std::isfinite(inside_radius))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the inside radius of a bend must be 0 or more and finite (mm)");
    if (!(angle > 0.0) || !(angle <= 2.0 * pi + angle_rounding))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the angle of a bend must lie above 0 and be at most a full turn");
}

/// Where the outsides of the walls meet, from the line where the bend begins.
double outside_setback(double thickness, double inside_radius, double angle) {
    const double outside = inside_radius + thickness;
    return angle <= 0.5 * pi + angle_rounding ? outside * std::tan(0.5 * angle) : outside;
}

double by_din_6935(double thickness, double inside_radius, double angle) {
    if (angle < least_corrected - angle_rounding)
        return 2.0 * outside_setback(thickness, inside_radius, angle);
    const double k = din_6935_factor(inside_radius / thickness);
    return angle * (inside_radius + 0.5 * k * thickness);
}

double allowance_of(const BendTableRow& row) {
    if (row.allowance) return *row.allowance;
    return 2.0 * outside_setback(row.thickness, row.inside_radius, row.angle) - *row.deduction;
}

[[noreturn]] void lacks(double thickness, double inside_radius, double angle, const char* what) {
    throw GeometryError(ErrorKind::no_bend_rule,
                        "the bend table has no rows about thickness " + number(thickness) +
                            " mm, inside radius " + number(inside_radius) + " mm, angle " +
                            number(angle * 180.0 / pi) + " degrees (" + what +
                            "); add rows at both sides of it, or unfold by a K factor");
}

/// The value at `at` on the polyline through the points; nothing outside.
std::optional<double> interpolated(const std::map<double, double>& points, double at) {
    const auto above = points.lower_bound(at - same_row);
    if (above == points.end()) return std::nullopt;
    if (std::abs(above->first - at) <= same_row) return above->second;
    if (above == points.begin()) return std::nullopt;
    const auto below = std::prev(above);
    const double share = (at - below->first) / (above->first - below->first);
    return below->second + share * (above->second - below->second);
}

double by_table(const std::vector<BendTableRow>& table, double thickness, double inside_radius,
                double angle) {
    // By radius, then angle. A bend of no angle takes no length, whatever the table says.
    std::map<double, std::map<double, double>> radii;
    for (const BendTableRow& row : table) {
        check_bend(row.thickness, row.inside_radius, row.angle);
        if (row.allowance.has_value() == row.deduction.has_value())
            throw GeometryError(ErrorKind::invalid_argument,
                                "a row of a bend table has either an allowance or a deduction");
        const double value = allowance_of(row);
        if (!std::isfinite(value) || !(value > 0.0))
            throw GeometryError(ErrorKind::invalid_argument,
                                "a row of the bend table (thickness " + number(row.thickness) +
                                    ", inside radius " + number(row.inside_radius) + ", angle " +
                                    number(row.angle * 180.0 / pi) +
                                    " degrees) leaves the bend no length");
        if (std::abs(row.thickness - thickness) > same_row_share * thickness) continue;
        auto& angles = radii[row.inside_radius];
        angles[0.0] = 0.0;
        angles[row.angle] = value;
    }
    if (radii.empty()) lacks(thickness, inside_radius, angle, "no row of this thickness");
    std::map<double, double> values;
    for (const auto& [radius, angles] : radii)
        if (const auto value = interpolated(angles, angle)) values[radius] = *value;
    if (values.empty()) lacks(thickness, inside_radius, angle, "no row of so large an angle");
    const auto value = interpolated(values, inside_radius);
    if (!value) lacks(thickness, inside_radius, angle, "the radius lies outside of its rows");
    return *value;
}

}  // namespace

double din_6935_factor(double radius_to_thickness) {
    const double ratio = std::max(radius_to_thickness, din_6935_least_ratio);
    return std::min(0.65 + 0.5 * std::log10(ratio), 1.0);
}

double bend_allowance(const BendRule& rule, double thickness, double inside_radius, double angle) {
    check_bend(thickness, inside_radius, angle);
    switch (rule.kind) {
        case BendRuleKind::k_factor:
            if (!(rule.k_factor >= 0.0) || !(rule.k_factor <= 1.0))
                throw GeometryError(ErrorKind::invalid_argument,
                                    "the K factor must lie between 0 (the inside keeps its "
                                    "length) and 1 (the outside does)");
            if (!(inside_radius + rule.k_factor * thickness > 0.0))
                throw GeometryError(ErrorKind::invalid_argument,
                                    "a K factor of 0 leaves a bend of inside radius 0 no length; "
                                    "give one above 0");
            return angle * (inside_radius + rule.k_factor * thickness);
        case BendRuleKind::din_6935:
            return by_din_6935(thickness, inside_radius, angle);
        case BendRuleKind::table:
            return by_table(rule.table, thickness, inside_radius, angle);
    }
    return 0.0;
}

double bend_deduction(double allowance, double thickness, double inside_radius, double angle) {
    return 2.0 * outside_setback(thickness, inside_radius, angle) - allowance;
}

}  // namespace planform
