/// A solid stays as it is, byte for byte, whatever is tried to unfold it: the kernel's booleans,
/// its taking away and its joining of faces change what they are handed.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <gp_Ax2.hxx>
#include <gp_Circ.hxx>
#include <gp_Trsf.hxx>
#include <string>

#include "planform/memory.hpp"
#include "planform/occt.hpp"
#include "unfold/refused_bodies.hpp"
#include "unfold/sheets.hpp"

using namespace planform;

namespace {

constexpr double t = 2.0, width = 30.0, radius = 4.0;
constexpr double first = 50.0, second = 40.0;

/// An L, sharp inside and outside.
TopoDS_Shape sharp() {
    return refused::prism(
        {{0, 0}, {first, 0}, {first, second}, {first - t, second}, {first - t, t}, {0, t}}, width);
}

/// Upright, its wall in two halves, one of which begins along y.
TopoDS_Shape pin_of_halves(double x, double y, double low, double pin_radius, double height) {
    const gp_Circ circle(gp_Ax2(gp_Pnt(x, y, low), gp_Dir(0, 0, 1), gp_Dir(0, 1, 0)), pin_radius);
    BRepBuilderAPI_MakeWire wire;
    wire.Add(BRepBuilderAPI_MakeEdge(circle, 0.0, pi).Edge());
    wire.Add(BRepBuilderAPI_MakeEdge(circle, pi, 2.0 * pi).Edge());
    return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wire.Wire(), Standard_True).Face(),
                                 gp_Vec(0, 0, height))
        .Shape();
}

/// On the L a pin in two halves with a round at its upper rim and a notch: where the kernel joins
/// the halves it opens the wall of the body that it was given at another place.
TopoDS_Shape with_notched_pin() {
    const double height = 12.0;
    const TopoDS_Shape pin = pin_of_halves(14.0, 15.0, 0.0, 10.0, height);
    BRepFilletAPI_MakeFillet rim(pin);
    for (TopExp_Explorer edges(pin, TopAbs_EDGE); edges.More(); edges.Next()) {
        GProp_GProps along;
        BRepGProp::LinearProperties(edges.Current(), along);
        if (std::abs(along.CentreOfMass().Z() - height) < 1e-9)
            rim.Add(1.0, TopoDS::Edge(edges.Current()));
    }
    return refused::cut(refused::fused(sharp(), rim.Shape()), refused::box(14, 10, 8, 46, 10, 12));
}

/// A wall of 40 mm that is folded back onto itself, one piece where the walls touch.
TopoDS_Shape hem() {
    gp_Trsf motion;
    motion.SetTranslation(gp_Vec(40, 0, 0));
    const TopoDS_Shape fold =
        BRepBuilderAPI_Transform(sheets::strip(t, width, 0.0, {{pi, true, 0.0, 12.0}}), motion,
                                 Standard_True)
            .Shape();
    return refused::fused(refused::box(0, 0, 0, 40, width, t), fold);
}

struct Body {
    std::string name;
    TopoDS_Shape shape;
    bool is_sheet = true;
};

}  // namespace

TEST_CASE("a solid stays as it is when it is unfolded") {
    const TopoDS_Shape rounded =
        refused::rounded(sharp(), {{{first - t, t}, 3.0}, {{first, 0.0}, 1.5}});
    for (const Body& body :
         {Body{"a hole in two halves: joined",
               refused::cut(sharp(), pin_of_halves(20.0, 15.0, -1.0, radius, t + 2.0))},
          Body{"a hole in one: rounded by booleans",
               refused::cut(sharp(), refused::cylinder(20.0, 15.0, -1.0, radius, t + 2.0))},
          Body{"rounds of two thicknesses: taken away", rounded}, Body{"a hem: cut apart", hem()},
          Body{"a notched pin on it: no sheet", with_notched_pin(), false}}) {
        CAPTURE(body.name);
        const Solid solid = sheets::solid_of(body.shape);
        const std::string before = brep_bytes(solid);
        GProp_GProps volume;
        BRepGProp::VolumeProperties(shape_of(solid), volume);
        const auto unfolded = try_unfold(solid);
        CAPTURE(unfolded.refusal.text);
        CHECK(unfolded.blank.has_value() == body.is_sheet);
        CHECK((brep_bytes(solid) == before));
        // What other programs make of it.
        GProp_GProps after;
        BRepGProp::VolumeProperties(shape_of(solid), after);
        CHECK(after.Mass() == doctest::Approx(volume.Mass()).epsilon(1e-12));
    }
}
