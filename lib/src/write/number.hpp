#pragma once

/// Numbers as text: the shortest digits that read back to the same double, whatever the locale.

#include <string>

namespace planform::write {

/// Appends the number without exponent and with at least one digit behind the point ("25.0",
/// "-0.125"), as every reader of DXF and SVG takes it; negative zero is written as zero.
void append_plain(std::string& text, double number);

/// Appends the number in the shortest form, with exponent where that is shorter ("25", "1e-17");
/// the sign of zero is kept ("-0.0"). Valid JSON.
void append_shortest(std::string& text, double number);

}  // namespace planform::write
