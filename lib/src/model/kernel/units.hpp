#pragma once

/// Length units: words and factors.

#include <string>
#include <string_view>

#include "planform/model.hpp"

namespace planform::model {

/// Millimetres in one unit of the given word. Throws GeometryError (unknown_option) that lists the
/// valid words.
double unit_factor(std::string_view word);

/// The word for a unit of so many millimetres, or `own_word` if it is none of ours.
std::string unit_word(double factor, const std::string& own_word);

/// Throws GeometryError if the unit is unknown or the scale is not a finite number above 0.
void check(const LoadOptions& options);

/// Factor for data that carry no unit and so count as mm: unit and scale together.
double unitless_factor(const LoadOptions& options);

}  // namespace planform::model
