#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <random>
#include <set>
#include <string>

#include "profile/outlines.hpp"
#include "random_count.hpp"

using namespace planform;

namespace {

std::string digest_of(const std::vector<Curve>& curves) {
    return ProfileSet({Profile(Contour(curves))}).digest();
}

std::vector<Curve> rotated(std::vector<Curve> curves, std::size_t by) {
    std::rotate(curves.begin(), curves.begin() + by, curves.end());
    return curves;
}

/// Each line and arc cut in pieces at the fractions.
std::vector<Curve> split(const std::vector<Curve>& curves, const std::vector<double>& fractions) {
    std::vector<Curve> result;
    for (const Curve& curve : curves) {
        if (std::holds_alternative<Spline>(curve)) {
            result.push_back(curve);
            continue;
        }
        double from = 0.0;
        for (const double to : fractions) {
            result.push_back(trimmed(curve, from, to));
            from = to;
        }
        result.push_back(trimmed(curve, from, 1.0));
    }
    return result;
}

std::vector<Curve> backward(const std::vector<Curve>& curves) {
    return Contour(curves).reversed().curves();
}

}  // namespace

TEST_CASE("a digest is 32 hexadecimal digits and stays from call to call") {
    const std::string digest = digest_of(outlines::mixed());
    CHECK(digest.size() == 32);
    CHECK(digest.find_first_not_of("0123456789abcdef") == std::string::npos);
    CHECK(digest == digest_of(outlines::mixed()));
    CHECK(ProfileSet().digest().size() == 32);
    CHECK(ProfileSet().digest() != digest);
}

TEST_CASE("start, direction and splitting don't count") {
    for (const std::vector<Curve>& curves : {outlines::mixed(), outlines::slot(30, 4)}) {
        const std::string digest = digest_of(curves);
        for (std::size_t by = 1; by < curves.size(); ++by)
            CHECK(digest_of(rotated(curves, by)) == digest);
        CHECK(digest_of(backward(curves)) == digest);
        const std::vector<Curve> pieces = split(curves, {0.17, 0.5, 0.83});
        CHECK(pieces.size() > 2 * curves.size());
        for (std::size_t by = 0; by < pieces.size(); ++by)
            CHECK(digest_of(rotated(pieces, by)) == digest);
        CHECK(digest_of(backward(pieces)) == digest);
    }
}

TEST_CASE("full circles and ellipses have no start") {
    const std::string circle = digest_of({Arc{{5, 6}, 3, 0, 2 * pi}});
    CHECK(digest_of({Arc{{5, 6}, 3, 1.234, 2 * pi}}) == circle);
    CHECK(digest_of({Arc{{5, 6}, 3, 1.234, -2 * pi}}) == circle);
    CHECK(digest_of({Arc{{5, 6}, 3, 0.5, pi}, Arc{{5, 6}, 3, 0.5 + pi, pi}}) == circle);
    CHECK(digest_of(split({Arc{{5, 6}, 3, 0.5, 2 * pi}}, {0.1, 0.6})) == circle);
    CHECK(digest_of({Arc{{5, 6}, 3.008, 0, 2 * pi}}) != circle);

    const std::string ellipse = digest_of({EllipticalArc{{5, 6}, {3, 4}, 0.4, 0, 2 * pi}});
    CHECK(digest_of({EllipticalArc{{5, 6}, {-3, -4}, 0.4, 1, -2 * pi}}) == ellipse);
    CHECK(digest_of(split({EllipticalArc{{5, 6}, {3, 4}, 0.4, 2, 2 * pi}}, {0.3, 0.4})) == ellipse);
    CHECK(digest_of({EllipticalArc{{5, 6}, {3, 4}, 0.402, 0, 2 * pi}}) != ellipse);
}

TEST_CASE("a spline that is a circle counts as one") {
    const double w = std::sqrt(0.5);
    const Spline spline{
        2,
        {0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4},
        {{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}, {1, 0}},
        {1, w, 1, w, 1, w, 1, w, 1}};
    CHECK(digest_of({spline}) == digest_of({Arc{{0, 0}, 1, 0, 2 * pi}}));
}

TEST_CASE("the order of profiles, holes and marks, names and datum don't count") {
    const Profile a(outlines::rectangle(0, 0, 20, 10),
                    {outlines::circle({5, 5}, 2), outlines::circle({15, 5}, 3)});
    const Profile a_swapped(outlines::rectangle(0, 0, 20, 10),
                            {outlines::circle({15, 5}, 3), outlines::circle({5, 5}, 2)}, "wall");
    const Profile b(outlines::rectangle(40, 0, 5, 5));
    const Mark first{outlines::rectangle(1, 1, 1, 1), "x"};
    const Mark second{outlines::rectangle(3, 1, 1, 1).reversed(), "y"};
    const std::string digest = ProfileSet({a, b}, {first, second}).digest();
    CHECK(ProfileSet({b, a_swapped}, {second, first}, Datum::xz(), 0.2, "n", {"m"}).digest() ==
          digest);
    // A mark is not a cut, a hole not a profile.
    CHECK(ProfileSet({a, b}, {first}).digest() != digest);
    const Contour plate = outlines::rectangle(0, 0, 20, 10);
    const Contour disc = outlines::circle({5, 5}, 2);
    const std::set<std::string> roles{
        ProfileSet({Profile(plate, {disc})}).digest(),
        ProfileSet({Profile(plate), Profile(disc)}).digest(),
        ProfileSet({Profile(plate)}, {{disc, ""}}).digest(),
    };
    CHECK(roles.size() == 3);
}

TEST_CASE("rounding doesn't count, 0.0075 mm do, in every kind of curve") {
    const std::string digest = digest_of(outlines::mixed());
    for (const double noise : {1e-10, -1e-10, 1e-9}) {
        std::vector<Curve> curves = outlines::mixed();
        for (Curve& curve : curves)
            curve = transformed(curve, Transform2(Eigen::Translation2d(noise, -noise)));
        CHECK(digest_of(curves) == digest);
    }
    std::set<std::string> digests{digest};
    for (const Vector2& shift :
         {Vector2(0.0075, 0), Vector2(0, 0.0075), Vector2(-0.0075, 0.0075)}) {
        std::vector<Curve> curves = outlines::mixed();
        for (Curve& curve : curves)
            curve = transformed(curve, Transform2(Eigen::Translation2d(shift)));
        digests.insert(digest_of(curves));
    }
    // One corner, one pole, the bulge of an arc.
    std::vector<Point2> corners{{0, 0}, {10, 0}, {10, 10}, {0, 10}};
    digests.insert(digest_of(outlines::polygon(corners)));
    corners[2] += Vector2(0, 0.0075);
    digests.insert(digest_of(outlines::polygon(corners)));
    std::vector<Curve> pole_moved = outlines::mixed();
    std::get<Spline>(pole_moved[3]).poles[1].x() += 0.0075;
    digests.insert(digest_of(pole_moved));
    std::vector<Curve> bulged = outlines::slot(30, 4);
    digests.insert(digest_of(bulged));
    const double half = 4.0;  // half chord
    const double rise = 4.0 - 0.0075;
    const double radius = (half * half + rise * rise) / (2 * rise);
    const double angle = std::asin(half / radius);
    bulged[1] = Arc{{30 + rise - radius, 0}, radius, -angle, 2 * angle};
    digests.insert(digest_of(bulged));
    CHECK(digests.size() == 9);
}

TEST_CASE("negative zero is zero") {
    CHECK(digest_of(outlines::polygon({{0.0, 0.0}, {5, 0.0}, {5, 5}})) ==
          digest_of(outlines::polygon({{-0.0, -1e-9}, {5, -0.0}, {5, 5}})));
}

TEST_CASE("a nearly straight corner is a corner, a straight one is none") {
    const std::vector<Point2> straight{{0, 0}, {5, 0}, {10, 0}, {10, 10}};
    const std::vector<Point2> bent{{0, 0}, {5, -0.0075}, {10, 0}, {10, 10}};
    const std::vector<Point2> without{{0, 0}, {10, 0}, {10, 10}};
    CHECK(digest_of(outlines::polygon(straight)) == digest_of(outlines::polygon(without)));
    CHECK(digest_of(outlines::polygon(bent)) != digest_of(outlines::polygon(without)));
}

TEST_CASE("a vertex that is passed twice leaves one start") {
    // Two quadrangles that touch in their smallest vertex (0, 0), run through as one contour.
    const std::vector<Point2> touching{{0, 0}, {2, 1}, {3, 3}, {0, 0}, {1, 4}, {0, 5}};
    const std::vector<Curve> curves = outlines::polygon(touching);
    for (std::size_t by = 1; by < curves.size(); ++by)
        CHECK(digest_of(rotated(curves, by)) == digest_of(curves));
}

namespace {

ProfileSet set_of(const std::vector<Point2>& corners) {
    return ProfileSet({Profile(Contour(outlines::polygon(corners)))});
}

Transform2 motion(double angle, const Vector2& shift) {
    return Transform2(Eigen::Translation2d(shift) * Eigen::Rotation2Dd(angle));
}

int cases(int usual, int all) { return runs_in_full() ? all : usual; }

/// A plate with corners at and around odd places of a step: five corners, a hole, a slot.
ProfileSet awkward_plate(std::mt19937& random, double step) {
    const std::vector<double> beside{0.0, 1e-13, -1e-12, 1e-10, -1e-9, 1e-9, 3e-9, -1e-8, 1e-7};
    const auto odd = [&](double near) {
        const double places = std::floor(near / step) + 0.5;
        return places * step + beside[random() % beside.size()];
    };
    const double x = odd(40 + 0.37 * static_cast<double>(random() % 1000));
    const double y = odd(30 + 0.29 * static_cast<double>(random() % 1000));
    Contour outer(outlines::polygon(
        {{odd(0), odd(0)}, {x, odd(0)}, {x, y}, {odd(0.7 * x), y}, {odd(0), odd(0.6 * y)}}));
    Contour hole = outlines::circle({odd(0.5 * x), odd(0.3 * y)}, odd(0.1 * std::min(x, y)));
    return ProfileSet({Profile(std::move(outer), {std::move(hole)})});
}

}  // namespace

// A plate 33/64 inch wide, whose half is a whole number and a half of micrometres' thousandths.
TEST_CASE("a plate of inches, turned and turned back, keeps its digest") {
    const double w = 33.0 / 64.0 * 25.4 / 2.0;
    const ProfileSet plate = set_of({{-w, -w}, {w, -w}, {w, w}, {-w, w}});
    for (int i = 1; i <= 100; ++i) {
        const double angle = 0.0631 * i;
        const ProfileSet back =
            plate.transformed(motion(angle, {0, 0})).transformed(motion(-angle, {0, 0}));
        CHECK(back.digest() == plate.digest());
        CHECK(back == plate);
    }
}

TEST_CASE("coordinates at and around half steps: noise doesn't flip a digest, 0.02 mm always do") {
    std::mt19937 random(24);
    std::uniform_real_distribution<double> noise(-1e-9, 1e-9);
    const int count = cases(2000, 100000);
    int flipped = 0, told_apart = 0, unequal = 0, taken_for_equal = 0, checked = 0;
    for (int i = 0; i < count; ++i) {
        const std::vector<double> steps{1e-6, 1e-5, 1e-3, 0.0025, 0.005, 25.4 / 64.0, 0.01};
        const ProfileSet plate = awkward_plate(random, steps[static_cast<std::size_t>(i) % 7]);
        const double angle = 0.001 * i;
        const Vector2 far(1e-3 * (i % 500), 1e-2 * (i % 100));
        const Transform2 there = motion(angle, far);
        const ProfileSet back = plate.transformed(there).transformed(there.inverse());
        const ProfileSet beside = plate.transformed(motion(0, {noise(random), noise(random)}));
        const Vector2 way(0.02 * std::cos(angle), 0.02 * std::sin(angle));
        const ProfileSet moved = plate.transformed(motion(0, way));
        const std::string digest = plate.digest();
        flipped += (back.digest() != digest) + (beside.digest() != digest);
        unequal += !(back == plate) + !(beside == plate);
        told_apart += moved.digest() != digest;
        taken_for_equal += moved == plate;
        ++checked;
    }
    CHECK(checked == count);
    CHECK(flipped == 0);
    CHECK(unequal == 0);
    CHECK(told_apart == count);
    CHECK(taken_for_equal == 0);
}

TEST_CASE("equality tells a micrometre, whatever the order") {
    const Contour plate = outlines::rectangle(0, 0, 20, 10);
    const Contour a = outlines::circle({5, 5}, 2), b = outlines::circle({15, 5}, 2);
    const ProfileSet one({Profile(plate, {a, b})});
    CHECK(one == ProfileSet({Profile(plate.reversed(), {b.reversed(), a})}, {}, Datum::xz(), 0.02));
    CHECK_FALSE(one == ProfileSet({Profile(plate, {a})}));
    CHECK_FALSE(one == ProfileSet({Profile(plate, {a, outlines::circle({15, 5}, 2.001)})}));
    CHECK_FALSE(one == ProfileSet({Profile(plate, {a, outlines::circle({15.001, 5}, 2)})}));
    CHECK_FALSE(one == ProfileSet({Profile(plate, {a, b})}, {{a, "mark"}}));
    CHECK(one == ProfileSet({Profile(plate, {a, outlines::circle({15 + 4e-7, 5}, 2)})}));
    CHECK(ProfileSet() == ProfileSet());
    // A joint that is bent by as much as still counts as straight, and noise beside it.
    for (const double bend : {0.9e-8, 1e-8, 1.1e-8})
        CHECK(set_of({{0, 0}, {5, -bend}, {10, 0}, {10, 10}}) ==
              set_of({{0, 0}, {5, -1e-8}, {10, 0}, {10, 10}}));
}

TEST_CASE("tiny outlines are told apart by their own size") {
    std::set<std::string> digests;
    for (const double size : {1.0, 0.1, 0.01, 0.001}) {
        for (const double share : {1.0, 1.004})
            digests.insert(set_of({{0, 0}, {size, 0}, {size, share * size}, {0, size}}).digest());
    }
    CHECK(digests.size() == 8);
}

TEST_CASE("a normalized outline is the same wherever it lies") {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> number(-200, 200);
    std::vector<ProfileSet> sets{
        ProfileSet({Profile(Contour(outlines::mixed()))}),
        ProfileSet({Profile(Contour(outlines::slot(30, 4)))}),
        ProfileSet({Profile(outlines::rectangle(-5, -5, 10, 10))}),
        ProfileSet({Profile(outlines::circle({3, 4}, 10), {outlines::circle({3, 4}, 6)})}),
        ProfileSet({Profile(outlines::circle({3, 4}, 10), {outlines::circle({3.5, 4}, 6)})}),
        ProfileSet({Profile(Contour({EllipticalArc{{5, 6}, {3, 4}, 0.4, 0, 2 * pi}}))}),
        ProfileSet({}, {{outlines::rectangle(1, 2, 3, 4), "mark"}}),
        ProfileSet({Profile(outlines::rectangle(0, 0, 20, 10),
                            {outlines::circle({5, 5}, 2), outlines::circle({15, 5}, 3)})},
                   {{outlines::rectangle(9, 2, 2, 1), ""}})};
    std::vector<Point2> regular;
    for (int i = 0; i < 12; ++i)
        regular.emplace_back(10 * std::cos(i * pi / 6), 10 * std::sin(i * pi / 6));
    sets.push_back(set_of(regular));
    for (int i = 0; i < 20; ++i) sets.push_back(awkward_plate(random, 1e-3));
    std::set<std::string> digests;
    for (const ProfileSet& set : sets) {
        const ProfileSet own = set.normalized();
        CHECK(own.area() == doctest::Approx(set.area()).epsilon(1e-12));
        digests.insert(own.digest());
        for (int i = 0; i < 10; ++i) {
            const ProfileSet moved =
                set.transformed(motion(number(random), {number(random), number(random)}));
            CHECK(moved.normalized().digest() == own.digest());
            CHECK(moved.normalized() == own);
        }
        CHECK(own.normalized().digest() == own.digest());
    }
    CHECK(digests.size() == sets.size());
    CHECK(ProfileSet().normalized().empty());
    // The mirror image of an outline without an axis of symmetry is another one.
    const Transform2 mirror(Eigen::Scaling(-1.0, 1.0));
    CHECK(sets[0].transformed(mirror).normalized().digest() != sets[0].normalized().digest());
}

TEST_CASE("the centroid of a normalized outline is its origin") {
    // An L of 20 by 10, the upper right quarter of 10 by 5 missing: by hand 25 / 3, 25 / 6.
    const ProfileSet own =
        set_of({{0, 0}, {20, 0}, {20, 5}, {10, 5}, {10, 10}, {0, 10}}).normalized();
    // The furthest corner is (20, 0).
    CHECK(own.bounds().max().x() ==
          doctest::Approx(std::hypot(20 - 25.0 / 3, 25.0 / 6)).epsilon(1e-12));
}
