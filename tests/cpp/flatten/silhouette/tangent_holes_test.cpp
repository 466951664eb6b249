#include <doctest/doctest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <cmath>
#include <cstdlib>
#include <random>
#include <string>

#include "model/support.hpp"
#include "planform/flatten.hpp"
#include "planform/occt.hpp"
#include "random_count.hpp"

using namespace planform;
using namespace planform::test;

namespace {

struct Plate {
    TopoDS_Shape shape;
    double area, height;
};

/// A plate with a chain of round holes, each tangent to the one before.
Plate plate_with_tangent_holes(std::mt19937_64& random, int number) {
    std::uniform_real_distribution<double> share(0.0, 1.0);
    const double height = 1.0 + 4.0 * share(random);
    Plate plate{BRepPrimAPI_MakeBox(60.0, 60.0, height).Shape(), 3600.0, height};
    double x = 30.0, y = 30.0, last = 0.0;
    const int holes = 2 + number % 3;
    // The walls' seams lie where they touch, in the simplest position.
    const bool is_straight = number % 2 == 0;
    for (int i = 0; i < holes; ++i) {
        const double radius = is_straight ? 1.0 + number % 4 : 1.0 + 4.0 * share(random);
        if (i > 0) {
            const double angle = is_straight ? 0.0 : 2.0 * pi * share(random) / 6.0;
            x += (radius + last) * std::cos(angle);
            y += (radius + last) * std::sin(angle);
        } else {
            x -= 15.0;
            y -= 15.0;
        }
        last = radius;
        const gp_Ax2 axis(gp_Pnt(x, y, -1.0), gp_Dir(0, 0, 1));
        plate.shape = BRepAlgoAPI_Cut(plate.shape,
                                      BRepPrimAPI_MakeCylinder(axis, radius, height + 2.0).Shape())
                          .Shape();
        plate.area -= pi * radius * radius;
    }
    return plate;
}

}  // namespace

TEST_CASE("holes that touch each other are all there, in sections, silhouette and volume") {
    std::mt19937_64 random(11);
    const TemporaryFolder folder;
    const int wanted = runs_in_full() ? 600 : 36;
    for (int i = 0; i < wanted; ++i) {
        const Plate plate = plate_with_tangent_holes(random, i / 3);
        CAPTURE(i);
        try {
            const Model model = read_back(plate.shape, i % 3, folder);
            REQUIRE(model.solids().size() == 1);
            CHECK(model.solids().front().volume() ==
                  doctest::Approx(plate.area * plate.height).epsilon(1e-8));
            const Datum ground({0, 0, 0}, {0, 0, 1});
            for (const double part : {0.1, 0.5, 0.83})
                CHECK(section(model.solids(), ground, part * plate.height).area() ==
                      doctest::Approx(plate.area).epsilon(1e-6));
            CHECK(silhouette(model.solids(), ground).area() ==
                  doctest::Approx(plate.area).epsilon(1e-6));
        } catch (const Error& error) {
            FAIL_CHECK(std::string(error.what()));
        }
    }
}
