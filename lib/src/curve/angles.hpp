#pragma once

#include "planform/geometry.hpp"

namespace planform {

inline constexpr double full_turn = 2.0 * pi;

}  // namespace planform
