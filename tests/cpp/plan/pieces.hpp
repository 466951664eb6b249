#pragma once

/// Pieces of plain shapes for the tests of plans.

#include <initializer_list>
#include <vector>

#include "planform/plan.hpp"

namespace planform::test {

inline Contour circle(const Point2& center, double radius) {
    return Contour(std::vector<Curve>(1, Arc{center, radius, 0.0, 2.0 * pi}));
}

inline Contour rectangle(double left, double low, double right, double high) {
    const std::vector<Point2> corners{{left, low}, {right, low}, {right, high}, {left, high}};
    std::vector<Curve> lines;
    for (std::size_t i = 0; i < 4; ++i) lines.push_back(Line{corners[i], corners[(i + 1) % 4]});
    return Contour(lines);
}

inline PlacedPiece piece(std::vector<Profile> profiles, std::vector<Mark> marks = {}) {
    return {"tray", ProfileSet(std::move(profiles), std::move(marks)), 0.0, {}};
}

}  // namespace planform::test
