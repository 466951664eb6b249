#include "unfold/sheet_body.hpp"

#include <cmath>

#include "model/measure/face_integral.hpp"
#include "model/measure/measure.hpp"

namespace planform::unfolding {

namespace {

/// Normals closer than this make one surface go on as another, rad: files round directions, and
/// the least bend is far larger.
constexpr double smooth_within = 5e-3;
/// A spline within this share of the body's size, and this many mm, of a plane, cylinder or cone is
/// one.
constexpr double recognition_share = 1e-6;
constexpr double most_recognition = 1e-3;
/// Places of an edge that are looked at.
constexpr double shares[] = {0.0, 0.25, 0.5, 0.75, 1.0};

/// Of what is no wall or bend a rough area will do: how large a share of the surface it is.
double area_of(const solid::GraphFace& face, const SheetSurface& surface) {
    if (surface.kind != SurfaceKind::other) return model::face_area(face.shape);
    const auto integral = model::integral_over(face.shape, Point3::Zero(), model::Effort::quick);
    return integral ? integral->area : 0.0;
}

}  // namespace

SheetBody::SheetBody(const TopoDS_Shape& shape)
    : graph(solid::build_shape_graph(shape, Datum::xy())), shape_(shape) {
    uses_of_edge.resize(graph.edges.size());
    Box3 whole;
    for (std::size_t i = 0; i < graph.faces.size(); ++i) {
        const solid::GraphFace& face = graph.faces[i];
        std::vector<Point3>& along = places.emplace_back();
        for (std::size_t k = 0; k < face.uses.size(); ++k) {
            const int index = face.uses[k].edge;
            uses_of_edge[static_cast<std::size_t>(index)].push_back(
                {static_cast<int>(i), static_cast<int>(k)});
            if (edge(index).degenerate()) continue;
            for (const double share : shares) along.push_back(point(index, share));
        }
        Box3& box = boxes.emplace_back();
        for (const Point3& place : along) box.extend(place);
        whole.extend(box);
    }
    size = whole.isEmpty() ? 0.0 : whole.diagonal().norm();
    const double recognition = std::min(most_recognition, recognition_share * size);
    for (const solid::GraphFace& face : graph.faces) {
        const solid::FaceSurface& surface = surfaces.emplace_back(face, graph.placement);
        sheets.push_back(sheet_surface(surface, face.outward, recognition));
        areas.push_back(area_of(face, sheets.back()));
        surface_area += areas.back();
    }
}

int SheetBody::beyond(int edge, int face) const {
    const auto& uses = uses_of_edge[static_cast<std::size_t>(edge)];
    if (uses.size() < 2) return -1;
    return uses[0].face == face ? uses[1].face : uses[0].face;
}

FaceUse SheetBody::use_of(int edge, int face) const {
    for (const FaceUse& use : uses_of_edge[static_cast<std::size_t>(edge)])
        if (use.face == face) return use;
    return {-1, -1};
}

double SheetBody::parameter(int index, double share) const {
    const solid::GraphEdge& along = edge(index);
    return along.first + share * (along.last - along.first);
}

Point3 SheetBody::point(int index, double share) const {
    return edge(index).point(parameter(index, share));
}

Vector3 SheetBody::normal_at(const FaceUse& use, double t) const {
    const SheetSurface& plain = sheet(use.face);
    const int index = face(use.face).uses[static_cast<std::size_t>(use.use)].edge;
    if (plain.kind != SurfaceKind::other) return plain.outward_at(edge(index).point(t));
    const solid::ParameterCurve& side =
        surface(use.face).boundary()[static_cast<std::size_t>(use.use)];
    if (side.curve.IsNull()) return Vector3::Zero();
    const gp_Pnt2d uv = side.curve->Value(t);
    return outward_normal(surface(use.face), face(use.face).outward, {uv.X(), uv.Y()});
}

Meeting SheetBody::meeting(int index, const FaceUse& first, const FaceUse& second) const {
    bool is_smooth = true;
    for (const double share : {0.1, 0.5, 0.9}) {
        const double t = parameter(index, share);
        if (normal_at(first, t).cross(normal_at(second, t)).norm() > smooth_within ||
            normal_at(first, t).dot(normal_at(second, t)) < 0.0)
            is_smooth = false;
    }
    if (is_smooth) return Meeting::smooth;
    const double t = parameter(index, 0.5);
    const Vector3 normal = normal_at(first, t);
    const solid::GraphFace& used_by = face(first.face);
    const bool along = used_by.uses[static_cast<std::size_t>(first.use)].along;
    Vector3 direction = point(index, 0.501) - point(index, 0.499);
    // The material of the face lies to the left of its boundary, seen from outside.
    if (along != (used_by.outward > 0)) direction = -direction;
    const Vector3 into_face = normal.cross(direction);
    return into_face.dot(normal_at(second, t)) > 0.0 ? Meeting::inward : Meeting::outward;
}

}  // namespace planform::unfolding
