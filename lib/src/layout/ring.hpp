#pragma once

/// Sides and box of a polygon.

#include "planform/layout.hpp"

namespace planform::layout {

/// A side of a ring.
struct Segment {
    Point2 a, b;
    Box2 box() const {
        Box2 box(a);
        return box.extend(b);
    }
};

inline Box2 box_of(const Ring& ring) {
    Box2 box;
    for (const Point2& point : ring) box.extend(point);
    return box;
}

}  // namespace planform::layout
