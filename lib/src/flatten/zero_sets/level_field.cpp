#include "flatten/zero_sets/level_field.hpp"

#include <algorithm>
#include <cmath>

#include "flatten/bounds/range.hpp"
#include "flatten/bounds/revolution_bound.hpp"
#include "solid/inset_curve.hpp"

namespace planform::flatten {
namespace {

/// A box drawn in a little, since a face may end on a fold.
Box2 inner_box(const solid::FaceSurface& s) {
    const Vector2 edge = solid::InsetCurve::inset * s.range();
    return {Point2(s.low() + edge), Point2(s.high() - edge)};
}

using Sign = FacingField::Sign;

Sign sign_of(const FacingPatch& patch, int outward, double noise, int halvings) {
    const double low = outward > 0 ? patch.low() : -patch.high();
    const double high = outward > 0 ? patch.high() : -patch.low();
    if (low > noise) return Sign::positive;
    if (high < noise) return Sign::negative;
    bool above = false, below = false;
    for (const int u : {0, 1})
        for (const int v : {0, 1}) (outward * patch.corner(u, v) > noise ? above : below) = true;
    if ((above && below) || halvings == 0) return Sign::unknown;
    const auto [first, second] = patch.halves(halvings % 2 == 0);
    const Sign sign = sign_of(first, outward, noise, halvings - 1);
    if (sign == Sign::unknown) return sign;
    return sign == sign_of(second, outward, noise, halvings - 1) ? sign : Sign::unknown;
}

Sign sign_of(const FacingBound& bound, int outward) {
    constexpr int most_halvings = 6;
    Sign all = Sign::unknown;
    for (const FacingPatch& patch : bound.patches) {
        const Sign sign = sign_of(patch, outward, bound.noise, most_halvings);
        if (sign == Sign::unknown || (all != Sign::unknown && sign != all)) return Sign::unknown;
        all = sign;
    }
    return all;
}

}  // namespace

FacingField::FacingField(const solid::FaceSurface& surface, int outward)
    : LevelField(surface, outward) {
    if (!surface.is_closed_form())
        bound_ = bound_facing(surface.adaptor(), surface.placement(), inner_box(surface), edge_on);
}

FacingField::Sign FacingField::sign_of_whole() const {
    const solid::FaceSurface& s = surface();
    if (!bound_.patches.empty()) return sign_of(bound_, outward());
    const Point2 low = inner_box(s).min(), high = inner_box(s).max();
    const Range radial = wave(s.x().z(), s.y().z(), low.x(), high.x());
    double sign = outward() * s.handed();
    Range range{-1.0, 1.0};
    switch (s.kind()) {
        case GeomAbs_Cylinder:
            range = radial;
            break;
        case GeomAbs_Cone: {
            const double first = s.radius() + low.y() * std::sin(s.half_angle());
            const double last = s.radius() + high.y() * std::sin(s.half_angle());
            if (!(first * last > 0.0)) return Sign::unknown;
            const double axial = -std::sin(s.half_angle()) * s.z().z();
            range = std::cos(s.half_angle()) * radial + Range{axial, axial};
            if (first < 0.0) sign = -sign;
            break;
        }
        case GeomAbs_Torus:
            if (s.radius() <= s.tube_radius()) return Sign::unknown;
            [[fallthrough]];
        case GeomAbs_Sphere:
            range = wave(1.0, 0.0, low.y(), high.y()) * radial +
                    wave(0.0, s.z().z(), low.y(), high.y());
            break;
        case GeomAbs_SurfaceOfRevolution: {
            const auto bound = bound_revolution(s, {low, high}, edge_on);
            if (!bound) return Sign::unknown;
            range = *bound;
            sign = outward();
            break;
        }
        default:
            return Sign::unknown;
    }
    range = sign * range;
    if (range.low > edge_on) return Sign::positive;
    return range.high < -edge_on ? Sign::negative : Sign::unknown;
}

bool FacingField::is_edge_on() const {
    const solid::FaceSurface& s = surface();
    if (s.kind() == GeomAbs_Plane) return std::abs(s.z().z()) < edge_on;
    return s.kind() == GeomAbs_Cylinder && std::hypot(s.x().z(), s.y().z()) < edge_on;
}

double FacingField::value(const Point2& uv) const {
    const solid::FaceSurface& s = surface();
    const double sign = outward() * s.handed();
    const double radial = s.radial(uv.x()).z();
    switch (s.kind()) {
        case GeomAbs_Plane:
            return sign * s.z().z();
        case GeomAbs_Cylinder:
            return sign * radial;
        case GeomAbs_Cone: {
            const double side = s.radius() + uv.y() * std::sin(s.half_angle()) < 0.0 ? -1.0 : 1.0;
            return sign * side *
                   (std::cos(s.half_angle()) * radial - std::sin(s.half_angle()) * s.z().z());
        }
        case GeomAbs_Sphere:
            return sign * (std::cos(uv.y()) * radial + std::sin(uv.y()) * s.z().z());
        case GeomAbs_Torus: {
            // A spindle torus turns its normal where R + r cos v < 0.
            const double side = s.radius() + s.tube_radius() * std::cos(uv.y()) < 0.0 ? -1.0 : 1.0;
            return sign * side * (std::cos(uv.y()) * radial + std::sin(uv.y()) * s.z().z());
        }
        default:
            break;
    }
    const solid::SurfacePoint p = s.first_order(uv);
    const double size = p.du.norm() * p.dv.norm();
    if (size == 0.0) return -edge_on;
    return outward() * cross(p.du.head<2>(), p.dv.head<2>()) / size - edge_on;
}

FieldValue FacingField::with_gradient(const Point2& uv) const {
    const solid::FaceSurface& s = surface();
    const double sign = outward() * s.handed();
    const double radial = s.radial(uv.x()).z();
    const double turned = s.radial(uv.x() + 0.5 * pi).z();
    switch (s.kind()) {
        case GeomAbs_Cylinder:
            return {value(uv), {sign * turned, 0.0}};
        case GeomAbs_Cone: {
            const double side = s.radius() + uv.y() * std::sin(s.half_angle()) < 0.0 ? -1.0 : 1.0;
            return {value(uv), {sign * side * std::cos(s.half_angle()) * turned, 0.0}};
        }
        case GeomAbs_Sphere:
        case GeomAbs_Torus: {
            const double side =
                s.kind() == GeomAbs_Torus && s.radius() + s.tube_radius() * std::cos(uv.y()) < 0.0
                    ? -1.0
                    : 1.0;
            return {value(uv),
                    sign * side *
                        Vector2(std::cos(uv.y()) * turned,
                                std::cos(uv.y()) * s.z().z() - std::sin(uv.y()) * radial)};
        }
        default:
            break;
    }
    const solid::SurfacePoint p = s.second_order(uv);
    const double size = p.du.norm() * p.dv.norm();
    if (size == 0.0) return {-edge_on, Vector2::Zero()};
    // Gradient of the normal's z without the change of its length, which does not move the zeros.
    const double by_u =
        cross(p.duu.head<2>(), p.dv.head<2>()) + cross(p.du.head<2>(), p.duv.head<2>());
    const double by_v =
        cross(p.duv.head<2>(), p.dv.head<2>()) + cross(p.du.head<2>(), p.dvv.head<2>());
    return {outward() * cross(p.du.head<2>(), p.dv.head<2>()) / size - edge_on,
            outward() / size * Vector2(by_u, by_v)};
}

double HeightField::value(const Point2& uv) const {
    return surface().first_order(uv).position.z() - level_;
}

FieldValue HeightField::with_gradient(const Point2& uv) const {
    const solid::SurfacePoint p = surface().first_order(uv);
    return {p.position.z() - level_, {p.du.z(), p.dv.z()}};
}

}  // namespace planform::flatten
