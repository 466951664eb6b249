#include "model/bounds.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepBndLib.hxx>
#include <BRep_Tool.hxx>
#include <BndLib_Add3dCurve.hxx>
#include <Bnd_Box.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>

namespace planform::model {

namespace {

void extend(Box3& box, const Bnd_Box& part) {
    if (part.IsVoid()) return;
    Point3 low, high;
    part.Get(low.x(), low.y(), low.z(), high.x(), high.y(), high.z());
    box.extend(low);
    box.extend(high);
}

Bnd_Box box_of(const TopoDS_Edge& edge) {
    const BRepAdaptor_Curve curve(edge);
    Bnd_Box box;
    switch (curve.GetType()) {
        case GeomAbs_Line:
        case GeomAbs_Circle:
        case GeomAbs_Ellipse:
            BndLib_Add3dCurve::Add(curve, 0.0, box);
            break;
        default:
            BndLib_Add3dCurve::AddOptimal(curve, curve.FirstParameter(), curve.LastParameter(), 0.0,
                                          box);
            box.SetGap(0.0);
    }
    return box;
}

/// True if every extreme of a face is reached on its edges too: along a ruling of these surfaces
/// the normal is constant, so an extreme inside extends along the ruling to the boundary.
bool reaches_extremes_on_edges(const TopoDS_Face& face) {
    const GeomAbs_SurfaceType type = BRepAdaptor_Surface(face, Standard_False).GetType();
    return type == GeomAbs_Plane || type == GeomAbs_Cylinder || type == GeomAbs_Cone ||
           type == GeomAbs_SurfaceOfExtrusion;
}

}  // namespace

Box3 tight_box(const TopoDS_Shape& shape) {
    Box3 box;
    TopTools_IndexedMapOfShape edges, faces;
    TopExp::MapShapes(shape, TopAbs_EDGE, edges);
    for (int i = 1; i <= edges.Extent(); ++i) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
        if (!BRep_Tool::Degenerated(edge)) extend(box, box_of(edge));
    }
    TopExp::MapShapes(shape, TopAbs_FACE, faces);
    for (int i = 1; i <= faces.Extent(); ++i) {
        const TopoDS_Face& face = TopoDS::Face(faces(i));
        if (reaches_extremes_on_edges(face)) continue;
        Bnd_Box part;
        BRepBndLib::AddOptimal(face, part, Standard_False, Standard_False);
        part.SetGap(0.0);
        extend(box, part);
    }
    return box;
}

}  // namespace planform::model
