#pragma once

/// Profile sets that the tests of the writers share, with areas and lengths in closed form.

#include <cmath>
#include <vector>

#include "planform/profile.hpp"

namespace planform::testing {

inline Contour polygon(const std::vector<Point2>& corners) {
    std::vector<Curve> lines;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        lines.push_back(Line{corners[i], corners[(i + 1) % corners.size()]});
    }
    return Contour(lines);
}

inline Contour circle(const Point2& center, double radius) {
    return Contour({Arc{center, radius, 0.0, 2.0 * pi}});
}

/// A slot along x: two lines of `length`, two half circles. Area length * 2 r + pi r^2.
inline Contour slot(const Point2& center, double length, double radius) {
    const Point2 left = center - Point2(length / 2, 0), right = center + Point2(length / 2, 0);
    const Vector2 up(0, radius);
    return Contour({Line{left - up, right - up}, Arc{right, radius, -pi / 2, pi},
                    Line{right + up, left + up}, Arc{left, radius, pi / 2, pi}});
}

/// Half an ellipse closed by its axis: area pi a b / 2.
inline Contour half_ellipse(double major, double minor) {
    return Contour({EllipticalArc{Point2::Zero(), Vector2(major, 0), minor / major, 0.0, pi},
                    Line{Point2(-major, 0), Point2(major, 0)}});
}

/// The parabola y = 4 h (x / w)(1 - x / w) over its chord: area 2 w h / 3.
inline Contour parabola(double width, double height) {
    const Spline arch{
        2, {0, 0, 0, 1, 1, 1}, {Point2(0, 0), Point2(width / 2, 2 * height), Point2(width, 0)}, {}};
    return Contour({reversed(arch), Line{Point2(0, 0), Point2(width, 0)}});
}

/// A quarter disc whose arc is a rational spline: area pi r^2 / 4.
inline Contour quarter_disc(double radius) {
    const Spline arc{2,
                     {0, 0, 0, 1, 1, 1},
                     {Point2(radius, 0), Point2(radius, radius), Point2(0, radius)},
                     {1.0, std::sqrt(0.5), 1.0}};
    return Contour(
        {arc, Line{Point2(0, radius), Point2(0, 0)}, Line{Point2(0, 0), Point2(radius, 0)}});
}

/// A plate with a round hole in whose middle an island lies, a slot, and a mark.
inline ProfileSet plate() {
    const Contour outer = polygon({{0, 0}, {120, 0}, {120, 80}, {0, 80}});
    return ProfileSet({Profile(outer, {circle({40, 40}, 25), slot({90, 40}, 20, 6)}, "perch"),
                       Profile(circle({40, 40}, 10), {}, "token", 0)},
                      {Mark{polygon({{5, 5}, {15, 5}, {15, 15}}), "sun"}}, Datum::xz(), 0.005,
                      "plate", {"made for a test"});
}

}  // namespace planform::testing
