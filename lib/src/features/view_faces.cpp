#include "features/view_faces.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "features/closed_form.hpp"
#include "solid/face_lean.hpp"

namespace planform::features {
namespace {

using solid::FaceSample;

/// A face looks up (down) if its normal does by more than this (rad), so that the noise of a
/// tangent blend does not count.
constexpr double facing_noise = 1e-3;

/// Angle between a surface with this unit normal and a straight wall.
double lean_of(const Vector3& normal) {
    return std::atan2(std::abs(normal.z()), normal.head<2>().norm());
}

void look_at(FaceView& view, const std::vector<FaceSample>& samples) {
    double away = 0.0;  // from the axis or centre
    for (const FaceSample& sample : samples) {
        view.lean = std::max(view.lean, lean_of(sample.normal));
        view.looks_up = view.looks_up || sample.normal.z() > facing_noise;
        view.looks_down = view.looks_down || sample.normal.z() < -facing_noise;
        away += outward_of(view, sample.place).dot(sample.normal);
    }
    view.hollow = away < 0.0;
}

/// A plane's angle follows from its own normal, a cone's from its own: exact, unlike samples.
void take_exact_lean(FaceView& view) {
    if (view.kind == GeomAbs_Plane) view.lean = lean_of(view.axis);
    if (view.kind == GeomAbs_Cone && view.is_upright()) view.lean = view.half_angle;
}

FaceRole role_of(const FaceView& view) {
    if (view.kind == GeomAbs_Plane) return FaceRole::bevel;
    if (view.kind == GeomAbs_Cone && view.is_upright()) return FaceRole::bevel;
    if (view.kind == GeomAbs_Cylinder || view.kind == GeomAbs_Sphere || view.kind == GeomAbs_Torus)
        return FaceRole::rounding;
    return FaceRole::free;
}

}  // namespace

std::vector<FaceView> view_faces(const solid::SectionSolid& solid,
                                 const std::vector<solid::FlatFace>& flats,
                                 const solid::CapLevels& caps) {
    std::map<std::size_t, const solid::FlatFace*> flat_of;
    for (const solid::FlatFace& flat : flats) flat_of[flat.face] = &flat;
    std::vector<FaceView> views;
    for (std::size_t i = 0; i < solid.graph().faces.size(); ++i) {
        FaceView view;
        view.index = i;
        view.number = solid.graph().faces[i].number;
        view.box = solid::face_box(solid, i);
        read_closed_form(solid, i, view);
        if (const auto flat = flat_of.find(i); flat != flat_of.end()) {
            const solid::FlatFace& face = *flat->second;
            view.role = caps.is_top(face)      ? FaceRole::top
                        : caps.is_bottom(face) ? FaceRole::bottom
                                               : FaceRole::flat;
            view.looks_up = face.looks_up;
            view.looks_down = !face.looks_up;
            view.lean = pi / 2.0;
            view.box.min().z() = face.range.low;
            view.box.max().z() = face.range.high;
        } else if (solid::is_straight_wall(solid, i)) {
            if (view.kind == GeomAbs_Cylinder) look_at(view, solid::normal_samples(solid, i));
            view.looks_up = view.looks_down = false;
        } else {
            recognise(solid, i, view);
            look_at(view, solid::normal_samples(solid, i));
            take_exact_lean(view);
            view.role = role_of(view);
        }
        views.push_back(view);
    }
    return views;
}

}  // namespace planform::features
