#include "arrange/carriers/spline_spans.hpp"

#include <cstddef>
#include <cstdint>

namespace planform::arrange {
namespace {

std::vector<detail::BezierPiece> pieces_of(const Spline& spline) {
    std::vector<detail::BezierPiece> pieces;
    detail::for_each_span(spline,
                          [&](int span) { pieces.push_back(detail::bezier_piece(spline, span)); });
    return pieces;
}

Spline as_spline(const detail::BezierPiece& piece) {
    Spline spline;
    spline.degree = piece.degree;
    const auto ends = static_cast<std::size_t>(piece.degree) + 1;
    spline.knots.assign(ends, piece.first);
    spline.knots.insert(spline.knots.end(), ends, piece.last);
    for (int i = 0; i <= piece.degree; ++i) {
        spline.poles.push_back(piece.control_point(i));
        if (piece.rational)
            spline.weights.push_back(piece.control[static_cast<std::size_t>(i)].z());
    }
    return spline;
}

}  // namespace

SplineSpans::SplineSpans(const Spline& spline, double near)
    : near_(near), pieces_(pieces_of(spline)), boxes_(index_of(boxes_of(pieces_, near))) {}

std::vector<Box2> SplineSpans::boxes_of(const std::vector<detail::BezierPiece>& pieces,
                                        double near) {
    std::vector<Box2> boxes;
    boxes.reserve(pieces.size());
    const Vector2 grown = Vector2::Constant(near);
    for (const detail::BezierPiece& piece : pieces) {
        Box2 box;
        for (int i = 0; i <= piece.degree; ++i) box.extend(piece.control_point(i));
        boxes.emplace_back(box.min() - grown, box.max() + grown);
    }
    return boxes;
}

SplineSpans::Boxes SplineSpans::index_of(const std::vector<Box2>& boxes) {
    const grid::BoxGrid on_grid(boxes);
    return {on_grid, grid::BoxTree(on_grid(boxes))};
}

std::optional<double> SplineSpans::nearest(const Point2& point) const {
    std::optional<double> best;
    double least = near_;
    boxes_.tree.for_each_overlap(boxes_.on_grid(Box2(point)), [&](std::int32_t index) {
        const Curve piece = as_spline(pieces_[static_cast<std::size_t>(index)]);
        const double parameter = nearest_parameter(piece, point);
        const double distance = (point_at(piece, parameter) - point).norm();
        if (distance > least || (best && distance == least && parameter >= *best)) return;
        least = distance;
        best = parameter;
    });
    return best;
}

}  // namespace planform::arrange
