#include "unfold/closed_forms.hpp"

#include <BRepTools_Modification.hxx>
#include <BRepTools_Modifier.hxx>
#include <BRep_Tool.hxx>
#include <GeomAPI.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Plane.hxx>
#include <ShapeAnalysis_Surface.hxx>
#include <ShapeConstruct_ProjectCurveOnSurface.hxx>
#include <Standard_Failure.hxx>
#include <TopLoc_Location.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax3.hxx>
#include <gp_Pln.hxx>
#include <vector>

#include "model/kernel/points.hpp"
#include "model/measure/measure.hpp"
#include "model/measure/planar_face.hpp"

namespace planform::unfolding {

namespace {

/// As much larger than what surfaces are recognised by may volumes differ for each mm^2 of surface.
constexpr double recognised_within = 1e-3;
constexpr double recognised_share = 1e-6;

/// With the same side of its own normal as the face's own surface. Its seam lies opposite of the
/// face.
Handle(Geom_Surface) surface_like(const SheetBody& body, int index) {
    const SheetSurface& surface = body.sheet(index);
    const int outward = body.face(index).outward;
    if (surface.kind == SurfaceKind::plane)
        return new Geom_Plane(model::to_kernel_point(surface.origin),
                              model::to_kernel_direction(outward * surface.axis));
    const Vector3& axis = surface.axis;
    const double above =
        surface.kind == SurfaceKind::cone
            ? (body.places[static_cast<std::size_t>(index)].front() - surface.origin).dot(axis)
            : 0.0;
    gp_Ax3 frame(model::to_kernel_point(surface.origin + above * axis),
                 model::to_kernel_direction(axis), model::to_kernel_direction(-surface.middle));
    // dS/du x dS/dv looks away from the axis of a right-handed frame.
    if (surface.hollow == (outward > 0)) frame.YReverse();
    if (surface.kind == SurfaceKind::cylinder)
        return new Geom_CylindricalSurface(frame, surface.radius);
    return new Geom_ConicalSurface(frame, surface.half_angle, above * std::tan(surface.half_angle));
}

bool has_seam(const SheetBody& body, int face) {
    for (const solid::EdgeUse& use : body.face(face).uses)
        if (body.beyond(use.edge, face) == face || body.edge(use.edge).degenerate()) return true;
    return false;
}

class Conversion : public BRepTools_Modification {
  public:
    explicit Conversion(const SheetBody& body) {
        const TopTools_IndexedMapOfShape faces = model::parts_of(body.shape(), TopAbs_FACE);
        for (std::size_t i = 0; i < body.face_count(); ++i) {
            const int face = static_cast<int>(i);
            const SheetSurface& surface = body.sheet(face);
            if (!surface.is_fitted || surface.kind == SurfaceKind::other || has_seam(body, face))
                continue;
            faces_.Add(faces(body.face(face).number));
            surfaces_.push_back(surface_like(body, face));
        }
    }
    bool has_any() const { return !surfaces_.empty(); }

    Standard_Boolean NewSurface(const TopoDS_Face& face, Handle(Geom_Surface) & surface,
                                TopLoc_Location& location, Standard_Real& tolerance,
                                Standard_Boolean& reverses_wires,
                                Standard_Boolean& reverses_face) override {
        surface = surface_of(face);
        if (surface.IsNull()) return Standard_False;
        location.Identity();  // It lies where the body does, in the coordinates of the model.
        tolerance = BRep_Tool::Tolerance(face);
        reverses_wires = reverses_face = Standard_False;
        return Standard_True;
    }
    Standard_Boolean NewCurve(const TopoDS_Edge&, Handle(Geom_Curve) &, TopLoc_Location&,
                              Standard_Real&) override {
        return Standard_False;
    }
    Standard_Boolean NewPoint(const TopoDS_Vertex&, gp_Pnt&, Standard_Real&) override {
        return Standard_False;
    }
    Standard_Boolean NewCurve2d(const TopoDS_Edge& edge, const TopoDS_Face& face,
                                const TopoDS_Edge&, const TopoDS_Face&, Handle(Geom2d_Curve) & flat,
                                Standard_Real& tolerance) override {
        const Handle(Geom_Surface) surface = surface_of(face);
        if (surface.IsNull()) return Standard_False;
        double first = 0.0, last = 0.0;
        Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
        if (curve.IsNull()) return Standard_False;
        tolerance = BRep_Tool::Tolerance(edge);
        if (const auto plane = Handle(Geom_Plane)::DownCast(surface); !plane.IsNull()) {
            flat = GeomAPI::To2d(curve, plane->Pln());
        } else {
            ShapeConstruct_ProjectCurveOnSurface projection;
            projection.Init(surface, tolerance);
            projection.Perform(curve, first, last, flat);
        }
        return !flat.IsNull();
    }
    Standard_Boolean NewParameter(const TopoDS_Vertex&, const TopoDS_Edge&, Standard_Real&,
                                  Standard_Real&) override {
        return Standard_False;
    }
    GeomAbs_Shape Continuity(const TopoDS_Edge& edge, const TopoDS_Face& first,
                             const TopoDS_Face& second, const TopoDS_Edge&, const TopoDS_Face&,
                             const TopoDS_Face&) override {
        return BRep_Tool::Continuity(edge, first, second);
    }

  private:
    Handle(Geom_Surface) surface_of(const TopoDS_Face& face) const {
        const int at = faces_.FindIndex(face);
        return at == 0 ? Handle(Geom_Surface)() : surfaces_[static_cast<std::size_t>(at) - 1];
    }

    TopTools_IndexedMapOfShape faces_;
    std::vector<Handle(Geom_Surface)> surfaces_;
};

}  // namespace

bool has_fitted_surfaces(const SheetBody& body) {
    return std::any_of(body.sheets.begin(), body.sheets.end(), [](const SheetSurface& surface) {
        return surface.is_fitted && surface.kind != SurfaceKind::other;
    });
}

std::optional<TopoDS_Shape> in_closed_forms(const SheetBody& body) {
    try {
        const Handle(Conversion) conversion = new Conversion(body);
        if (!conversion->has_any()) return std::nullopt;
        BRepTools_Modifier modifier(body.shape(), conversion);
        if (!modifier.IsDone()) return std::nullopt;
        TopoDS_Shape result = modifier.ModifiedShape(body.shape());
        const double within =
            std::min(recognised_within, recognised_share * body.size) * body.surface_area;
        if (std::abs(model::volume_of(result) - body.volume()) > within) return std::nullopt;
        return result;
    } catch (const Standard_Failure&) {
        return std::nullopt;
    }
}

}  // namespace planform::unfolding
