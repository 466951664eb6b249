#include <doctest/doctest.h>

#include <BRepBuilderAPI_Transform.hxx>
#include <cmath>
#include <cstdlib>
#include <random>
#include <string>

#include "model/spline_outlines.hpp"
#include "model/support.hpp"
#include "planform/flatten.hpp"
#include "planform/occt.hpp"
#include "planform/write.hpp"
#include "random_count.hpp"

using namespace planform;
using namespace planform::test;

TEST_CASE(
    "prisms on splines of every kind seen along their axis enclose what Green's theorem says") {
    std::mt19937_64 random(2024);
    const TemporaryFolder folder;
    const int wanted = runs_in_full() ? 1000 : 40;
    int tried = 0;
    for (int i = 0; tried < wanted; ++i) {
        REQUIRE(i < 4 * wanted);
        const OutlineRecipe recipe = random_recipe(random, runs_in_full() ? 1500 : 120);
        const Handle(Geom_BSplineCurve) curve = outline_curve(recipe, random);
        if (!is_star_shaped(*curve)) continue;
        const double area = enclosed_area(*curve);
        const gp_Trsf motion = random_motion(random, 300.0);
        const TopoDS_Shape prism =
            BRepBuilderAPI_Transform(outline_prism(curve, 5.0), motion, true).Shape();
        const int way = tried % 3;
        ++tried;
        CAPTURE(i);
        CAPTURE(way);
        CAPTURE(recipe.describe());
        gp_Pnt origin(0, 0, 0);
        gp_Dir normal(0, 0, 1);
        origin.Transform(motion);
        normal.Transform(motion);
        const Datum datum({origin.X(), origin.Y(), origin.Z()},
                          {normal.X(), normal.Y(), normal.Z()});
        try {
            const Model model = read_back(prism, way, folder);
            const ProfileSet seen = silhouette(model.solids(), datum);
            CHECK(seen.area() == doctest::Approx(area).epsilon(1e-6));
        } catch (const Error& error) {
            FAIL_CHECK(std::string(error.what()));
        }
    }
}

TEST_CASE("a disc on a periodic spline through many points has the same bytes in every call") {
    std::mt19937_64 random(7);
    for (const int poles : {12, 72, 1500}) {
        const OutlineRecipe recipe{OutlineKind::interpolated_periodic, 3, poles};
        const Handle(Geom_BSplineCurve) curve = outline_curve(recipe, random);
        // From memory and through BREP: the latter's last parameter is a digit off.
        for (const bool through_brep : {false, true}) {
            const TopoDS_Shape prism = outline_prism(curve, 4.0);
            const auto seen = [&] {
                const Model model = through_brep ? from_brep(brep_text(prism)) : from_shape(prism);
                return silhouette(model.solids(), Datum({0, 0, 0}, {0, 0, 1}));
            };
            const ProfileSet first = seen();
            CHECK(first.area() == doctest::Approx(enclosed_area(*curve)).epsilon(1e-6));
            const std::string bytes = json_text(first);
            const int calls = runs_in_full() || poles < 100 ? 100 : 5;
            for (int call = 1; call < calls; ++call) REQUIRE(json_text(seen()) == bytes);
        }
    }
}

TEST_CASE("prisms on lines, Bezier curves and splines seen along their axis") {
    std::mt19937_64 random(2028);
    const TemporaryFolder folder;
    const int wanted = runs_in_full() ? 1000 : 45;
    for (int i = 0; i < wanted; ++i) {
        const std::vector<Handle(Geom_Curve)> chain = random_chain(random);
        const gp_Trsf motion = random_motion(random, 300.0);
        const TopoDS_Shape prism =
            BRepBuilderAPI_Transform(outline_prism(chain, 5.0), motion, true).Shape();
        CAPTURE(i);
        gp_Pnt origin(0, 0, 0);
        gp_Dir normal(0, 0, 1);
        origin.Transform(motion);
        normal.Transform(motion);
        const Datum datum({origin.X(), origin.Y(), origin.Z()},
                          {normal.X(), normal.Y(), normal.Z()});
        try {
            const Model model = read_back(prism, i % 3, folder);
            CHECK(silhouette(model.solids(), datum).area() ==
                  doctest::Approx(enclosed_area(chain)).epsilon(1e-6));
        } catch (const Error& error) {
            FAIL_CHECK(std::string(error.what()));
        }
    }
}
