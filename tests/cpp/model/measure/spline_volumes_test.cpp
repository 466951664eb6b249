#include <doctest/doctest.h>

#include <BRepBuilderAPI_Transform.hxx>
#include <cmath>
#include <cstdlib>
#include <random>
#include <string>

#include "model/spline_outlines.hpp"
#include "model/support.hpp"
#include "planform/model.hpp"
#include "planform/occt.hpp"
#include "random_count.hpp"

using namespace planform;
using namespace planform::test;

TEST_CASE("the volume of a prism on a spline is area times height wherever it lies") {
    std::mt19937_64 random(2025);
    const TemporaryFolder folder;
    const int wanted = runs_in_full() ? 1000 : 60;
    int tried = 0;
    for (int i = 0; tried < wanted; ++i) {
        REQUIRE(i < 4 * wanted);
        const OutlineRecipe recipe = random_recipe(random, runs_in_full() ? 1500 : 120);
        const Handle(Geom_BSplineCurve) curve = outline_curve(recipe, random);
        if (!is_star_shaped(*curve)) continue;
        const double height = 3.0;
        const double reach = tried % 2 == 0 ? 10.0 : 10000.0;
        const gp_Trsf motion = random_motion(random, reach);
        const TopoDS_Shape prism =
            BRepBuilderAPI_Transform(outline_prism(curve, height), motion, true).Shape();
        const int way = tried % 3;
        ++tried;
        CAPTURE(i);
        CAPTURE(way);
        CAPTURE(reach);
        CAPTURE(recipe.describe());
        const Model model = read_back(prism, way, folder);
        REQUIRE(model.solids().size() == 1);
        const Solid& solid = model.solids().front();
        CHECK(solid.notes().empty());
        CHECK(solid.volume() == doctest::Approx(enclosed_area(*curve) * height).epsilon(1e-9));
        const double walls = arc_length(*curve) * height;
        CHECK(solid.surface_area() ==
              doctest::Approx(2.0 * enclosed_area(*curve) + walls).epsilon(1e-8));
    }
}

TEST_CASE("the volume of a prism on lines, Bezier curves and splines is area times height") {
    std::mt19937_64 random(2027);
    const TemporaryFolder folder;
    const int wanted = runs_in_full() ? 1000 : 45;
    for (int i = 0; i < wanted; ++i) {
        const std::vector<Handle(Geom_Curve)> chain = random_chain(random);
        const double reach = i % 2 == 0 ? 10.0 : 10000.0;
        const gp_Trsf motion = random_motion(random, reach);
        const TopoDS_Shape prism =
            BRepBuilderAPI_Transform(outline_prism(chain, 3.0), motion, true).Shape();
        CAPTURE(i);
        const Model model = read_back(prism, i % 3, folder);
        REQUIRE(model.solids().size() == 1);
        CHECK(model.solids().front().notes().empty());
        CHECK(model.solids().front().volume() ==
              doctest::Approx(3.0 * enclosed_area(chain)).epsilon(1e-9));
    }
}
