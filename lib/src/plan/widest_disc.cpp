#include <algorithm>
#include <cmath>
#include <queue>

#include "plan/entries.hpp"

namespace planform::planning {
namespace {

/// Share of the radius within which it is found.
constexpr double precision = 0.01;
/// Squares that are looked at, at most: the widest so far is taken then.
constexpr int most_squares = 4000;

/// A square whose best place can be no more than `bound` mm off the contours.
struct Square {
    Point2 center;
    double half;
    double bound;
    bool operator<(const Square& other) const { return bound < other.bound; }
};

}  // namespace

/// Branch and bound on squares: no place of a square is further off than its centre and half its
/// diagonal.
Disc widest_disc(const SheetField& field, int hole) {
    const SheetContour& own = field.contours()[static_cast<std::size_t>(hole)];
    const Box2& box = own.box;
    const double reach = 0.5 * box.sizes().minCoeff();
    Disc best;
    const auto free = [&](const Point2& point) {
        const double away = field.distance(point, 1.5 * reach);
        return away > 0.0 && field.is_inside(hole, point) && field.is_waste(point) ? away : -away;
    };
    const auto offer = [&](const Point2& point) {
        const double radius = free(point);
        if (radius > best.radius) best = {point, radius};
        return radius;
    };
    std::priority_queue<Square> squares;
    const auto add = [&](const Point2& center, double half) {
        const double bound = offer(center) + half * std::sqrt(2.0);
        if (bound > best.radius * (1.0 + precision)) squares.push({center, half, bound});
    };
    if (own.contour->is_circle()) {
        if (const auto* arc = std::get_if<Arc>(&own.contour->curves().front()))
            if (offer(arc->center) >= arc->radius * (1.0 - precision)) return best;
    }
    const double half = reach;
    for (double x = box.min().x(); x < box.max().x(); x += 2.0 * half)
        for (double y = box.min().y(); y < box.max().y(); y += 2.0 * half)
            add(Point2(x + half, y + half), half);
    for (int looked = 0; !squares.empty() && looked < most_squares; ++looked) {
        const Square square = squares.top();
        squares.pop();
        if (square.bound <= best.radius * (1.0 + precision)) break;
        const double quarter = 0.5 * square.half;
        for (const double dx : {-quarter, quarter})
            for (const double dy : {-quarter, quarter})
                add(square.center + Vector2(dx, dy), quarter);
    }
    return best;
}

}  // namespace planform::planning
