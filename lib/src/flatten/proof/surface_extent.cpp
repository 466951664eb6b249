#include "flatten/proof/surface_extent.hpp"

#include <algorithm>
#include <cstddef>
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

}  // namespace

double area_within_box(const solid::FaceSurface& surface) {
    // Of surfaces in pieces, each is looked at, as long as they are not too many.
    constexpr int least = 6, most = 48;
    const GeomAdaptor_Surface& kernel = surface.adaptor();
    const bool is_plain = surface.is_closed_form();
    const auto steps = [&](int pieces) { return std::clamp(2 * pieces, least, most); };
    const Point2 &low = surface.low(), &high = surface.high();
    const std::vector<double> u =
        nodes(low.x(), high.x(), is_plain ? least : steps(kernel.NbUIntervals(GeomAbs_C2)));
    const std::vector<double> v =
        nodes(low.y(), high.y(), is_plain ? least : steps(kernel.NbVIntervals(GeomAbs_C2)));
    double sum = 0.0;
    for (const double at_u : u)
        for (const double at_v : v) {
            const solid::SurfacePoint point = surface.first_order({at_u, at_v});
            sum += point.du.cross(point.dv).norm();
        }
    return sum * surface.range().prod() / static_cast<double>(u.size() * v.size());
}

}  // namespace planform::flatten
