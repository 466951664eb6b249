#include "planform/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "planform/error.hpp"

namespace planform {
namespace {

/// A round number to suggest: the largest 1, 2 or 5 times a power of ten that is no larger.
double rounded_down(double value) {
    const double power = std::pow(10.0, std::floor(std::log10(value)));
    const double digit = value / power;
    return (digit >= 5.0 ? 5.0 : digit >= 2.0 ? 2.0 : 1.0) * power;
}

}  // namespace

double fit_tolerance(double tolerance, double extent) {
    if (!(tolerance > 0.0) || !std::isfinite(tolerance))
        throw GeometryError(
            ErrorKind::invalid_argument,
            "tolerance must be a positive, finite number of millimetres, such as 0.01");
    if (!(extent > 0.0) || !std::isfinite(extent)) return tolerance;
    const double most = largest_tolerance_share * extent;
    if (tolerance == default_tolerance) return std::min(tolerance, most);
    std::ostringstream message;
    message.precision(3);
    if (tolerance > most)
        message << "tolerance = " << tolerance << " mm is more than a hundredth of the extent, "
                << extent << " mm, so that holes could be lost; ask for "
                << std::min(default_tolerance, rounded_down(most)) << " mm, " << rounded_down(most)
                << " mm at most";
    else if (tolerance < smallest_tolerance_share * extent)
        message << "tolerance = " << tolerance
                << " mm is below what can be told apart at an extent of " << extent
                << " mm; ask for " << std::min(default_tolerance, 1e-6 * extent) << " mm";
    else
        return tolerance;
    throw GeometryError(ErrorKind::tolerance_out_of_range, message.str());
}

double limited_tolerance(double tolerance, double extent) {
    const double most = largest_tolerance_share * extent;
    return most > 0.0 && most < tolerance ? most : tolerance;
}

}  // namespace planform
