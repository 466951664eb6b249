#pragma once

/// Inputs for the arrangement and measures of its results, shared by the tests of this floor.

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "arrange/arrange.hpp"

namespace planform::arrange::test {

/// Collects closed chains; each joint of a chain is a node of its own, at the start of its curve.
class Shapes {
  public:
    /// A closed chain of curves, head to tail.
    Shapes& chain(const std::vector<Curve>& curves, int operand = 0, int weight = 1);
    Shapes& polygon(const std::vector<Point2>& corners, int operand = 0, int weight = 1);
    Shapes& rectangle(double left, double bottom, double right, double top, int operand = 0,
                      int weight = 1);
    /// A full circle of one curve that starts at `start_angle`.
    Shapes& circle(const Point2& center, double radius, int operand = 0, int weight = 1,
                   double start_angle = 0.0);
    /// A full ellipse of one curve.
    Shapes& ellipse(const Point2& center, const Vector2& major, double ratio, int operand = 0,
                    int weight = 1);
    /// All of another collection.
    Shapes& add(const Input& other);

    const Input& input() const { return input_; }

  private:
    Input input_;
};

std::vector<Curve> polygon_curves(const std::vector<Point2>& corners);
Curve full_circle(const Point2& center, double radius, double start_angle = 0.0);
/// A cubic without inner knots.
Curve cubic(const Point2& a, const Point2& b, const Point2& c, const Point2& d);
/// A clamped cubic with these poles and uniform inner knots; closed if the first pole is the last.
Curve cubic_spline(const std::vector<Point2>& poles);

/// The input with every curve turned round: winding numbers change their sign.
Input turned_round(const Input& input);
/// The image; a mirror image keeps the direction of the curves, so its winding numbers change sign.
Input transformed(const Input& input, const Transform2& transform);
/// All of the input's curves as one operand.
Input with_operand(const Input& input, int operand);

bool either(const Winding& w);  ///< union of both operands
bool both(const Winding& w);    ///< intersection
bool first_only(const Winding& w);

/// Signed area of one loop, gaps closed by straight lines; about its own start, so that it keeps
/// its digits far from the origin.
double area(const Loop& loop);
double area(const std::vector<Loop>& loops);
std::size_t count_curves(const std::vector<Loop>& loops);

/// Largest distance between the end of a curve and the start of the next.
double largest_gap(const std::vector<Loop>& loops);

/// Empty if the loops keep what Loop promises: closed to `closure` mm, counter-clockwise outside
/// and clockwise holes, parents of the right kind and around their children, no crossings (looked
/// at on chords of `chord` mm); else what is wrong.
std::string fault(const std::vector<Loop>& loops, double closure, double chord);

/// Area of the circular segment that subtends twice `half_angle`: the sector less the triangle.
double segment_area(double radius, double half_angle);

}  // namespace planform::arrange::test
