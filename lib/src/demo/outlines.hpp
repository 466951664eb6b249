#pragma once

/// Plane outlines of the demo's plates: lines, arcs, ellipses and splines in mm.

#include <TopoDS_Edge.hxx>
#include <TopoDS_Wire.hxx>
#include <vector>

#include "planform/geometry.hpp"

namespace planform::demo {

/// A closed chain of curves, drawn from point to point; `close` joins the last point to the first.
class Outline {
  public:
    explicit Outline(const Point2& start) : start_(start), at_(start) {}

    Outline& line_to(double x, double y);
    /// An arc about `center`, starting where the last curve ended. `turn` in radians, > 0
    /// counter-clockwise.
    Outline& arc(const Point2& center, double turn);
    /// A cubic B-spline from the current point; `poles`: all others, the last one is the end. Knots
    /// evenly spaced, the end knots fourfold.
    Outline& spline(const std::vector<Point2>& poles);
    /// The chain as a closed wire in the plane z = 0.
    TopoDS_Wire close();

    const Point2& at() const { return at_; }

  private:
    Point2 start_;
    Point2 at_;
    std::vector<TopoDS_Edge> edges_;
};

/// All counter-clockwise.
TopoDS_Wire circle(const Point2& center, double radius);
TopoDS_Wire ellipse(const Point2& center, double semi_x, double semi_y);
TopoDS_Wire rectangle(const Point2& center, double width, double height);
TopoDS_Wire rounded_rectangle(const Point2& center, double width, double height, double radius);
/// A slotted hole along x: two half circles and two lines, `length` over all.
TopoDS_Wire slotted_hole(const Point2& center, double length, double width);

}  // namespace planform::demo
