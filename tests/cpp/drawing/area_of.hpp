#pragma once

#include <cmath>

#include "planform/drawing.hpp"

/// Of all that was closed, mm^2.
inline double area_of(const planform::ClosedContours& closed) {
    double sum = 0.0;
    for (const planform::ClosedChain& chain : closed.chains) sum += std::abs(chain.contour.area());
    return sum;
}
