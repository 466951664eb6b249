#include "solid/section_solid.hpp"

#include <BRep_Tool.hxx>
#include <BndLib_Add3dCurve.hxx>
#include <Bnd_Box.hxx>
#include <GeomAdaptor_Curve.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_BezierSurface.hxx>
#include <Geom_Circle.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Ellipse.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <Geom_RectangularTrimmedSurface.hxx>
#include <Geom_SphericalSurface.hxx>
#include <Geom_SurfaceOfLinearExtrusion.hxx>
#include <Geom_SurfaceOfRevolution.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <Precision.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <gp_Lin.hxx>
#include <utility>

namespace planform::solid {
namespace {

double height_of(gp_Pnt p, const gp_Trsf& placement) {
    p.Transform(placement);
    return p.Z();
}

double height_of(gp_Dir d, const gp_Trsf& placement) {
    d.Transform(placement);
    return d.Z();
}

/// Of center + a cos t + b sin t over all t.
template <typename Conic>
HeightRange conic_range(const Conic& conic, double a, double b, const gp_Trsf& placement) {
    const double center = height_of(conic->Location(), placement);
    const double swing = std::hypot(a * height_of(conic->Position().XDirection(), placement),
                                    b * height_of(conic->Position().YDirection(), placement));
    return {center - swing, center + swing};
}

/// Positive weights: the curve lies in the hull of its poles.
template <typename Poles>
HeightRange pole_range(const Poles& curve, const gp_Trsf& placement) {
    HeightRange range;
    for (int i = 1; i <= curve->NbPoles(); ++i) range.extend(height_of(curve->Pole(i), placement));
    return range;
}

template <typename Surface>
HeightRange net_range(const Surface& surface, const gp_Trsf& placement) {
    HeightRange range;
    for (int i = 1; i <= surface->NbUPoles(); ++i)
        for (int j = 1; j <= surface->NbVPoles(); ++j)
            range.extend(height_of(surface->Pole(i, j), placement));
    return range;
}

/// Of the points of a box that turns about an axis: along the axis the box has its extremes in its
/// corners, and so has it its greatest distance from the axis.
HeightRange turned_range(const Handle(Geom_SurfaceOfRevolution) & surface,
                         const gp_Trsf& placement) {
    const Handle(Geom_Curve) curve = surface->BasisCurve();
    if (Precision::IsInfinite(curve->FirstParameter()) ||
        Precision::IsInfinite(curve->LastParameter()))
        return HeightRange::everything();
    Bnd_Box box;
    BndLib_Add3dCurve::Add(GeomAdaptor_Curve(curve), 0.0, box);
    if (box.IsOpen() || box.IsVoid()) return HeightRange::everything();
    const gp_Ax1 axis = surface->Axis();
    const double slope = height_of(axis.Direction(), placement);
    const double across = std::sqrt(std::max(0.0, (1.0 - slope) * (1.0 + slope)));
    const gp_Pnt low = box.CornerMin(), high = box.CornerMax();
    HeightRange along;
    double reach = 0.0;
    for (int corner = 0; corner < 8; ++corner) {
        const gp_Pnt p((corner & 1) != 0 ? high.X() : low.X(),
                       (corner & 2) != 0 ? high.Y() : low.Y(),
                       (corner & 4) != 0 ? high.Z() : low.Z());
        along.extend(gp_Vec(axis.Location(), p).Dot(axis.Direction()));
        reach = std::max(reach, gp_Lin(axis).Distance(p));
    }
    const double foot = height_of(axis.Location(), placement);
    HeightRange range;
    for (const double distance : {along.low, along.high}) {
        range.extend(foot + slope * distance + across * reach);
        range.extend(foot + slope * distance - across * reach);
    }
    return range;
}

}  // namespace

void HeightRange::extend(double height) {
    low = std::min(low, height);
    high = std::max(high, height);
}

void HeightRange::extend(const HeightRange& other) {
    low = std::min(low, other.low);
    high = std::max(high, other.high);
}

HeightRange HeightRange::everything() {
    return {-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
}

SectionSolid::Shared::Shared(ShapeGraph shape_graph) : graph(std::move(shape_graph)) {
    for (const GraphEdge& edge : graph.edges) edge_ranges.push_back(bound_edge(edge));
    for (const GraphFace& face : graph.faces) {
        face_ranges.push_back(bound_face(face));
        range.extend(face_ranges.back());
    }
}

SectionSolid::SectionSolid(ShapeGraph graph)
    : shared_(std::make_shared<const Shared>(std::move(graph))),
      surfaces_(shared_->graph.faces.size()) {}

SectionSolid::SectionSolid(const SectionSolid& other)
    : shared_(other.shared_), surfaces_(shared_->graph.faces.size()) {}

const FaceSurface& SectionSolid::surface(std::size_t face) const {
    if (!surfaces_[face])
        surfaces_[face] = std::make_unique<FaceSurface>(graph().faces[face], graph().placement);
    return *surfaces_[face];
}

HeightRange SectionSolid::Shared::bound_edge(const GraphEdge& edge) const {
    HeightRange bound;
    for (const int vertex : {edge.start_vertex, edge.end_vertex})
        if (vertex >= 0) bound.extend(graph.vertices[static_cast<std::size_t>(vertex)].z());
    if (edge.degenerate()) return bound;
    Handle(Geom_Curve) curve = edge.curve;
    while (curve->IsKind(STANDARD_TYPE(Geom_TrimmedCurve)))
        curve = Handle(Geom_TrimmedCurve)::DownCast(curve)->BasisCurve();
    if (curve->IsKind(STANDARD_TYPE(Geom_Line))) {
        bound.extend(edge.point(edge.first).z());
        bound.extend(edge.point(edge.last).z());
    } else if (const auto circle = Handle(Geom_Circle)::DownCast(curve); !circle.IsNull()) {
        bound.extend(conic_range(circle, circle->Radius(), circle->Radius(), edge.placement()));
    } else if (const auto ellipse = Handle(Geom_Ellipse)::DownCast(curve); !ellipse.IsNull()) {
        bound.extend(
            conic_range(ellipse, ellipse->MajorRadius(), ellipse->MinorRadius(), edge.placement()));
    } else if (const auto spline = Handle(Geom_BSplineCurve)::DownCast(curve); !spline.IsNull()) {
        bound.extend(pole_range(spline, edge.placement()));
    } else if (const auto bezier = Handle(Geom_BezierCurve)::DownCast(curve); !bezier.IsNull()) {
        bound.extend(pole_range(bezier, edge.placement()));
    } else {
        return HeightRange::everything();
    }
    return bound;
}

/// A ruled surface reaches its heights on the boundary; so do planes. Others are bounded as a
/// whole.
HeightRange SectionSolid::Shared::bound_face(const GraphFace& face) const {
    HeightRange bound;
    for (const EdgeUse& use : face.uses)
        bound.extend(edge_ranges[static_cast<std::size_t>(use.edge)]);
    TopLoc_Location location;
    Handle(Geom_Surface) surface = BRep_Tool::Surface(face.shape, location);
    const gp_Trsf placement = graph.placement.Multiplied(location.Transformation());
    while (surface->IsKind(STANDARD_TYPE(Geom_RectangularTrimmedSurface)))
        surface = Handle(Geom_RectangularTrimmedSurface)::DownCast(surface)->BasisSurface();
    if (surface->IsKind(STANDARD_TYPE(Geom_Plane)) ||
        surface->IsKind(STANDARD_TYPE(Geom_CylindricalSurface)) ||
        surface->IsKind(STANDARD_TYPE(Geom_ConicalSurface)) ||
        surface->IsKind(STANDARD_TYPE(Geom_SurfaceOfLinearExtrusion)))
        return bound;
    if (const auto sphere = Handle(Geom_SphericalSurface)::DownCast(surface); !sphere.IsNull()) {
        const double center = height_of(sphere->Location(), placement);
        bound.extend({center - sphere->Radius(), center + sphere->Radius()});
        return bound;
    }
    if (const auto torus = Handle(Geom_ToroidalSurface)::DownCast(surface); !torus.IsNull()) {
        const double center = height_of(torus->Location(), placement);
        const double along = height_of(torus->Position().Direction(), placement);
        const double across = std::sqrt(std::max(0.0, (1.0 - along) * (1.0 + along)));
        const double reach = torus->MajorRadius() * across + torus->MinorRadius();
        bound.extend({center - reach, center + reach});
        return bound;
    }
    if (const auto spline = Handle(Geom_BSplineSurface)::DownCast(surface); !spline.IsNull()) {
        bound.extend(net_range(spline, placement));
        return bound;
    }
    if (const auto bezier = Handle(Geom_BezierSurface)::DownCast(surface); !bezier.IsNull()) {
        bound.extend(net_range(bezier, placement));
        return bound;
    }
    if (const auto turned = Handle(Geom_SurfaceOfRevolution)::DownCast(surface); !turned.IsNull()) {
        bound.extend(turned_range(turned, placement));
        return bound;
    }
    return HeightRange::everything();
}

}  // namespace planform::solid
