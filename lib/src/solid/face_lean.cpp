#include "solid/face_lean.hpp"

#include <BRepTools.hxx>
#include <TopLoc_Location.hxx>
#include <algorithm>
#include <cmath>
#include <utility>

#include "curve/angles.hpp"
#include "model/measure/bounds.hpp"
#include "solid/cap_levels.hpp"
#include "solid/face_interior.hpp"

namespace planform::solid {
namespace {

/// Places in each parameter at which a face is looked at; odd, so that its middle is one.
constexpr int grid = 15;
/// Of the parameter box: how far inside the outermost places are.
constexpr double rim = 1e-3;

Box2 parameter_box(const FaceSurface& surface) {
    if (!surface.is_plane()) return {surface.low(), surface.high()};
    Point2 low, high;
    BRepTools::UVBounds(surface.face(), low.x(), high.x(), low.y(), high.y());
    return {low, high};
}

FaceSample sample_at(const GraphFace& face, const FaceSurface& surface, const Point2& uv) {
    const SurfacePoint at = surface.first_order(uv);
    const Vector3 normal = at.du.cross(at.dv);
    const double size = normal.norm();
    return {at.position, size > 0.0 ? Vector3(face.outward / size * normal) : Vector3::Zero()};
}

/// Calls `visit` with the parameters of a grid; stops when it returns false.
template <typename Visit>
void visit_grid(const FaceSurface& surface, Visit&& visit) {
    const Box2 box = parameter_box(surface);
    const auto share = [](int k) { return rim + (1.0 - 2.0 * rim) * k / (grid - 1); };
    for (int i = 0; i < grid; ++i)
        for (int j = 0; j < grid; ++j) {
            const Vector2 at(share(i), share(j));
            if (!visit(Point2(box.min() + at.cwiseProduct(box.sizes())))) return;
        }
}

/// Inside a face as far as the kernel can tell: places on the boundary are not.
FaceInterior interior_of(const FaceSurface& surface) { return {surface, 0.0}; }

/// The surface's own parameter u nearest to the middle of the face, for an angle.
double turned_into(double angle, double middle) {
    return angle + full_turn * std::round((middle - angle) / full_turn);
}

/// The points of a sphere that lie furthest along the axes, where they are on the face.
void add_extremes_of_sphere(const FaceSurface& surface, Box3& box) {
    FaceInterior interior = interior_of(surface);
    const double middle = (surface.low().x() + surface.high().x()) / 2.0;
    for (int axis = 0; axis < 3; ++axis)
        for (const double sign : {-1.0, 1.0}) {
            const Vector3 direction = sign * Vector3::Unit(axis);
            const double u = std::atan2(direction.dot(surface.y()), direction.dot(surface.x()));
            const double v = std::asin(std::clamp(direction.dot(surface.z()), -1.0, 1.0));
            if (interior.holds({turned_into(u, middle), v}))
                box.extend(Point3(surface.origin() + surface.radius() * direction));
        }
}

/// The points of a torus whose normals are along the axes, where they are on the face: there its
/// coordinates have their extremes.
void add_extremes_of_torus(const FaceSurface& surface, Box3& box) {
    FaceInterior interior = interior_of(surface);
    const Point2 middle = (surface.low() + surface.high()) / 2.0;
    const auto add = [&](double u, double v) {
        const Point2 uv(turned_into(u, middle.x()), turned_into(v, middle.y()));
        if (interior.holds(uv)) box.extend(surface.first_order(uv).position);
    };
    for (int axis = 0; axis < 3; ++axis)
        for (const double sign : {-1.0, 1.0}) {
            const Vector3 normal = sign * Vector3::Unit(axis);
            const double x = normal.dot(surface.x()), y = normal.dot(surface.y());
            const double along = normal.dot(surface.z()), across = std::hypot(x, y);
            const double v = std::atan2(along, across);
            if (across > 1e-12) {
                add(std::atan2(y, x), v);
                add(std::atan2(-y, -x), pi - v);
                continue;
            }
            for (const double share : {0.25, 0.5, 0.75})  // a whole circle
                add(surface.low().x() + share * surface.range().x(), v);
        }
}

/// Of any other surface: from the best place of a grid uphill for each direction, until a step is
/// 1e-6 of the parameter box; heights near an extreme then differ by the square of it. (The
/// kernel's own search costs a hundred times as much.)
void add_searched_extremes(const FaceSurface& surface, Box3& box) {
    FaceInterior interior = interior_of(surface);
    std::vector<Point2> places;
    visit_grid(surface, [&](const Point2& uv) {
        if (interior.holds(uv)) places.push_back(uv);
        return true;
    });
    constexpr double last_step = 1e-6;
    for (int axis = 0; axis < 3; ++axis)
        for (const double sign : {-1.0, 1.0}) {
            const auto height = [&](const Point2& uv) {
                return sign * surface.first_order(uv).position[axis];
            };
            const auto best = std::max_element(
                places.begin(), places.end(),
                [&](const Point2& a, const Point2& b) { return height(a) < height(b); });
            if (best == places.end()) continue;
            Point2 at = *best;
            double highest = height(at);
            for (double step = 1.0 / grid; step > last_step;) {
                bool climbs = false;
                for (const auto& [u, v] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}}) {
                    const Point2 next = at + step * Vector2(u, v).cwiseProduct(surface.range());
                    if (!interior.holds(next) || height(next) <= highest) continue;
                    at = next;
                    highest = height(at);
                    climbs = true;
                }
                if (!climbs) step /= 2.0;
            }
            box.extend(surface.first_order(at).position);
        }
}

}  // namespace

std::vector<FaceSample> face_samples(const SectionSolid& solid, std::size_t index) {
    std::vector<FaceSample> samples;
    visit_samples(
        solid, index, [](const Point3&) { return true; },
        [&](const FaceSample& sample) { samples.push_back(sample); });
    return samples;
}

void visit_samples(const SectionSolid& solid, std::size_t index,
                   const std::function<bool(const Point3&)>& wanted,
                   const std::function<void(const FaceSample&)>& visit) {
    const GraphFace& face = solid.graph().faces[index];
    const FaceSurface& surface = solid.surface(index);
    FaceInterior interior = interior_of(surface);
    visit_grid(surface, [&](const Point2& uv) {
        const FaceSample sample = sample_at(face, surface, uv);
        if (wanted(sample.place) && interior.holds(uv)) visit(sample);
        return true;
    });
}

std::vector<FaceSample> normal_samples(const SectionSolid& solid, std::size_t index) {
    const GraphFace& face = solid.graph().faces[index];
    const FaceSurface& surface = solid.surface(index);
    if (surface.is_plane()) return {sample_at(face, surface, parameter_box(surface).center())};
    if (surface.kind() != GeomAbs_Cylinder && surface.kind() != GeomAbs_Cone)
        return face_samples(solid, index);
    FaceInterior interior = interior_of(surface);
    std::vector<FaceSample> samples;
    double last = NAN;  // the u of the newest
    visit_grid(surface, [&](const Point2& uv) {
        if (uv.x() != last && interior.holds(uv)) {
            samples.push_back(sample_at(face, surface, uv));
            last = uv.x();
        }
        return true;
    });
    return samples;
}

Box3 face_box(const SectionSolid& solid, std::size_t index) {
    const GraphFace& face = solid.graph().faces[index];
    const FaceSurface& surface = solid.surface(index);
    const TopLoc_Location place(solid.graph().placement);
    Box3 box;
    for (const EdgeUse& use : face.uses) box.extend(model::tight_box(use.plain->Moved(place)));
    if (surface.kind() == GeomAbs_Sphere)
        add_extremes_of_sphere(surface, box);
    else if (surface.kind() == GeomAbs_Torus)
        add_extremes_of_torus(surface, box);
    else if (!surface.is_ruled())  // there they are reached on the boundary
        add_searched_extremes(surface, box);
    return box;
}

bool is_straight_wall(const SectionSolid& solid, std::size_t index) {
    const GraphFace& face = solid.graph().faces[index];
    const FaceSurface& surface = solid.surface(index);
    if (surface.is_round_both_ways()) return false;
    double height = solid.face_range(index).high - solid.face_range(index).low;
    if (!std::isfinite(height)) height = face_box(solid, index).sizes().z();
    const double most = straight_within / std::max(height, straight_within);
    if (surface.is_plane()) return std::abs(surface.z().z()) <= most;
    if (surface.kind() == GeomAbs_Cylinder) return surface.z().head<2>().norm() <= most;
    FaceInterior interior = interior_of(surface);
    bool straight = true;
    visit_grid(surface, [&](const Point2& uv) {
        const bool leans = std::abs(sample_at(face, surface, uv).normal.z()) > most;
        straight = !leans || (!surface.is_closed_form() && !interior.holds(uv));
        return straight;
    });
    return straight;
}

}  // namespace planform::solid
