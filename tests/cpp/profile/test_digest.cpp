#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include "profile/outlines.hpp"

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
    CHECK(digest_of({Arc{{5, 6}, 3 + 2e-6, 0, 2 * pi}}) != circle);

    const std::string ellipse = digest_of({EllipticalArc{{5, 6}, {3, 4}, 0.4, 0, 2 * pi}});
    CHECK(digest_of({EllipticalArc{{5, 6}, {-3, -4}, 0.4, 1, -2 * pi}}) == ellipse);
    CHECK(digest_of(split({EllipticalArc{{5, 6}, {3, 4}, 0.4, 2, 2 * pi}}, {0.3, 0.4})) == ellipse);
    CHECK(digest_of({EllipticalArc{{5, 6}, {3, 4}, 0.4 + 1e-6, 0, 2 * pi}}) != ellipse);
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
    CHECK(ProfileSet({b, a_swapped}, {second, first}, Datum::xz(), 0.5, "n", {"m"}).digest() ==
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

TEST_CASE("rounding doesn't count, 2e-6 mm do, in every kind of curve") {
    const std::string digest = digest_of(outlines::mixed());
    for (const double noise : {1e-10, -1e-10, 1e-9}) {
        std::vector<Curve> curves = outlines::mixed();
        for (Curve& curve : curves)
            curve = transformed(curve, Transform2(Eigen::Translation2d(noise, -noise)));
        CHECK(digest_of(curves) == digest);
    }
    std::set<std::string> digests{digest};
    for (const Vector2& shift : {Vector2(2e-6, 0), Vector2(0, 2e-6), Vector2(-2e-6, 2e-6)}) {
        std::vector<Curve> curves = outlines::mixed();
        for (Curve& curve : curves)
            curve = transformed(curve, Transform2(Eigen::Translation2d(shift)));
        digests.insert(digest_of(curves));
    }
    // One corner, one pole, the bulge of an arc.
    std::vector<Point2> corners{{0, 0}, {10, 0}, {10, 10}, {0, 10}};
    digests.insert(digest_of(outlines::polygon(corners)));
    corners[2] += Vector2(0, 2e-6);
    digests.insert(digest_of(outlines::polygon(corners)));
    std::vector<Curve> pole_moved = outlines::mixed();
    std::get<Spline>(pole_moved[3]).poles[1].x() += 2e-6;
    digests.insert(digest_of(pole_moved));
    std::vector<Curve> bulged = outlines::slot(30, 4);
    digests.insert(digest_of(bulged));
    const double half = 4.0;  // half chord
    const double rise = 4.0 - 2e-6;
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
    const std::vector<Point2> bent{{0, 0}, {5, -2e-6}, {10, 0}, {10, 10}};
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
