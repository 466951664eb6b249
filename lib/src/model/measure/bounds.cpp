#include "model/measure/bounds.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepBndLib.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <BndLib_Add3dCurve.hxx>
#include <Bnd_Box.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "model/kernel/points.hpp"

namespace planform::model {

namespace {

constexpr double turn = 6.283185307179586;

void extend(Box3& box, const Bnd_Box& part) {
    if (part.IsVoid()) return;
    Point3 low, high;
    part.Get(low.x(), low.y(), low.z(), high.x(), high.y(), high.z());
    box.extend(low);
    box.extend(high);
}

bool is_exact(const BRepAdaptor_Curve& curve) {
    const GeomAbs_CurveType kind = curve.GetType();
    return kind == GeomAbs_Line || kind == GeomAbs_Circle || kind == GeomAbs_Ellipse;
}

/// A box that surely holds a spline: that of its poles (convex hull property, e.g. Piegl and
/// Tiller, The NURBS Book, property P4.10; weights are positive in the kernel). Nothing for other
/// curves.
std::optional<Box3> sure_box(const BRepAdaptor_Curve& curve) {
    if (curve.GetType() != GeomAbs_BSplineCurve) return std::nullopt;
    const Handle(Geom_BSplineCurve) spline = curve.BSpline();
    Box3 box;
    for (const gp_Pnt& pole : spline->Poles()) box.extend(from_kernel(pole));
    return box;
}

/// How far, mm, a face may stand out of the box of what it is bounded by, and no harm: far above
/// rounding, a hundredth of what tight_box promises for such faces.
constexpr double rounding = 1e-9;

bool contains(const Box3& box, const Box3& part) {
    const Vector3 slack = Vector3::Constant(rounding);
    return Box3(box.min() - slack, box.max() + slack).contains(part);
}

void extend_by_edge(Box3& box, const BRepAdaptor_Curve& curve) {
    Bnd_Box part;
    if (is_exact(curve)) {
        BndLib_Add3dCurve::Add(curve, 0.0, part);
    } else {
        const std::optional<Box3> sure = sure_box(curve);
        if (sure && contains(box, *sure)) return;
        BndLib_Add3dCurve::AddOptimal(curve, curve.FirstParameter(), curve.LastParameter(), 0.0,
                                      part);
        part.SetGap(0.0);
    }
    extend(box, part);
}

/// True if every extreme of a face is reached on its edges too: along a ruling of these surfaces
/// the normal is constant, so an extreme inside extends along the ruling to the boundary.
bool reaches_extremes_on_edges(const BRepAdaptor_Surface& surface) {
    const GeomAbs_SurfaceType kind = surface.GetType();
    return kind == GeomAbs_Plane || kind == GeomAbs_Cylinder || kind == GeomAbs_Cone ||
           kind == GeomAbs_SurfaceOfExtrusion;
}

/// Least and greatest.
using Range = std::pair<double, double>;

/// Range of a cos t + b sin t for t from first to last: the ends, and the crests between them.
Range range_of_wave(double a, double b, double first, double last) {
    const auto value = [&](double t) { return a * std::cos(t) + b * std::sin(t); };
    Range range = std::minmax(value(first), value(last));
    const double crest = std::atan2(b, a), height = std::hypot(a, b);
    const auto meets = [&](double t) { return t + turn * std::ceil((first - t) / turn) <= last; };
    if (meets(crest)) range.second = height;
    if (meets(crest + turn / 2.0)) range.first = -height;
    return range;
}

/// A torus, or a sphere as a torus without a centre circle, between parameters:
/// P = O + (R + r cos v) (cos u X + sin u Y) + r sin v Z.
struct Ring {
    Point3 origin;
    Vector3 x, y, z;
    double radius = 0.0, tube = 0.0;
    Range u, v;

    /// The box of the patch, exact. Along an axis, R + r cos v >= 0 weighs what goes round with u:
    /// its greatest value there makes the patch's, for every v; the rest is a wave along v.
    Box3 box() const {
        Box3 result(origin, origin);
        for (int axis = 0; axis < 3; ++axis) {
            const Range around = range_of_wave(x[axis], y[axis], u.first, u.second);
            const auto extreme = [&](double out) {
                const Range along = range_of_wave(tube * out, tube * z[axis], v.first, v.second);
                return Range(radius * out + along.first, radius * out + along.second);
            };
            result.min()[axis] += extreme(around.first).first;
            result.max()[axis] += extreme(around.second).second;
        }
        return result;
    }
};

/// The patch of a torus or sphere between the least and greatest parameters of a face; nothing for
/// other surfaces and for a torus that runs through its own axis.
std::optional<Ring> ring_of(const TopoDS_Face& face, const BRepAdaptor_Surface& surface) {
    Ring ring;
    gp_Ax3 frame;
    if (surface.GetType() == GeomAbs_Sphere) {
        frame = surface.Sphere().Position();
        ring.tube = surface.Sphere().Radius();
    } else if (surface.GetType() == GeomAbs_Torus) {
        frame = surface.Torus().Position();
        ring.radius = surface.Torus().MajorRadius();
        ring.tube = surface.Torus().MinorRadius();
        if (ring.tube > ring.radius) return std::nullopt;
    } else {
        return std::nullopt;
    }
    ring.origin = from_kernel(frame.Location());
    ring.x = from_kernel(frame.XDirection());
    ring.y = from_kernel(frame.YDirection());
    ring.z = from_kernel(frame.Direction());
    BRepTools::UVBounds(face, ring.u.first, ring.u.second, ring.v.first, ring.v.second);
    return ring;
}

/// Points whose convex hull holds the curve that a surface of revolution is made of; none if no
/// such are at hand.
std::vector<gp_Pnt> hull_of_profile(const BRepAdaptor_Surface& surface) {
    const Handle(Adaptor3d_Curve) profile = surface.BasisCurve();
    std::vector<gp_Pnt> hull;
    if (profile->GetType() == GeomAbs_BSplineCurve) {
        const Handle(Geom_BSplineCurve) spline = profile->BSpline();
        for (const gp_Pnt& pole : spline->Poles()) hull.push_back(pole);
    } else if (profile->GetType() == GeomAbs_Circle) {
        const gp_Circ circle = profile->Circle();
        const gp_Vec x = gp_Vec(circle.XAxis().Direction()) * circle.Radius();
        const gp_Vec y = gp_Vec(circle.YAxis().Direction()) * circle.Radius();
        for (const double i : {-1.0, 1.0}) {
            for (const double j : {-1.0, 1.0}) {
                hull.push_back(circle.Location().Translated(x * i + y * j));
            }
        }
    }
    return hull;
}

/// The box of the arcs that the profile's hull runs through, which holds the surface: each of its
/// points lies between those of the hull, turned alike.
std::optional<Box3> box_of_revolved(const TopoDS_Face& face, const BRepAdaptor_Surface& surface) {
    const std::vector<gp_Pnt> hull = hull_of_profile(surface);
    if (hull.empty()) return std::nullopt;
    const gp_Ax1 axis = surface.AxeOfRevolution();
    const Point3 origin = from_kernel(axis.Location());
    const Vector3 z = from_kernel(axis.Direction());
    Range u, v;
    BRepTools::UVBounds(face, u.first, u.second, v.first, v.second);
    Box3 box;
    for (const gp_Pnt& point : hull) {
        const Vector3 arm = from_kernel(point) - origin;
        const Point3 foot = origin + arm.dot(z) * z;
        const Vector3 x = arm - arm.dot(z) * z, y = z.cross(x);
        Box3 arc;
        arc.min() = arc.max() = foot;
        for (int i = 0; i < 3; ++i) {
            const Range around = range_of_wave(x[i], y[i], u.first, u.second);
            arc.min()[i] += around.first;
            arc.max()[i] += around.second;
        }
        box.extend(arc);
    }
    return box;
}

/// True if a face is bounded by one parallel to each axis of its parameters on each side.
bool is_rectangle(const TopoDS_Face& face) {
    int sides = 0;
    for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next(), ++sides) {
        double first = 0.0, last = 0.0;
        const Handle(Geom2d_Curve) curve =
            BRep_Tool::CurveOnSurface(TopoDS::Edge(edges.Current()), face, first, last);
        const auto line = Handle(Geom2d_Line)::DownCast(curve);
        if (line.IsNull()) return false;
        if (line->Direction().X() != 0.0 && line->Direction().Y() != 0.0) return false;
    }
    return sides == 4;
}

/// A box that surely holds a face; nothing if none is at hand.
std::optional<Box3> sure_box(const TopoDS_Face& face, const BRepAdaptor_Surface& surface) {
    if (surface.GetType() == GeomAbs_BSplineSurface) {
        const Handle(Geom_BSplineSurface) spline = surface.BSpline();
        Box3 box;
        for (int i = 1; i <= spline->NbUPoles(); ++i) {
            for (int j = 1; j <= spline->NbVPoles(); ++j)
                box.extend(from_kernel(spline->Pole(i, j)));
        }
        return box;
    }
    if (surface.GetType() == GeomAbs_SurfaceOfRevolution) return box_of_revolved(face, surface);
    const std::optional<Ring> ring = ring_of(face, surface);
    if (!ring) return std::nullopt;
    return ring->box();
}

void extend_by_face(Box3& box, const TopoDS_Face& face) {
    const BRepAdaptor_Surface surface(face, Standard_False);
    if (reaches_extremes_on_edges(surface)) return;
    const std::optional<Box3> sure = sure_box(face, surface);
    if (sure && contains(box, *sure)) return;
    const bool is_ring = surface.GetType() == GeomAbs_Torus || surface.GetType() == GeomAbs_Sphere;
    if (sure && is_ring && is_rectangle(face)) {
        box.extend(*sure);
        return;
    }
    Bnd_Box part;
    BRepBndLib::AddOptimal(face, part, Standard_False, Standard_False);
    part.SetGap(0.0);
    extend(box, part);
}

}  // namespace

Box3 tight_box(const TopoDS_Shape& shape) {
    Box3 box;
    TopTools_IndexedMapOfShape edges, faces;
    TopExp::MapShapes(shape, TopAbs_EDGE, edges);
    // Twice: the more the box holds already, the fewer splines need a closer look.
    for (const bool exact : {true, false}) {
        for (int i = 1; i <= edges.Extent(); ++i) {
            const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
            if (BRep_Tool::Degenerated(edge)) continue;
            const BRepAdaptor_Curve curve(edge);
            if (is_exact(curve) == exact) extend_by_edge(box, curve);
        }
    }
    TopExp::MapShapes(shape, TopAbs_FACE, faces);
    for (int i = 1; i <= faces.Extent(); ++i) {
        extend_by_face(box, TopoDS::Face(faces(i)));
    }
    return box;
}

}  // namespace planform::model
