#include "flatten/proof/surface_places.hpp"

#include <GeomAdaptor_Curve.hxx>
#include <Geom_Line.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "flatten/face_interior.hpp"
#include "flatten/face_surface.hpp"

namespace planform::flatten {
namespace {

/// How many pieces an edge has.
int pieces_of(const GraphEdge& edge) {
    if (edge.curve->DynamicType() == STANDARD_TYPE(Geom_Line)) return 1;
    const GeomAdaptor_Curve curve(edge.curve, edge.first, edge.last);
    if (curve.GetType() == GeomAbs_Circle || curve.GetType() == GeomAbs_Ellipse)
        return static_cast<int>(std::ceil((edge.last - edge.first) / (0.25 * pi)));
    // Twice as many as spans: the middle of a span alone is where a symmetric wave has its crest.
    return 2 * std::max(1, curve.NbIntervals(GeomAbs_CN));
}

}  // namespace

void add_edge_places(const ShapeGraph& graph, const GraphFace& face, int solid, int most,
                     std::vector<SurfacePlace>& places) {
    for (const EdgeUse& use : face.uses) {
        const GraphEdge& edge = graph.edges[static_cast<std::size_t>(use.edge)];
        if (edge.degenerate()) continue;
        const int count = std::min(most, pieces_of(edge));
        for (int i = 0; i < count; ++i) {
            const double t = edge.first + (edge.last - edge.first) * (i + 0.5) / count;
            places.push_back({edge.point(t).head<2>(), solid, face.number});
        }
    }
}

void add_inner_places(const ShapeGraph& graph, const GraphFace& face, int solid, int count,
                      std::vector<SurfacePlace>& places) {
    const FaceSurface surface(face, graph.placement);
    if (surface.kind() == GeomAbs_Plane) return;  // its edges bound it on the datum, too
    FaceInterior interior(surface, 1e-6);
    for (int i = 0; i < count; ++i)
        for (int j = 0; j < count; ++j) {
            const Point2 share((i + 0.5) / count, (j + 0.5) / count);
            const Point2 uv = surface.low() + share.cwiseProduct(surface.range());
            if (interior.holds(uv))
                places.push_back({surface.first_order(uv).position.head<2>(), solid, face.number});
        }
}

}  // namespace planform::flatten
