#include "features/junctions.hpp"

#include <BRep_Tool.hxx>
#include <ShapeAnalysis_Surface.hxx>
#include <algorithm>
#include <gp_Pnt2d.hxx>
#include <optional>

#include "model/kernel/points.hpp"
#include "model/measure/bounds.hpp"

namespace planform::features {
namespace {

using solid::EdgeUse;
using solid::GraphEdge;
using solid::GraphFace;

/// Faces that meet at less than this (sine) go over into each other smoothly: blends in files are
/// tangent to a fraction of it.
constexpr double smooth_below = 5e-3;

/// A use of an edge by a face.
struct Use {
    std::size_t face;
    std::size_t place;  ///< in the face's uses
};

/// Unit normal out of the solid, of a face at a place on the edge.
std::optional<Vector3> normal_at(const solid::SectionSolid& solid, const Use& use, double t,
                                 const Point3& place) {
    const GraphFace& face = solid.graph().faces[use.face];
    const solid::FaceSurface& surface = solid.surface(use.face);
    Point2 uv = Point2::Zero();
    if (surface.kind() != GeomAbs_Plane) {
        const solid::ParameterCurve& side = surface.boundary()[use.place];
        if (side.curve.IsNull()) {
            ShapeAnalysis_Surface projector(BRep_Tool::Surface(face.shape));
            const gp_Pnt at =
                model::to_kernel_point(place).Transformed(solid.graph().placement.Inverted());
            uv = model::from_kernel(projector.ValueOfUV(at, 1e-6));
        } else {
            uv = model::from_kernel(side.curve->Value(t));
        }
    }
    const solid::SurfacePoint at = surface.first_order(uv);
    const Vector3 normal = at.du.cross(at.dv);
    if (!(normal.norm() > 0.0)) return std::nullopt;
    return face.outward * normal.normalized();
}

/// The bend in the middle of an edge. Seen from outside with the boundary of the first face
/// running along t, that face lies to the left: on n x t.
std::optional<Bend> bend_at(const solid::SectionSolid& solid, const Use& a, const Use& b,
                            const GraphEdge& edge, double t) {
    const Point3 place = edge.point(t);
    const std::optional<Vector3> first = normal_at(solid, a, t, place);
    const std::optional<Vector3> second = normal_at(solid, b, t, place);
    const double step = 1e-4 * (edge.last - edge.first);
    Vector3 along = edge.point(t + step) - edge.point(t - step);
    if (!first || !second || !(along.norm() > 0.0)) return std::nullopt;
    along.normalize();
    const GraphFace& face = solid.graph().faces[a.face];
    if (face.uses[a.place].along != (face.outward > 0)) along = -along;
    const double rise = first->cross(along).dot(*second);
    if (first->cross(*second).norm() < smooth_below && first->dot(*second) > 0.0)
        return Bend::smooth;
    return rise > 0.0 ? Bend::concave : Bend::convex;
}

Bend bend_of(const solid::SectionSolid& solid, const Use& a, const Use& b, const GraphEdge& edge) {
    for (const double share : {0.5, 0.37, 0.71})
        if (const auto bend =
                bend_at(solid, a, b, edge, edge.first + share * (edge.last - edge.first)))
            return *bend;
    return Bend::smooth;
}

}  // namespace

Junctions::Junctions(const solid::SectionSolid& solid) {
    const solid::ShapeGraph& graph = solid.graph();
    std::vector<std::vector<Use>> uses(graph.edges.size());
    std::vector<const EdgeUse*> shapes(graph.edges.size(), nullptr);
    for (std::size_t i = 0; i < graph.faces.size(); ++i)
        for (std::size_t k = 0; k < graph.faces[i].uses.size(); ++k) {
            const EdgeUse& use = graph.faces[i].uses[k];
            uses[static_cast<std::size_t>(use.edge)].push_back({i, k});
            shapes[static_cast<std::size_t>(use.edge)] = &use;
        }
    of_face_.resize(graph.faces.size());
    const TopLoc_Location location(graph.placement);
    for (std::size_t e = 0; e < graph.edges.size(); ++e) {
        const GraphEdge& edge = graph.edges[e];
        if (edge.degenerate() || uses[e].size() < 2) continue;
        const Box3 box = model::tight_box(shapes[e]->plain->Moved(location));
        for (std::size_t k = 1; k < uses[e].size(); ++k) {
            const Use &a = uses[e][0], &b = uses[e][k];
            if (a.face == b.face) continue;  // a seam
            of_face_[a.face].push_back(junctions_.size());
            of_face_[b.face].push_back(junctions_.size());
            junctions_.push_back(
                {static_cast<int>(e), a.face, b.face, bend_of(solid, a, b, edge), box});
        }
    }
}

}  // namespace planform::features
