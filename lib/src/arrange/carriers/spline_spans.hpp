#pragma once

/// The spans of a long spline by their boxes: what lies on one is found without looking at all.

#include <optional>
#include <vector>

#include "curve/spline.hpp"
#include "grid/box_grid.hpp"

namespace planform::arrange {

class SplineSpans {
  public:
    /// `near` (mm): how far from the spline points are looked for.
    SplineSpans(const Spline& spline, double near);

    /// The parameter of the place nearest to a point that is at most `near` from the spline;
    /// nothing if there is none.
    std::optional<double> nearest(const Point2& point) const;

  private:
    struct Boxes {
        grid::BoxGrid on_grid;
        grid::BoxTree tree;
    };
    static std::vector<Box2> boxes_of(const std::vector<detail::BezierPiece>& pieces, double near);
    static Boxes index_of(const std::vector<Box2>& boxes);

    double near_;
    std::vector<detail::BezierPiece> pieces_;
    Boxes boxes_;
};

/// A spline of more spans than this is worth it.
constexpr std::size_t many_spans = 16;

}  // namespace planform::arrange
