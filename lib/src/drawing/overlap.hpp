#pragma once

#include <vector>

#include "planform/curve.hpp"

namespace planform::drawing {

/// A stretch of one curve that lies on another.
struct Overlap {
    Interval on_curve;  ///< its parameters
};

/// The stretches of `curve` that run within `same` mm of `other`. Stretches shorter than ten times
/// that are left out unless they are the whole curve: where two curves leave a common point at a
/// sharp angle, they are near each other for a while.
std::vector<Overlap> overlaps(const Curve& curve, const Curve& other, double same);

}  // namespace planform::drawing
