/// Walls that are flat but for a bump between their knots, seen along the wall: the bump stands out
/// of the shadow, though the wall is upright at every knot. Compared with a mesh.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <array>
#include <cmath>
#include <string>

#include "flatten/bodies.hpp"
#include "flatten/mesh_oracle.hpp"
#include "planform/error.hpp"

using namespace planform;

namespace {

constexpr double width = 60.0, depth = 20.0, height = 30.0;

/// Knots and poles of one parameter: `spans` spans, inner knots counted `times` times.
struct Spans {
    int degree, spans, times;

    int poles() const { return degree + 1 + times * (spans - 1); }
    /// Of the pole, counted from 0: the mean of the knots between (Greville's abscissa).
    double place(int pole) const {
        double sum = 0.0;
        for (int k = pole + 1; k <= pole + degree; ++k) sum += knot(k);
        return sum / degree;
    }

  private:
    double knot(int index) const {
        if (index <= degree) return 0.0;
        if (index >= poles()) return 1.0;
        return (1.0 + (index - degree - 1) / times) / spans;
    }
};

/// The wall y = 0 of a box, but for two poles by two of one span in the middle, drawn out by
/// `bump` mm: they have no say at the span's ends but together.
Handle(Geom_BSplineSurface) wall(const Spans& s, double bump) {
    TColgp_Array2OfPnt poles(1, s.poles(), 1, s.poles());
    const int first = s.times * (s.spans / 2) + (s.times == s.degree ? 1 : s.times);
    const auto is_bump = [&](int pole) { return pole == first || pole == first + 1; };
    for (int i = 0; i < s.poles(); ++i)
        for (int j = 0; j < s.poles(); ++j)
            poles(i + 1, j + 1) = gp_Pnt(width * s.place(i), is_bump(i) && is_bump(j) ? -bump : 0.0,
                                         height * s.place(j));
    TColStd_Array1OfReal knots(1, s.spans + 1);
    TColStd_Array1OfInteger times(1, s.spans + 1);
    for (int k = 0; k <= s.spans; ++k) {
        knots(k + 1) = static_cast<double>(k) / s.spans;
        times(k + 1) = k == 0 || k == s.spans ? s.degree + 1 : s.times;
    }
    return new Geom_BSplineSurface(poles, knots, knots, times, times, s.degree, s.degree);
}

TopoDS_Shape box_with(const Handle(Geom_BSplineSurface) & front) {
    BRepBuilderAPI_Sewing sewing(1e-6);
    sewing.Add(BRepBuilderAPI_MakeFace(front, 1e-7).Face());
    const auto corner = [](int i) {
        return gp_Pnt(i & 1 ? width : 0.0, i & 2 ? depth : 0.0, i & 4 ? height : 0.0);
    };
    for (const std::array<int, 4>& side :
         {std::array<int, 4>{2, 3, 7, 6}, {0, 1, 3, 2}, {4, 5, 7, 6}, {0, 2, 6, 4}, {1, 3, 7, 5}}) {
        BRepBuilderAPI_MakePolygon polygon;
        for (const int i : side) polygon.Add(corner(i));
        polygon.Close();
        sewing.Add(BRepBuilderAPI_MakeFace(polygon.Wire()).Face());
    }
    sewing.Perform();
    const TopExp_Explorer shell(sewing.SewedShape(), TopAbs_SHELL);
    return BRepBuilderAPI_MakeSolid(TopoDS::Shell(shell.Current())).Solid();
}

}  // namespace

TEST_CASE("a bump between the knots of a wall stands out of the shadow along the wall") {
    for (const Spans& spans : {Spans{3, 30, 2}, Spans{2, 25, 1}, Spans{5, 14, 4}}) {
        CAPTURE(spans.degree);
        const TopoDS_Shape box = box_with(wall(spans, 6.0));
        for (const Datum& datum : {Datum::xy(), Datum::yz()}) {
            const ProfileSet set = bodies::silhouette_of(box, datum);
            const double rest = depth * (datum.normal().z() != 0.0 ? width : height);
            const oracle::Area mesh = oracle::shadow_area(box, datum, 0.002);
            REQUIRE(mesh.value > rest + 0.5);  // the bump is there
            CHECK(std::abs(set.area() - mesh.value) <= 0.004 * set.length() + mesh.scan_error);
        }
    }
}

TEST_CASE(
    "a bump that the mesh of its face passes over is no wrong outline, but an error or right") {
    // Nothing is smooth at the knots: its folds are followed on a mesh, and the kernel's has no
    // node in the middle of a span. Not seen in the shadow of the mesh either.
    const TopoDS_Shape box = box_with(wall(Spans{3, 15, 3}, 6.0));
    try {
        const ProfileSet set = bodies::silhouette_of(box, Datum::xy());
        CHECK(set.bounds().min().y() < -3.0);  // 6 mm, of which the poles make 9 / 16
    } catch (const GeometryError& error) {
        CHECK(std::string(error.what()).find("the law of cover is broken") != std::string::npos);
    }
}
