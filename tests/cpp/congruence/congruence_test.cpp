#include "planform/congruence.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "congruence/random_outlines.hpp"
#include "planform/error.hpp"
#include "random_count.hpp"

using namespace planform;

namespace {

Contour rectangle(double x, double y, double width, double height) {
    return Contour({Line{{x, y}, {x + width, y}}, Line{{x + width, y}, {x + width, y + height}},
                    Line{{x + width, y + height}, {x, y + height}}, Line{{x, y + height}, {x, y}}});
}

Contour circle(double x, double y, double radius) {
    return Contour({Arc{{x, y}, radius, 0.0, 2.0 * pi}});
}

ProfileSet plate_with(std::vector<Contour> holes) {
    return ProfileSet({Profile(rectangle(0.0, 0.0, 100.0, 60.0), std::move(holes))});
}

bool congruent(const ProfileSet& a, const ProfileSet& b, Turning turning = Turning::never,
               double tolerance = 0.01) {
    return find_congruence(a, b, {tolerance, turning}).has_value();
}

/// Regular polygon as a gear of many small teeth.
ProfileSet gear(int teeth, double turn) {
    std::vector<Curve> curves;
    for (int i = 0; i < 2 * teeth; ++i) {
        const auto corner = [&](int k) {
            const double radius = k % 2 == 0 ? 100.0 : 99.0;
            const double angle = turn + pi * k / teeth;
            return Point2(radius * std::cos(angle), radius * std::sin(angle));
        };
        curves.push_back(Line{corner(i), corner((i + 1) % (2 * teeth))});
    }
    return ProfileSet({Profile(Contour(curves))});
}

}  // namespace

TEST_CASE("random outlines: congruent pairs are joined, pairs that differ by 0.02 mm are not") {
    // The answer is known by construction. A quarter of the pairs is of each kind.
    const int pairs = random_count(200, 2000) / 4 * 4;
    std::mt19937_64 random(20261125);
    int joined = 0, told_apart = 0, symmetric = 0;
    for (int pair = 0; pair < pairs; ++pair) {
        CAPTURE(pair);
        const outlines::Drawn drawn = outlines::random_drawn(random);
        const bool mirrored = pair % 2 == 1;
        const bool moves_hole = pair % 4 >= 2;
        const Transform2 motion = outlines::random_motion(random, mirrored);
        const ProfileSet original =
            moves_hole ? outlines::with_moved_hole(drawn.set, 0.02) : drawn.set;
        const ProfileSet other = outlines::written_anew(original, motion, random);
        symmetric += drawn.is_mirror_symmetric ? 1 : 0;
        if (moves_hole) {
            CHECK_FALSE(find_congruence(drawn.set, other, {0.01, Turning::allowed}).has_value());
            // A coarser comparison takes them for one.
            CHECK(find_congruence(drawn.set, other, {0.05, Turning::allowed}).has_value());
            ++told_apart;
            continue;
        }
        const bool plain = !mirrored || drawn.is_mirror_symmetric;
        const auto found = find_congruence(drawn.set, other, {0.01, Turning::never});
        CHECK(found.has_value() == plain);
        const auto turned = find_congruence(drawn.set, other, {0.01, Turning::allowed});
        REQUIRE(turned.has_value());
        CHECK(turned->mirrored == !plain);
        CHECK(turned->deviation < 1e-6);
        CHECK(std::abs(std::abs(turned->motion.linear().determinant()) - 1.0) < 1e-12);
        ++joined;
    }
    CHECK(joined == pairs / 2);
    CHECK(told_apart == pairs / 2);
    CHECK(symmetric > pairs / 4);
}

TEST_CASE("the tolerance is on distances within the outline: half of it either way") {
    const ProfileSet plain = plate_with({circle(20.0, 20.0, 4.0), circle(70.0, 35.0, 3.0)});
    const auto moved = [](double by) {
        return plate_with({circle(20.0 + by, 20.0, 4.0), circle(70.0, 35.0, 3.0)});
    };
    CHECK(congruent(plain, moved(0.009)));
    CHECK_FALSE(congruent(plain, moved(0.011)));
    // The least greatest distance is half of what the hole moved: reached to 2 %.
    const auto found = find_congruence(plain, moved(0.009), {0.0092, Turning::never});
    REQUIRE(found.has_value());
    CHECK(found->deviation <= 0.0046);
    // A radius can't be shared out: all of the difference counts on either side.
    const auto wider = [](double by) {
        return plate_with({circle(20.0, 20.0, 4.0 + by), circle(70.0, 35.0, 3.0)});
    };
    CHECK(congruent(plain, wider(0.0049)));
    CHECK_FALSE(congruent(plain, wider(0.0051)));
}

TEST_CASE("an outline with a square's symmetry takes the hole's place from any corner") {
    const auto square = [](double x, double y) {
        return ProfileSet({Profile(rectangle(-30.0, -30.0, 60.0, 60.0), {circle(x, y, 3.0)})});
    };
    const ProfileSet first = square(10.0, 17.0);
    CHECK(congruent(first, square(-17.0, 10.0)));  // a quarter turn
    CHECK_FALSE(congruent(first, square(17.0, 10.0)));
    const auto over = find_congruence(first, square(17.0, 10.0), {0.01, Turning::allowed});
    REQUIRE(over.has_value());
    CHECK(over->mirrored);
    CHECK((over->motion * Point2(10.0, 17.0) - Point2(17.0, 10.0)).norm() < 1e-9);
    CHECK_FALSE(congruent(first, square(10.0, 17.02), Turning::allowed));
}

TEST_CASE("gears of many teeth turn onto themselves by one tooth only") {
    for (const int teeth : {60, 100, 400}) {
        CAPTURE(teeth);
        CHECK(congruent(gear(teeth, 0.0), gear(teeth, 0.4 * pi / teeth)));
        CHECK_FALSE(congruent(gear(teeth, 0.0), gear(teeth + 1, 0.0)));
    }
}

TEST_CASE("discs and rings need no turning; centres and radii count") {
    const auto ring = [](double x, double hole) {
        return ProfileSet({Profile(circle(x, 5.0, 30.0), {circle(x, 5.0, hole)})});
    };
    CHECK(congruent(ring(0.0, 10.0), ring(400.0, 10.0)));
    CHECK_FALSE(congruent(ring(0.0, 10.0), ring(0.0, 10.02)));
    const ProfileSet off_centre({Profile(circle(0.0, 0.0, 30.0), {circle(0.02, 0.0, 10.0)})});
    CHECK_FALSE(congruent(ring(0.0, 10.0), off_centre));
}

TEST_CASE("kinds of curve don't count: a circle as a spline of four rational quadratics") {
    // The exact nine-pole circle: Piegl, Tiller, The NURBS Book (2nd ed.), section 7.5.
    Spline spline;
    spline.degree = 2;
    spline.knots = {0, 0, 0, 0.25, 0.25, 0.5, 0.5, 0.75, 0.75, 1, 1, 1};
    for (const auto& [x, y] : std::vector<std::pair<int, int>>{
             {1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}, {1, 0}}) {
        spline.poles.emplace_back(20.0 + 4.0 * x, 20.0 + 4.0 * y);
        spline.weights.push_back(x != 0 && y != 0 ? std::sqrt(0.5) : 1.0);
    }
    const ProfileSet as_arc = plate_with({circle(20.0, 20.0, 4.0)});
    const auto found =
        find_congruence(as_arc, plate_with({Contour({Curve(spline)})}), {0.01, Turning::never});
    REQUIRE(found.has_value());
    CHECK(found->deviation < 1e-9);
}

TEST_CASE("marks, holes and layers are matched with their like only") {
    const Contour square = rectangle(40.0, 20.0, 10.0, 10.0);
    const ProfileSet hole = plate_with({square});
    const ProfileSet mark({Profile(rectangle(0.0, 0.0, 100.0, 60.0))}, {Mark{square, "text"}});
    CHECK(congruent(mark, mark.transformed(Transform2(Eigen::Translation2d(3.0, 4.0)))));
    CHECK_FALSE(congruent(hole, mark));
    const ProfileSet plain = plate_with({});
    const std::vector<ProfileSet> upward{plain, hole}, downward{hole, plain};
    CHECK(find_congruence(upward, upward).has_value());
    CHECK_FALSE(find_congruence(upward, downward).has_value());
    CHECK(find_congruence(ProfileSet(), ProfileSet()).has_value());
    CHECK_FALSE(congruent(ProfileSet(), plain));
}

TEST_CASE("one motion carries all layers: each alone would fit") {
    const ProfileSet hole = plate_with({circle(20.0, 20.0, 3.0)});
    const ProfileSet opposite = plate_with({circle(80.0, 40.0, 3.0)});
    CHECK(congruent(hole, opposite));  // half a turn
    const std::vector<ProfileSet> first{hole, hole}, second{hole, opposite};
    CHECK_FALSE(find_congruence(first, second).has_value());
}

TEST_CASE("a tolerance that makes no sense is refused") {
    for (const double tolerance : {0.0, -1.0, double(NAN), double(INFINITY)})
        CHECK_THROWS_AS(find_congruence(ProfileSet(), ProfileSet(), {tolerance, Turning::never}),
                        GeometryError);
}
