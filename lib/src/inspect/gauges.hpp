#pragma once

/// Usual thicknesses of sheet and plate.

#include <optional>
#include <string>

namespace planform::inspection {

/// The usual thickness within `tolerance` mm of `thickness` (mm), in words: "1.5 mm", "1/16 inch",
/// "gauge 16 (1.5189 mm)". Nothing if there is none. Table from memory.
std::optional<std::string> usual_thickness(double thickness, double tolerance);

}  // namespace planform::inspection
