#include <doctest/doctest.h>

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Solid.hxx>
#include <cmath>
#include <cstdlib>
#include <gp_Circ.hxx>
#include <gp_Elips.hxx>
#include <gp_Pln.hxx>
#include <random>
#include <string>
#include <utility>

#include "model/heal/sides.hpp"
#include "model/spline_outlines.hpp"
#include "model/support.hpp"
#include "planform/model.hpp"
#include "planform/occt.hpp"
#include "random_count.hpp"

using namespace planform;
using namespace planform::test;

namespace {

double uniform(std::mt19937_64& random, double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
}

/// A plane face around the origin, its area and the integral of x over it.
struct Profile {
    std::string name;
    TopoDS_Face face;
    double reach, area, moment;
};

TopoDS_Face face_in(const TopoDS_Edge& edge) {
    return BRepBuilderAPI_MakeFace(gp_Pln(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)),
                                   BRepBuilderAPI_MakeWire(edge).Wire())
        .Face();
}

Profile random_profile(std::mt19937_64& random, int kind) {
    const double radius = uniform(random, 1.0, 10.0);
    const gp_Ax2 frame(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1),
                       gp_Dir(std::cos(radius), std::sin(radius), 0.0));
    if (kind == 0) {
        return {"circle", face_in(BRepBuilderAPI_MakeEdge(gp_Circ(frame, radius)).Edge()), radius,
                pi * radius * radius, 0.0};
    }
    if (kind == 1) {
        const double minor = radius * uniform(random, 0.2, 0.95);
        return {"ellipse", face_in(BRepBuilderAPI_MakeEdge(gp_Elips(frame, radius, minor)).Edge()),
                radius, pi * radius * minor, 0.0};
    }
    if (kind == 2) {  // a tube
        const double bore = radius * uniform(random, 0.2, 0.95);
        BRepBuilderAPI_MakeFace maker(
            face_in(BRepBuilderAPI_MakeEdge(gp_Circ(frame, radius)).Edge()));
        TopoDS_Wire hole =
            BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(gp_Circ(frame, bore)).Edge()).Wire();
        hole.Reverse();
        maker.Add(hole);
        return {"tube", maker.Face(), radius, pi * (radius * radius - bore * bore), 0.0};
    }
    OutlineRecipe recipe;
    Handle(Geom_BSplineCurve) curve;
    do {
        recipe = random_recipe(random, runs_in_full() ? 300 : 40);
        curve = outline_curve(recipe, random);
    } while (!is_star_shaped(*curve));
    return {recipe.describe(), outline_face(curve), 2.0 * recipe.radius, enclosed_area(*curve),
            first_moment(*curve)};
}

/// The same solid turned inside out.
TopoDS_Shape inside_out(const TopoDS_Shape& solid) {
    const BRep_Builder builder;
    TopoDS_Solid result;
    builder.MakeSolid(result);
    for (TopoDS_Iterator shells(solid); shells.More(); shells.Next())
        builder.Add(result, shells.Value().Reversed());
    return result;
}

}  // namespace

TEST_CASE("bodies of revolution have the volume of Pappus and the right side out") {
    // Pappus: area times the way of its centroid.
    std::mt19937_64 random(2026);
    const TemporaryFolder folder;
    const int wanted = runs_in_full() ? 2000 : 96;
    int turned_count = 0;
    for (int i = 0; i < wanted; ++i) {
        const Profile profile = random_profile(random, i % 4);
        const double arm = profile.reach + uniform(random, 0.1, 30.0);
        const double angle = i % 3 == 0 ? 2.0 * pi : uniform(random, 0.1, 6.2);
        const gp_Ax1 axis(gp_Pnt(-arm, 0, 0), gp_Dir(0, i % 5 < 2 ? 1.0 : -1.0, 0));
        TopoDS_Shape body = BRepPrimAPI_MakeRevol(profile.face, axis, angle).Shape();
        gp_Trsf motion = random_motion(random, i % 2 == 0 ? 10.0 : 10000.0);
        if (i % 7 == 0) {
            gp_Trsf mirror;
            mirror.SetMirror(gp_Ax2(gp_Pnt(1, 2, 3), gp_Dir(0.3, -0.2, 0.9)));
            motion = motion * mirror;
        }
        body = BRepBuilderAPI_Transform(body, motion, true).Shape();
        // STEP has one way only to write a solid.
        const int way = i / 4 % 3;
        const bool is_outward = model::is_outward_by_rays(body).value_or(true);
        const bool given_turned = way != 2 && i % 11 == 0;
        if (given_turned) body = inside_out(body);
        CAPTURE(i);
        CAPTURE(way);
        CAPTURE(angle);
        CAPTURE(profile.name);
        const Model model = read_back(body, way, folder);
        REQUIRE(model.solids().size() == 1);
        const Solid& solid = model.solids().front();
        CHECK(solid.volume() ==
              doctest::Approx(angle * (arm * profile.area + profile.moment)).epsilon(1e-9));
        CHECK(model::is_outward_by_rays(shape_of(solid)).value_or(false));
        if (way != 2) CHECK(solid.notes().size() == (is_outward != given_turned ? 0 : 1));
        if (given_turned) ++turned_count;
    }
    CHECK(turned_count > wanted / 20);
}

TEST_CASE("mirrored tori are not inside out") {
    gp_Trsf mirror;
    mirror.SetMirror(gp_Ax2(gp_Pnt(1, 2, 3), gp_Dir(0.3, -0.2, 0.9)));
    const TopoDS_Shape torus = BRepPrimAPI_MakeTorus(10.0, 3.0).Solid();
    for (const bool copied : {false, true}) {
        const TopoDS_Shape mirrored = BRepBuilderAPI_Transform(torus, mirror, copied).Shape();
        const Model model = from_shape(mirrored);
        CHECK(model.solids().front().notes().empty());
        CHECK(model.solids().front().volume() ==
              doctest::Approx(2.0 * pi * pi * 10.0 * 9.0).epsilon(1e-12));
        CHECK(model.solids().front().surface_area() ==
              doctest::Approx(4.0 * pi * pi * 30.0).epsilon(1e-12));
    }
}
