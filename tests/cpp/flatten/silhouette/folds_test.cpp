/// Folds of faces as real files have them: pieces of the boundary a period apart, blends with noise
/// beside the walls to which they are tangent, and branches that end where the face ends. None may
/// need the mesh, which would leave a note.

#include <doctest/doctest.h>

#include <BRepAlgoAPI_Common.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <GeomAPI_PointsToBSpline.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <gp_Vec2d.hxx>

#include "flatten/bodies.hpp"
#include "flatten/mesh_oracle.hpp"

using namespace planform;

namespace {

/// A vase: a spline turned about the z axis, with a flat bottom and top.
TopoDS_Shape vase() {
    TColgp_Array1OfPnt points(1, 5);
    const double radius[] = {4.0, 6.0, 5.0, 3.0, 4.5};
    for (int i = 1; i <= 5; ++i) points(i) = gp_Pnt(radius[i - 1], 0.0, 3.0 * (i - 1));
    const TopoDS_Edge side = BRepBuilderAPI_MakeEdge(GeomAPI_PointsToBSpline(points).Curve());
    const gp_Pnt bottom(0, 0, 0), top(0, 0, 12);
    BRepBuilderAPI_MakeWire wire(BRepBuilderAPI_MakeEdge(bottom, points(1)).Edge(), side,
                                 BRepBuilderAPI_MakeEdge(points(5), top).Edge(),
                                 BRepBuilderAPI_MakeEdge(top, bottom).Edge());
    return BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(wire.Wire()).Face(),
                                 gp_Ax1(gp_Pnt(), gp_Dir(0, 0, 1)))
        .Shape();
}

/// Moves the curve of one edge in the parameters of a face of revolution a period back, as files of
/// electronic parts have it. Returns how many were moved.
int move_a_period(const TopoDS_Shape& shape) {
    int moved = 0;
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        const TopoDS_Face& face = TopoDS::Face(faces.Current());
        if (!BRep_Tool::Surface(face)->IsUPeriodic()) continue;
        for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
            const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
            if (BRep_Tool::IsClosed(edge, face) || BRep_Tool::Degenerated(edge)) continue;
            double first, last;
            const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(edge, face, first, last);
            BRep_Builder().UpdateEdge(
                edge, Handle(Geom2d_Curve)::DownCast(curve->Translated(gp_Vec2d(-2.0 * pi, 0.0))),
                face, 1e-7);
            ++moved;
            break;
        }
    }
    return moved;
}

/// A box of splines with two rounded edges, the poles of the blends off by up to `noise` mm.
TopoDS_Shape noisy_blends(double noise, std::mt19937_64& random) {
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(20.0, 12.0, 8.0).Shape();
    TopTools_IndexedMapOfShape edges;
    TopExp::MapShapes(box, TopAbs_EDGE, edges);
    BRepFilletAPI_MakeFillet rounded(box);
    rounded.Add(1.5, TopoDS::Edge(edges(1)));
    rounded.Add(1.0, TopoDS::Edge(edges(6)));
    const TopoDS_Shape shape = BRepBuilderAPI_NurbsConvert(rounded.Shape(), Standard_True).Shape();
    std::uniform_real_distribution<double> off(-noise, noise);
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        const TopoDS_Face& face = TopoDS::Face(faces.Current());
        TopLoc_Location location;
        // Changed where it is: the edges' curves in its parameters belong to it.
        const auto surface =
            Handle(Geom_BSplineSurface)::DownCast(BRep_Tool::Surface(face, location));
        if (surface->UDegree() == surface->VDegree()) continue;  // a flat one
        surface->IncreaseDegree(3, 3);
        double u0, u1, v0, v1;
        surface->Bounds(u0, u1, v0, v1);
        for (int i = 1; i < 12; ++i) {
            surface->InsertUKnot(u0 + (u1 - u0) * i / 12, 1, 0.0);
            surface->InsertVKnot(v0 + (v1 - v0) * i / 12, 1, 0.0);
        }
        for (int i = 1; i <= surface->NbUPoles(); ++i)
            for (int j = 1; j <= surface->NbVPoles(); ++j) {
                gp_Pnt pole = surface->Pole(i, j);
                pole.Translate(gp_Vec(off(random), off(random), off(random)));
                surface->SetPole(i, j, pole);
            }
        BRep_Builder().UpdateFace(face, surface, location, 10.0 * noise);
    }
    return shape;
}

void check_by_mesh(const TopoDS_Shape& shape, const Datum& datum, double deflection) {
    const ProfileSet set = bodies::silhouette_of(shape, datum);
    CHECK(set.notes() == std::vector<std::string>{});
    const oracle::Area mesh = oracle::shadow_area(shape, datum, deflection);
    CHECK(std::abs(set.area() - mesh.value) <= 2.0 * deflection * set.length() + mesh.scan_error);
}

}  // namespace

TEST_CASE("a face whose edges lie a period apart in its parameters has the same shadow") {
    std::mt19937_64 random(5);
    for (int i = 0; i < 10; ++i) {
        const TopoDS_Shape shape = vase();
        const Datum datum = i == 0 ? Datum::xz() : bodies::random_datum(random);
        const double area = bodies::silhouette_of(shape, datum).area();
        REQUIRE(move_a_period(shape) > 0);
        const ProfileSet moved = bodies::silhouette_of(shape, datum);
        CHECK(moved.notes() == std::vector<std::string>{});
        CHECK(moved.area() == doctest::Approx(area).epsilon(1e-9));
    }
}

TEST_CASE("noise on blends beside edge-on walls makes no folds: the shadow is the box's") {
    std::mt19937_64 random(11);
    int seen = 0;
    for (int i = 0; i < 12; ++i) {
        const double noise = i % 2 == 0 ? 2e-6 : 1e-5;
        CAPTURE(noise);
        const TopoDS_Shape shape = noisy_blends(noise, random);
        for (const Datum& datum : {Datum::xy(), Datum::xz(), Datum::yz()}) {
            const ProfileSet set = bodies::silhouette_of(shape, datum);
            CHECK(set.notes() == std::vector<std::string>{});
            check_by_mesh(shape, datum, 0.005);
            ++seen;
        }
    }
    CHECK(seen == 36);
}

TEST_CASE("a torus' fold that ends in a vertex on the rim where the face ends") {
    // The inner upper quarter of the tube, and beside half of it a piece of a ring, whose edge
    // splits the rim where the fold of the view along y ends.
    const TopoDS_Shape inner = BRepAlgoAPI_Common(BRepPrimAPI_MakeTorus(8.0, 2.0).Shape(),
                                                  BRepPrimAPI_MakeCylinder(8.0, 4.0).Shape())
                                   .Shape();
    const TopoDS_Shape quarter =
        BRepAlgoAPI_Common(inner, BRepPrimAPI_MakeBox(gp_Pnt(-20, -3, 0), gp_Pnt(0, 4, 5)).Shape())
            .Shape();
    const TopoDS_Shape ring = BRepAlgoAPI_Cut(BRepPrimAPI_MakeCylinder(10.0, 2.0).Shape(),
                                              BRepPrimAPI_MakeCylinder(8.0, 4.0).Shape())
                                  .Shape();
    const TopoDS_Shape half =
        BRepAlgoAPI_Common(ring, BRepPrimAPI_MakeBox(gp_Pnt(-20, 0, 0), gp_Pnt(0, 4, 5)).Shape())
            .Shape();
    const TopoDS_Shape shape = BRepAlgoAPI_Fuse(quarter, half).Shape();
    for (const Datum& datum : {Datum::xz(), Datum::xy(), Datum::yz()})
        check_by_mesh(shape, datum, 0.002);
}
