#include "flatten/proof/surface_extent.hpp"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <vector>

#include "curve/quadrature.hpp"

namespace planform::flatten {
namespace {

/// Places of one parameter from low to high: `steps` steps with two nodes of Gauss' rule each.
std::vector<double> nodes(double low, double high, int steps) {
    const double half = 0.5 * (high - low) / steps;
    std::vector<double> places;
    for (int k = 0; k < steps; ++k)
        for (const double node : detail::gauss_rule(2).nodes)
            places.push_back(low + (2 * k + 1) * half + half * node);
    return places;
}

/// Steps along both parameters.
struct Steps {
    int u, v;
};

/// Straight lines from v to v.
bool is_ruled(const solid::FaceSurface& surface) {
    return surface.is_ruled() && surface.is_closed_form();
}

/// Of surfaces in pieces, each is looked at, as long as they are not too many.
Steps coarse_steps(const solid::FaceSurface& surface) {
    constexpr int least = 6, most = 48;
    // Along straight lines the area changes evenly: one step with two nodes is exact.
    if (is_ruled(surface)) return {least, 1};
    if (surface.is_closed_form()) return {least, least};
    const GeomAdaptor_Surface& kernel = surface.adaptor();
    const auto steps = [&](int pieces) { return std::clamp(2 * pieces, least, most); };
    return {steps(kernel.NbUIntervals(GeomAbs_C2)), steps(kernel.NbVIntervals(GeomAbs_C2))};
}

/// A surface that has no break between its spans may still bend within each of them. None if there
/// are too many to look at each.
std::optional<Steps> fine_steps(const solid::FaceSurface& surface) {
    constexpr int least = 24, a_span = 4, most = 128;
    if (is_ruled(surface)) return Steps{least, 1};
    if (surface.is_closed_form()) return Steps{least, least};
    const GeomAdaptor_Surface& kernel = surface.adaptor();
    const int u = a_span * kernel.NbUIntervals(GeomAbs_CN);
    const int v = a_span * kernel.NbVIntervals(GeomAbs_CN);
    if (std::max(u, v) > most) return std::nullopt;
    return Steps{std::max(u, least), std::max(v, least)};
}

/// Sums over all places: of the surface, whose normal du x dv is R (h' out - r' Z), up to its sign,
/// with R the distance from the axis, r' and h' the slopes of the meridian, out = cos u X + sin u
/// Y.
SurfaceExtent sum_of_revolution(const solid::FaceSurface& surface, const std::vector<double>& u,
                                const std::vector<double>& v) {
    std::vector<double> facing;  // by u: how far `out` looks along the view
    for (const double at_u : u) facing.push_back(surface.radial(at_u).z());
    SurfaceExtent sum;
    for (const double at_v : v) {
        const solid::FaceSurface::Meridian at = surface.meridian(at_v);
        const double radius = std::abs(at.radius);
        const double axial = at.radius_slope * surface.z().z();
        for (const double out : facing)
            sum.shadow += radius * std::abs(at.height_slope * out - axial);
        sum.area +=
            radius * std::hypot(at.radius_slope, at.height_slope) * static_cast<double>(u.size());
    }
    return sum;
}

SurfaceExtent sum_of_places(const solid::FaceSurface& surface, const std::vector<double>& u,
                            const std::vector<double>& v) {
    SurfaceExtent sum;
    for (const double at_u : u)
        for (const double at_v : v) {
            const solid::SurfacePoint point = surface.first_order({at_u, at_v});
            const Vector3 normal = point.du.cross(point.dv);
            sum.area += normal.norm();
            sum.shadow += std::abs(normal.z());
        }
    return sum;
}

}  // namespace

SurfaceExtent extent_within_box(const solid::FaceSurface& surface, Sampling sampling) {
    std::optional<Steps> fine;
    if (sampling == Sampling::fine) fine = fine_steps(surface);
    const Steps steps = fine ? *fine : coarse_steps(surface);
    const Point2 &low = surface.low(), &high = surface.high();
    const std::vector<double> u = nodes(low.x(), high.x(), steps.u);
    const std::vector<double> v = nodes(low.y(), high.y(), steps.v);
    const bool is_of_revolution = surface.is_closed_form() && !surface.is_plane();
    SurfaceExtent sum =
        is_of_revolution ? sum_of_revolution(surface, u, v) : sum_of_places(surface, u, v);
    const double cell = surface.range().prod() / static_cast<double>(u.size() * v.size());
    // Waves between the places would be missed: then the surface itself is all that is sure.
    if (sampling == Sampling::fine && !fine) sum.shadow = sum.area;
    return {cell * sum.area, cell * sum.shadow};
}

}  // namespace planform::flatten
