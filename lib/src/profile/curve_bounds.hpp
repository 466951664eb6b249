#pragma once

#include <vector>

#include "planform/curve.hpp"

namespace planform::detail {

/// Box of some curves, mm; empty without any.
inline Box2 bounds_of(const std::vector<Curve>& curves) {
    Box2 box;
    for (const Curve& curve : curves) box.extend(bounds(curve));
    return box;
}

}  // namespace planform::detail
