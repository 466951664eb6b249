#pragma once

/// Usual thicknesses of sheet and plate.

#include <optional>
#include <string>

namespace planform::inspection {

/// Exactly: international yard and pound, 1959.
constexpr double millimetres_per_inch = 25.4;

/// The usual thickness within `tolerance` mm of `thickness` (mm), in words: "1.5 mm", "1/16 inch",
/// "gauge 16 (1.5189 mm)". Nothing if there is none. Table from memory.
std::optional<std::string> usual_thickness(double thickness, double tolerance);

}  // namespace planform::inspection
