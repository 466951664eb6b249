#include "flatten/silhouette/strip_depth.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace planform::flatten {
namespace {

constexpr std::array<double, 4> deeper = {3e-5, 1e-4, 3e-4, 1e-3};
/// Of the tolerance: width of a strip on the datum (a cell of the arrangement's grid), and its
/// depth on the surface.
constexpr double width_share = 1e-3, depth_share = 0.1;
/// Below this at the least depth, the field is that of a face seen edge-on along its boundary.
constexpr double grazing_sine = 1e-3;
/// A strip changes more slowly than the signs that are sought along it.
constexpr int most_places = 128;
/// Towards its ends a strip narrows, so that it does not reach past the next edge.
constexpr double taper = 0.2;

/// How a face looks at the viewer at its edge, and how that changes on the way into the face.
struct EdgeFacing {
    double at_edge = 0.0, slope = 0.0;
    double width = 0.0;  ///< mm on the surface, for a depth of 1

    double at(double depth) const { return at_edge + depth * slope; }
    bool is_grazing() const { return std::abs(at(solid::InsetCurve::inset)) < grazing_sine; }
};

/// To first order: a strip is too thin for more.
EdgeFacing facing_at(const solid::FaceSurface& surface, const solid::InsetCurve& curve, double t) {
    const Point2 edge = curve.on(t);
    const Vector2 way = (curve.inside(t) - edge) / solid::InsetCurve::inset;
    const solid::SurfacePoint s = surface.second_order(edge);
    const double size = s.du.norm() * s.dv.norm();
    if (size == 0.0) return {};
    const auto facing = [](const Vector3& a, const Vector3& b) {
        return cross(a.head<2>(), b.head<2>());
    };
    const double slope = way.x() * (facing(s.duu, s.dv) + facing(s.du, s.duv)) +
                         way.y() * (facing(s.duv, s.dv) + facing(s.du, s.dvv));
    return {facing(s.du, s.dv) / size, slope / size, (way.x() * s.du + way.y() * s.dv).norm()};
}

/// The deepest place of the list at which the strip can't be seen.
double depth_of(const EdgeFacing& facing, double tolerance) {
    double depth = solid::InsetCurve::inset;
    if (!facing.is_grazing() || facing.width == 0.0) return depth;
    for (const double next : deeper) {
        const double reach = next * facing.width;
        if (reach > depth_share * tolerance ||
            reach * std::abs(facing.at(next)) > width_share * tolerance)
            break;
        depth = next;
    }
    return depth;
}

}  // namespace

std::vector<double> places_between(double start, double end, int count) {
    constexpr std::array<double, 3> near = {1e-4, 1e-3, 1e-2};  // of the stretch
    const double length = end - start;
    std::vector<double> places = {start};
    for (const double share : near) places.push_back(start + share * length);
    for (int i = 1; i < count; ++i) places.push_back(start + length * i / count);
    for (const double share : near) places.push_back(end - share * length);
    places.push_back(end);
    std::sort(places.begin(), places.end());
    return places;
}

StripDepth::StripDepth(const LevelField& field, const solid::InsetCurve& curve, double start,
                       double end, int count, double tolerance) {
    if (field.surface().is_closed_form()) return;
    const auto facing = [&](double t) { return facing_at(field.surface(), curve, t); };
    const double middle = 0.5 * (start + end);
    // Most edges are seen askew all along: three places tell.
    if (!facing(start).is_grazing() && !facing(middle).is_grazing() && !facing(end).is_grazing())
        return;
    places_ = places_between(start, end, std::min(count, most_places));
    std::vector<double> found;
    for (const double t : places_) found.push_back(depth_of(facing(t), tolerance));
    depths_ = found;
    double from_start = 0.0, from_end = 0.0;
    const Vector2 range = field.surface().range().cwiseMax(1e-300);
    // In their order, and once: the kernel keeps one span of a spline at a time.
    std::vector<Point2> on;
    for (const double t : places_) on.push_back(curve.on(t).cwiseQuotient(range));
    const auto step = [&](std::size_t i, std::size_t j) { return (on[j] - on[i]).norm(); };
    for (std::size_t i = 0, last = places_.size() - 1; i <= last; ++i) {
        if (i > 0) from_start += step(i - 1, i);
        if (i > 0) from_end += step(last - i + 1, last - i);
        double& depth = depths_[i];
        if (i > 0) depth = std::min(depth, found[i - 1]);
        if (i < last) depth = std::min(depth, found[i + 1]);
        depth = std::min(depth, solid::InsetCurve::inset + taper * from_start);
        depths_[last - i] =
            std::min(depths_[last - i], solid::InsetCurve::inset + taper * from_end);
    }
}

double StripDepth::operator()(double t) const {
    if (depths_.empty()) return solid::InsetCurve::inset;
    const auto above = std::upper_bound(places_.begin(), places_.end(), t);
    if (above == places_.begin()) return depths_.front();
    if (above == places_.end()) return depths_.back();
    const auto i = static_cast<std::size_t>(above - places_.begin());
    const double share = (t - places_[i - 1]) / (places_[i] - places_[i - 1]);
    return depths_[i - 1] + share * (depths_[i] - depths_[i - 1]);
}

}  // namespace planform::flatten
