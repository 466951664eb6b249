#pragma once

/// A plane curve given by a function with derivatives becomes a quintic spline.

#include <array>
#include <functional>

#include "planform/curve.hpp"

namespace planform::flatten {

/// Position, first and second derivative.
using Jet2 = std::array<Vector2, 3>;

/// A degree-5 spline with two continuous derivatives that interpolates position and both
/// derivatives at its knots (quintic Hermite); knots are added by bisection until points between
/// them agree within `tolerance` mm. from < to. Source of the poles: blossoming, L. Ramshaw,
/// "Blossoming: a connect-the-dots approach to splines", DEC SRC report 19 (1987).
Spline fit_quintic(const std::function<Jet2(double)>& function, double from, double to,
                   double tolerance);

}  // namespace planform::flatten
