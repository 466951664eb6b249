#pragma once

/// Lengths, areas and places in the words of findings and errors.

#include <string>

#include "planform/geometry.hpp"

namespace planform::offset_detail {

/// "0.25 mm": up to four decimals.
std::string millimetres(double value);
std::string square_millimetres(double value);
/// "(12.5, 3)": up to three decimals.
std::string at_place(const Point2& place);

}  // namespace planform::offset_detail
