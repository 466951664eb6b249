#pragma once

/// Zero sets that are known in closed form: a few branches, each with a parameter of its own.

#include <functional>
#include <optional>
#include <vector>

#include "planform/curve.hpp"
#include "planform/geometry.hpp"

namespace planform::flatten {

struct Branch {
    /// Point of the face at a parameter of the branch.
    std::function<Point2(double)> uv;
    /// Parameter of the branch at a point of the face that lies on it (any turn of a periodic one).
    std::function<double(const Point2&)> parameter;
    /// How far a point of the face is from the branch, in units of its own: to choose the nearest.
    std::function<double(const Point2&)> distance;
    /// Projection of the directed piece between two parameters (from > to runs backward).
    std::function<std::vector<Curve>(double from, double to)> project;
    /// Set if the branch closes on itself after this much parameter.
    std::optional<double> period;
    /// Set if the branch ends, in points where it meets other branches.
    std::optional<Interval> ends;
    /// Set if the branch runs along the limit of the face's parameters (a seam): then it is an
    /// edge, and what meets it are pairs of roots that belong together.
    bool is_at_limit = false;
};

}  // namespace planform::flatten
