#pragma once

/// Contours that the tests share.

#include <vector>

#include "planform/profile.hpp"

namespace outlines {

using namespace planform;

/// Straight edges through the points, closed.
inline std::vector<Curve> polygon(const std::vector<Point2>& corners) {
    std::vector<Curve> curves;
    for (std::size_t i = 0; i < corners.size(); ++i)
        curves.push_back(Line{corners[i], corners[(i + 1) % corners.size()]});
    return curves;
}

inline Contour rectangle(double left, double bottom, double width, double height) {
    return Contour(polygon({{left, bottom},
                            {left + width, bottom},
                            {left + width, bottom + height},
                            {left, bottom + height}}));
}

inline Contour circle(const Point2& center, double radius, double start_angle = 0.0) {
    return Contour({Arc{center, radius, start_angle, 2 * pi}});
}

/// A slot along x: two lines and two half circles, counter-clockwise.
inline std::vector<Curve> slot(double length, double radius) {
    return {Line{{0, -radius}, {length, -radius}}, Arc{{length, 0}, radius, -pi / 2, pi},
            Line{{length, radius}, {0, radius}}, Arc{{0, 0}, radius, pi / 2, pi}};
}

/// One of each kind of curve: line, arc, elliptical arc and spline.
inline std::vector<Curve> mixed() {
    return {Line{{0, 0}, {40, 0}}, Arc{{40, 10}, 10, -pi / 2, pi},
            EllipticalArc{{30, 20}, {10, 0}, 0.5, 0.0, pi},
            Spline{3, {0, 0, 0, 0, 1, 1, 1, 1}, {{20, 20}, {12, 26}, {-6, 14}, {0, 0}}, {}}};
}

}  // namespace outlines
