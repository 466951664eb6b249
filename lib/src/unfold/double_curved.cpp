#include "unfold/double_curved.hpp"

#include <BRep_Tool.hxx>
#include <GeomAPI_ProjectPointOnSurf.hxx>
#include <algorithm>
#include <cmath>
#include <vector>

namespace planform::unfolding {

namespace {

/// So many faces are looked at, the largest ones.
constexpr std::size_t most_faces = 12;
/// Thicknesses at different places of a sheet differ by no more than this share, and what lies
/// behind a place lies along its normal within this share of the thickness.
constexpr double same_thickness_share = 0.02;
constexpr double along_normal = 0.1;
/// A face has another behind it if this share of its places has.
constexpr double most_places = 0.5;

struct Place {
    Point3 place;
    Vector3 outward;
};

std::vector<Place> places_of(const SheetBody& body, int face) {
    const solid::FaceSurface& surface = body.surface(face);
    std::vector<Place> places;
    for (const double u : {0.25, 0.5, 0.75})
        for (const double v : {0.25, 0.5, 0.75}) {
            const Point2 uv = surface.low() + Vector2(u, v).cwiseProduct(surface.range());
            const Vector3 outward = outward_normal(surface, body.face(face).outward, uv);
            if (outward.norm() > 0.5) places.push_back({surface.first_order(uv).position, outward});
        }
    return places;
}

/// How far the surface of a face lies behind a place, mm.
std::optional<double> depth_to(const solid::FaceSurface& surface, const Place& from) {
    gp_Pnt at(from.place.x(), from.place.y(), from.place.z());
    at.Transform(surface.placement().Inverted());
    TopLoc_Location location;
    const GeomAPI_ProjectPointOnSurf projection(at, BRep_Tool::Surface(surface.face(), location),
                                                surface.low().x(), surface.high().x(),
                                                surface.low().y(), surface.high().y());
    std::optional<double> best;
    for (int i = 1; i <= projection.NbPoints(); ++i) {
        gp_Pnt there = projection.Point(i);
        there.Transform(surface.placement());
        const Vector3 way = Point3(there.X(), there.Y(), there.Z()) - from.place;
        const double depth = -way.dot(from.outward);
        if (!(depth > 0.0) || (way + depth * from.outward).norm() > along_normal * depth) continue;
        if (!best || depth < *best) best = depth;
    }
    return best;
}

/// The thickness of the sheet that two faces are the sides of.
std::optional<double> thickness_of(const SheetBody& body, int face, int behind) {
    const std::vector<Place> places = places_of(body, face);
    std::vector<double> depths;
    for (const Place& place : places)
        if (const auto depth = depth_to(body.surface(behind), place)) depths.push_back(*depth);
    if (depths.empty() ||
        static_cast<double>(depths.size()) < most_places * static_cast<double>(places.size()))
        return std::nullopt;
    const auto [least, most] = std::minmax_element(depths.begin(), depths.end());
    if (*most - *least > same_thickness_share * *most) return std::nullopt;
    return *most;
}

}  // namespace

std::optional<DoubleCurved> find_double_curved(const SheetBody& body) {
    std::vector<int> faces;
    for (std::size_t i = 0; i < body.face_count(); ++i)
        if (body.sheets[i].kind == SurfaceKind::other) faces.push_back(static_cast<int>(i));
    std::stable_sort(faces.begin(), faces.end(),
                     [&](int a, int b) { return body.area(a) > body.area(b); });
    if (faces.size() > most_faces) faces.resize(most_faces);
    std::optional<DoubleCurved> found;
    for (const int face : faces) {
        for (const int behind : faces) {
            if (behind == face) continue;
            const auto thickness = thickness_of(body, face, behind);
            if (!thickness) continue;
            if (!found) found = DoubleCurved{face, *thickness, 0.0};
            if (std::abs(*thickness - found->thickness) > same_thickness_share * found->thickness)
                continue;
            found->area += body.area(face);
            break;
        }
    }
    return found;
}

}  // namespace planform::unfolding
