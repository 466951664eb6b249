/// Pieces of pipes whose edge waves to and fro over the fold, all waves in a small part of the
/// edge's parameter: the fold is met as often as the edge crosses it. Across the pipe the shadow is
/// an integral along the edge; askew the law of cover in full is the judge (the kernel can't mesh
/// these).

#include <doctest/doctest.h>

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepFill.hxx>
#include <BRepLib.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt2d.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "flatten/bodies.hpp"

using namespace planform;

namespace {

constexpr double wave_height = 60.0, end_angle = 2.0, start_angle = 0.8, outer = 24.0;

/// An edge in the parameters of a cylinder (angle, height).
TopoDS_Edge edge_on(const Handle(Geom_Surface) & surface, const std::vector<gp_Pnt2d>& places,
                    const std::vector<double>& inner_knots, int degree) {
    TColgp_Array1OfPnt2d poles(1, static_cast<int>(places.size()));
    for (int i = 1; i <= poles.Length(); ++i) poles(i) = places[static_cast<std::size_t>(i - 1)];
    const int count = static_cast<int>(inner_knots.size()) + 2;
    TColStd_Array1OfReal knots(1, count);
    TColStd_Array1OfInteger times(1, count);
    times.Init(1);
    times(1) = times(count) = degree + 1;
    knots(1) = 0.0;
    knots(count) = 1000.0;
    for (int i = 2; i < count; ++i) knots(i) = inner_knots[static_cast<std::size_t>(i - 2)];
    const Handle(Geom2d_Curve) curve = new Geom2d_BSplineCurve(poles, knots, times, degree);
    const TopoDS_Edge edge = BRepBuilderAPI_MakeEdge(curve, surface).Edge();
    BRepLib::BuildCurve3d(edge, 1e-6);
    return edge;
}

/// Where the waved edge runs, as angle and height: places so dense that the trapezoidal rule
/// is good to 1e-4 mm2.
std::vector<gp_Pnt2d> places_on(const TopoDS_Edge& edge, const Handle(Geom_Surface) & surface,
                                const std::vector<double>& inner_knots) {
    double first = 0.0, last = 0.0;
    const Handle(Geom2d_Curve) curve =
        BRep_Tool::CurveOnSurface(edge, surface, TopLoc_Location(), first, last);
    std::vector<double> ends = {first};
    ends.insert(ends.end(), inner_knots.begin(), inner_knots.end());
    ends.push_back(last);
    std::vector<gp_Pnt2d> places;
    constexpr int steps = 4000;
    for (std::size_t k = 0; k + 1 < ends.size(); ++k)
        for (int i = 0; i <= steps; ++i)
            places.push_back(curve->Value(ends[k] + (ends[k + 1] - ends[k]) * i / steps));
    return places;
}

struct Shell {
    TopoDS_Shape shape;
    std::vector<gp_Pnt2d> edge;  ///< places along the waved edge

    /// Seen along y: at each height from the outer radius at the far edge to the furthest
    /// right.
    double shadow() const {
        const auto reach = [](const gp_Pnt2d& p) {
            return outer * (std::cos(std::max(0.0, p.X())) - std::cos(end_angle));
        };
        double area = 0.0;
        for (std::size_t i = 0; i + 1 < edge.size(); ++i)
            area += 0.5 * (reach(edge[i]) + reach(edge[i + 1])) * (edge[i + 1].Y() - edge[i].Y());
        return area;
    }
};

/// A shell 4 mm thick; its waves reach `swing` rad to either side of the fold, all within `part` of
/// the edge's 1000.
Shell waved_shell(int waves, double part, double swing) {
    std::vector<gp_Pnt2d> places = {{start_angle, 0.0}, {start_angle, 0.5 * wave_height}};
    for (int i = 0; i < waves; ++i)
        places.emplace_back(i % 2 == 0 ? -swing : swing, 30.0 + 10.0 * (i + 1) / (waves + 1));
    places.emplace_back(start_angle, 40.0);
    places.emplace_back(start_angle, wave_height);
    const int count = waves;  // inner knots of a cubic with waves + 4 poles
    std::vector<double> knots;
    for (int i = 0; i < count; ++i) knots.push_back(500.0 + part * (i / (count - 1.0) - 0.5));
    std::array<std::vector<TopoDS_Edge>, 2> rims;
    BRepBuilderAPI_Sewing sewing(1e-4);
    std::vector<gp_Pnt2d> edge;
    for (const std::size_t side : {0, 1}) {
        const Handle(Geom_Surface) pipe =
            new Geom_CylindricalSurface(gp_Ax3(gp::XOY()), side == 0 ? 20.0 : outer);
        const gp_Pnt2d a(start_angle, wave_height), b(end_angle, wave_height), c(end_angle, 0.0),
            d(start_angle, 0.0);
        rims[side] = {edge_on(pipe, places, knots, 3), edge_on(pipe, {a, b}, {}, 1),
                      edge_on(pipe, {b, c}, {}, 1), edge_on(pipe, {c, d}, {}, 1)};
        edge = places_on(rims[side][0], pipe, knots);
        BRepBuilderAPI_MakeWire wire;
        for (const TopoDS_Edge& edge : rims[side]) wire.Add(edge);
        sewing.Add(BRepBuilderAPI_MakeFace(pipe, wire.Wire(), true).Face());
    }
    for (std::size_t i = 0; i < rims[0].size(); ++i)
        sewing.Add(BRepFill::Face(rims[0][i], rims[1][i]));
    sewing.Perform();
    const TopExp_Explorer shell(sewing.SewedShape(), TopAbs_SHELL);
    TopoDS_Solid solid = BRepBuilderAPI_MakeSolid(TopoDS::Shell(shell.Current())).Solid();
    BRepLib::OrientClosedSolid(solid);
    return {solid, edge};
}

}  // namespace

TEST_CASE("the edge of a pipe waves over the fold in a small part of its parameter") {
    for (const int waves : {4, 8}) {
        CAPTURE(waves);
        const Shell shell = waved_shell(waves, 10.0, 0.5);
        const FlattenOptions in_full{0.01, Merge::unite, At::shadow, Verify::full};
        for (const double lean : {0.0, 0.15}) {
            const Datum datum(Point3(0, 0, 0), Vector3(0, -1, lean), Vector3(1, 0, 0));
            const ProfileSet set = silhouette(bodies::solids_of(shell.shape), datum, in_full);
            if (lean == 0.0) CHECK(set.area() == doctest::Approx(shell.shadow()).epsilon(1e-6));
            CHECK(set.notes().size() <= 1);
        }
    }
}
