/// Round holes whose axis is not along the datum's normal.

#include <algorithm>
#include <cmath>
#include <set>

#include "curve/angles.hpp"
#include "features/finder.hpp"
#include "solid/face_lean.hpp"

namespace planform::features {
namespace {

/// Axes nearer than this (mm; rad over 1 mm) are one.
constexpr double same_axis = 1e-5;
/// A hole's faces reach at least this far around its axis, of 12 parts; blends reach a quarter.
constexpr int least_parts_around = 5, parts_around = 12;

bool same_line(const FaceView& a, const FaceView& b) {
    const Vector3 way = b.on_axis - a.on_axis;
    return a.axis.cross(b.axis).norm() < same_axis && a.axis.cross(way).norm() < same_axis;
}

/// How many of 12 parts of a turn around the axis the faces reach.
int reach_around(const PlateView& view, const std::vector<std::size_t>& faces) {
    const FaceView& first = view.face(faces.front());
    const Vector3 x = first.axis.unitOrthogonal(), y = first.axis.cross(x);
    std::set<int> parts;
    for (const std::size_t index : faces)
        for (const solid::FaceSample& sample : solid::face_samples(view.solid(), index)) {
            const Vector3 way = sample.place - first.on_axis;
            const double turn = std::atan2(way.dot(y), way.dot(x)) / full_turn + 0.5;
            parts.insert(static_cast<int>(turn * parts_around) % parts_around);
        }
    return static_cast<int>(parts.size());
}

/// The same direction for both ways that an axis can be written.
Vector3 with_fixed_sign(const Vector3& axis) {
    for (int i = 0; i < 3; ++i)
        if (std::abs(axis[i]) > 1e-9) return axis[i] > 0.0 ? axis : Vector3(-axis);
    return axis;
}

}  // namespace

void Finder::find_cross_holes() {
    std::vector<std::vector<std::size_t>> holes;
    for (const FaceView& face : view_.faces()) {
        if (!is_left(face.index) || face.role != FaceRole::rounding || !face.hollow ||
            face.kind != GeomAbs_Cylinder)
            continue;
        const auto same = std::find_if(holes.begin(), holes.end(), [&](const auto& faces) {
            const FaceView& other = view_.face(faces.front());
            return std::abs(other.radius - face.radius) < same_axis && same_line(other, face);
        });
        if (same == holes.end())
            holes.push_back({face.index});
        else
            same->push_back(face.index);
    }
    for (const std::vector<std::size_t>& faces : holes) {
        bool up = false, down = false;
        for (const std::size_t face : faces) {
            up = up || view_.face(face).looks_up;
            down = down || view_.face(face).looks_down;
        }
        if (up && down && reach_around(view_, faces) >= least_parts_around) add_cross_hole(faces);
    }
}

void Finder::add_cross_hole(std::vector<std::size_t> faces) {
    const FaceView& hole = view_.face(faces.front());
    double first = INFINITY, last = -INFINITY;  // along the axis
    for (const std::size_t face : faces)
        for (const solid::EdgeUse& use : view_.solid().graph().faces[face].uses) {
            const solid::GraphEdge& edge =
                view_.solid().graph().edges[static_cast<std::size_t>(use.edge)];
            constexpr int steps = 32;
            for (int i = 0; i <= steps && !edge.degenerate(); ++i) {
                const Point3 p = edge.point(edge.first + (edge.last - edge.first) * i / steps);
                const double along = (p - hole.on_axis).dot(hole.axis);
                first = std::min(first, along);
                last = std::max(last, along);
            }
        }
    const Point3 middle = hole.on_axis + (first + last) / 2.0 * hole.axis;
    // The tip of the drill, a countersink at the mouth.
    for (const FaceView& face : view_.faces())
        if (is_left(face.index) && face.kind == GeomAbs_Cone && face.hollow &&
            same_line(hole, face))
            faces.push_back(face.index);
    const Region region = view_.region_of(faces);
    UncuttableFeature feature = described(FeatureKind::cross_hole, FeatureSide::wall, region);
    feature.place = middle.head<2>();
    feature.depth = view_.top() - middle.z();
    feature.diameter = 2.0 * hole.radius;
    feature.axis = with_fixed_sign(hole.axis);
    feature.angle = std::atan2(std::abs(hole.axis.z()), hole.axis.head<2>().norm());
    add(std::move(feature));
    take(region);
}

}  // namespace planform::features
