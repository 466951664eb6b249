#include "features/mouth.hpp"

#include <Geom_Line.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "curve/index.hpp"

namespace planform::features {
namespace {

constexpr int steps = 32;
constexpr int sections = 45;  // leaves 8e-10 of a step, that counts squared
/// Between two samples an edge comes no nearer than by this many times the way between them.
constexpr double bent = 2.0;

using detail::index;

double from_segment(const Point2& start, const Point2& end, const Point2& place) {
    const Vector2 way = end - start;
    const double square = way.squaredNorm();  // nought where the edge is upright
    const double share = square > 0.0 ? std::clamp((place - start).dot(way) / square, 0.0, 1.0) : 0;
    return (start + share * way - place).norm();
}

std::vector<Box2> boxes_of(const std::vector<EdgeDistance>& edges) {
    std::vector<Box2> boxes;
    for (const EdgeDistance& edge : edges) boxes.push_back(edge.box());
    return boxes;
}

}  // namespace

EdgeDistance::EdgeDistance(const solid::GraphEdge& edge)
    : edge_(&edge),
      straight_(edge.curve->IsKind(STANDARD_TYPE(Geom_Line))),
      step_((edge.last - edge.first) / steps) {
    if (straight_) {
        samples_ = {at(edge.first), at(edge.last)};
        return;
    }
    for (int i = 0; i <= steps; ++i) {
        samples_.push_back(at(edge.first + step_ * i));
        if (i > 0)
            longest_ = std::max(longest_, (samples_[index(i)] - samples_[index(i - 1)]).norm());
    }
}

double EdgeDistance::reach() const { return bent * longest_; }

Box2 EdgeDistance::box() const {
    Box2 box;
    for (const Point2& sample : samples_) box.extend(sample);
    const Vector2 margin = Vector2::Constant(reach());
    return {Point2(box.min() - margin), Point2(box.max() + margin)};
}

double EdgeDistance::to(const Point2& place, double least, double most) const {
    if (straight_) return from_segment(samples_.front(), samples_.back(), place);
    int nearest = 0;
    double square = INFINITY;  // from the nearest sample
    for (int i = 0; i <= steps; ++i) {
        const double from_sample = (samples_[index(i)] - place).squaredNorm();
        if (from_sample < square) {
            square = from_sample;
            nearest = i;
        }
    }
    const double at_most = std::sqrt(square);
    if (at_most <= least) return at_most;
    if (at_most - reach() > most) return INFINITY;
    // The ends of a closed edge are one place.
    return nearest == 0 || nearest == steps ? std::min(around(0, place), around(steps, place))
                                            : around(nearest, place);
}

double EdgeDistance::around(int i, const Point2& place) const {
    const auto distance = [&](double t) { return (at(t) - place).norm(); };
    double low = std::max(edge_->first, edge_->first + step_ * (i - 1));
    double high = std::min(edge_->last, edge_->first + step_ * (i + 1));
    // One new place a step, by the golden section (J. Kiefer, 1953).
    constexpr double share = 0.6180339887498949;  // (sqrt 5 - 1) / 2
    double a = high - share * (high - low), b = low + share * (high - low);
    double at_a = distance(a), at_b = distance(b);
    for (int k = 0; k < sections; ++k) {
        if (at_a < at_b) {
            high = std::exchange(b, a);
            at_b = at_a;
            at_a = distance(a = high - share * (high - low));
        } else {
            low = std::exchange(a, b);
            at_a = at_b;
            at_b = distance(b = low + share * (high - low));
        }
    }
    return std::min({distance(low), distance(high), at_a, at_b});
}

Mouth::Mouth(std::vector<EdgeDistance> edges, const std::vector<Box2>& boxes)
    : edges_(std::move(edges)), grid_(boxes), tree_(grid_(boxes)) {}

Mouth::Mouth(const std::vector<EdgeDistance>& edges) : Mouth(edges, boxes_of(edges)) {}

double Mouth::deeper(double depth, const Point2& place) const {
    const Point2 on_grid = grid_.place(place);
    double nearest = INFINITY;
    // Boxes were rounded outwards, so they are no farther away on the grid than in the plane.
    tree_.any_within(
        on_grid.x(), on_grid.y(), [&] { return grid_.length(nearest); },
        [&](int edge) {
            nearest = std::min(nearest, edges_[index(edge)].to(place, depth, nearest));
            return nearest <= depth;  // no deeper than what is known
        });
    return std::max(depth, nearest);
}

}  // namespace planform::features
