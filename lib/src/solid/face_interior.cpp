#include "solid/face_interior.hpp"

#include <Geom2d_Line.hxx>
#include <algorithm>
#include <cstddef>

#include "curve/ray_parity.hpp"
#include "model/kernel/points.hpp"

namespace planform::solid {
namespace {

constexpr int interior_pieces = 256;  // of a curve of the boundary that is not straight

/// The boundary as straight pieces.
std::vector<Point2> legs_of(const std::vector<ParameterCurve>& boundary) {
    std::vector<Point2> legs;
    for (const ParameterCurve& side : boundary) {
        const int count =
            side.curve->DynamicType() == STANDARD_TYPE(Geom2d_Line) ? 1 : interior_pieces;
        const auto at = [&](int i) {
            return model::from_kernel(
                side.curve->Value(side.first + (side.last - side.first) * i / count));
        };
        for (int i = 0; i < count; ++i) {
            legs.push_back(at(i));
            legs.push_back(at(i + 1));
        }
    }
    return legs;
}

double distance(const Point2& p, const Point2& a, const Point2& b) {
    const Vector2 way = b - a;
    const double square = way.squaredNorm();
    const double along = square > 0.0 ? std::clamp((p - a).dot(way) / square, 0.0, 1.0) : 0.0;
    return (a + along * way - p).norm();
}

}  // namespace

bool FaceInterior::holds(const Point2& uv) {
    if (surface_.is_unwrapped()) return is_in_polygon(uv);
    if (!classifier_) classifier_.emplace(surface_.face(), tolerance_);
    return classifier_->Perform(gp_Pnt2d(uv.x(), uv.y())) == TopAbs_IN;
}

bool FaceInterior::is_in_polygon(const Point2& uv) {
    if (legs_.empty()) legs_ = legs_of(surface_.boundary());
    bool inside = false;
    for (std::size_t i = 0; i + 1 < legs_.size(); i += 2) {
        const Point2 &a = legs_[i], &b = legs_[i + 1];
        if (distance(uv, a, b) <= tolerance_) return false;
        if (detail::ray_crosses(uv, a, b)) inside = !inside;
    }
    return inside;
}

}  // namespace planform::solid
