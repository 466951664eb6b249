#include <doctest/doctest.h>

#include <cmath>

#include "curve/shapes.hpp"
#include "curve/straight_pieces.hpp"

using namespace planform;
using doctest::Approx;

TEST_CASE("a spline that runs to and fro on a line is cut where it turns") {
    // x(t) = 6 t - 5 t^2 along (3, 4) / 5: furthest at t = 3/5, x = 9/5.
    const Vector2 along(0.6, 0.8);
    const Spline spline{2, {0, 0, 0, 1, 1, 1}, {Point2(0, 0), 3.0 * along, 1.0 * along}, {}};
    const std::vector<Curve> pieces = straight_pieces(spline, 1e-9);
    REQUIRE(pieces.size() == 2);
    CHECK((end_point(pieces[0]) - 1.8 * along).norm() < 1e-15);
    CHECK(end_point(pieces[0]) == start_point(pieces[1]));
    CHECK(start_point(pieces[0]) == Point2(0, 0));
    CHECK(end_point(pieces[1]) == Point2(along));
}

TEST_CASE("there and back again is two lines over each other") {
    // x(t) = 4 t (1 - t): from 0 to 1 and back.
    const Spline spline{2, {0, 0, 0, 1, 1, 1}, {{0, 5}, {2, 5}, {0, 5}}, {}};
    const std::vector<Curve> pieces = straight_pieces(spline, 1e-9);
    REQUIRE(pieces.size() == 2);
    CHECK(length(pieces[0]) == Approx(1.0).epsilon(1e-14));
    CHECK(length(pieces[1]) == Approx(1.0).epsilon(1e-14));
}

TEST_CASE("a turn at a knot, and a turn of a rational spline") {
    // Degree 1: the turns are the inner poles.
    const Spline zigzag{1, {0, 0, 1, 2, 3, 3}, {{0, 0}, {4, 0}, {1, 0}, {6, 0}}, {}};
    const std::vector<Curve> pieces = straight_pieces(zigzag, 1e-9);
    REQUIRE(pieces.size() == 3);
    CHECK((end_point(pieces[0]) - Point2(4, 0)).norm() < 1e-6);
    CHECK((end_point(pieces[1]) - Point2(1, 0)).norm() < 1e-6);
    CHECK(end_point(pieces[2]) == Point2(6, 0));

    // A quarter of a unit circle from 45 to 135 degrees, flattened: y = 0, x from cos 45 to cos 135
    // does not turn; its other coordinate rises to 1 and falls again.
    const double half = std::sqrt(0.5);
    const Spline arc{2, {0, 0, 0, 1, 1, 1}, {{0, half}, {0, 2 * half}, {0, half}}, {1, half, 1}};
    const std::vector<Curve> rise_and_fall = straight_pieces(arc, 1e-9);
    REQUIRE(rise_and_fall.size() == 2);
    CHECK(end_point(rise_and_fall[0]).y() == Approx(1.0).epsilon(1e-14));
}

TEST_CASE("what is not straight gives no pieces") {
    const Spline spline{2, {0, 0, 0, 1, 1, 1}, {{0, 0}, {1, 1e-6}, {2, 0}}, {}};
    CHECK(straight_pieces(spline, 1e-7).empty());
    CHECK(straight_pieces(spline, 1e-5).size() == 1);
}
