/// Cauchy's theorem: the mean shadow of a convex body over all directions is a quarter of its
/// surface. (A. Cauchy, 1841 and 1850; any text on integral geometry.)

#include <doctest/doctest.h>

#include "flatten/bodies.hpp"

using namespace planform;

namespace {

void check_mean_shadow(const TopoDS_Shape& shape, unsigned seed) {
    constexpr int directions = 2000;
    std::mt19937_64 random(seed);
    const std::vector<Solid> solids = bodies::solids_of(shape);
    double sum = 0.0, squares = 0.0;
    for (int i = 0; i < directions; ++i) {
        const ProfileSet set = silhouette(solids, bodies::random_datum(random));
        REQUIRE(set.profiles().size() == 1);
        REQUIRE(set.profiles()[0].holes().empty());
        sum += set.area();
        squares += set.area() * set.area();
    }
    const double mean = sum / directions;
    const double deviation = std::sqrt(std::max(0.0, squares / directions - mean * mean));
    const double expected = solids[0].surface_area() / 4.0;
    CAPTURE(mean);
    CAPTURE(expected);
    // Four standard errors: a right result fails once in 16,000 seeds.
    CHECK(std::abs(mean - expected) <=
          4.0 * deviation / std::sqrt(double(directions)) + 1e-9 * expected);
    // The error is small enough to tell: a wrong factor would not pass.
    CHECK(4.0 * deviation / std::sqrt(double(directions)) < 0.05 * expected);
}

}  // namespace

TEST_CASE("box") { check_mean_shadow(BRepPrimAPI_MakeBox(10.0, 20.0, 30.0).Shape(), 1); }
TEST_CASE("cylinder") { check_mean_shadow(BRepPrimAPI_MakeCylinder(5.0, 8.0).Shape(), 2); }
TEST_CASE("cone") { check_mean_shadow(BRepPrimAPI_MakeCone(6.0, 0.0, 9.0).Shape(), 3); }
TEST_CASE("frustum") { check_mean_shadow(BRepPrimAPI_MakeCone(6.0, 2.0, 9.0).Shape(), 4); }
TEST_CASE("half sphere") { check_mean_shadow(BRepPrimAPI_MakeSphere(5.0, 0.0, pi / 2).Shape(), 5); }
