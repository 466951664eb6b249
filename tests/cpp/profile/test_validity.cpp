/// What constructors refuse: no area, crossings, holes that are not inside; and what they take.

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <optional>
#include <random>
#include <string>

#include "planform/error.hpp"
#include "profile/outlines.hpp"

using namespace planform;

namespace {

template <class Make>
std::optional<ErrorKind> kind_of(const Make& make) {
    try {
        make();
    } catch (const GeometryError& error) {
        CHECK(std::string(error.what()).size() < 300);
        CHECK(std::string(error.what()).find('\n') == std::string::npos);
        return error.kind();
    }
    return std::nullopt;
}

std::optional<ErrorKind> contour_kind(const std::vector<Curve>& curves) {
    return kind_of([&] { Contour{curves}; });
}

std::optional<ErrorKind> profile_kind(const Contour& outer, const std::vector<Contour>& holes) {
    return kind_of([&] { Profile(outer, holes); });
}

/// A star with `count` tips, run through from tip to tip `step` further on.
std::vector<Curve> star(int count, int step, double radius) {
    std::vector<Point2> corners;
    for (int i = 0; i < count; ++i) {
        const double angle = 2 * pi * i * step / count;
        corners.emplace_back(radius * std::cos(angle), radius * std::sin(angle));
    }
    return outlines::polygon(corners);
}

}  // namespace

TEST_CASE("contours of no area are refused, at every size") {
    for (const double size : {1e-3, 1.0, 1e2, 1e5}) {
        CAPTURE(size);
        const Point2 a(0, 0), b(size, 0.3 * size), c(0.5 * size, 0.15 * size);
        CHECK(contour_kind({Line{a, b}, Line{b, a}}) == ErrorKind::contour_without_area);
        CHECK(contour_kind({Line{a, c}, Line{c, b}, Line{b, a}}) ==
              ErrorKind::contour_without_area);
        CHECK(contour_kind({Arc{a, size, 0, 1}, Arc{a, size, 1, -1}}) ==
              ErrorKind::contour_without_area);
        CHECK_NOTHROW(Contour({Line{a, b}, Line{b, a}}, {}, Validate::no));
    }
}

TEST_CASE("contours that cross themselves are refused, at every size and place") {
    for (const double size : {1e-3, 1.0, 1e2, 1e5}) {
        for (const double away : {0.0, 1e4}) {
            CAPTURE(size);
            CAPTURE(away);
            const auto at = [&](double x, double y) {
                return Point2(away + size * x, size * y - away);
            };
            // A bow-tie of equal halves, one of unequal halves, a loop that is run through twice.
            CHECK(contour_kind(outlines::polygon({at(0, 0), at(1, 1), at(1, 0), at(0, 1)})) ==
                  ErrorKind::contour_crosses_itself);
            CHECK(contour_kind(outlines::polygon({at(0, 0), at(1, 1), at(1, 0), at(0, 0.5)})) ==
                  ErrorKind::contour_crosses_itself);
            CHECK(contour_kind(outlines::polygon({at(0, 0), at(1, 0), at(1, 1), at(0, 0), at(1, 0),
                                                  at(1, 1)})) == ErrorKind::contour_crosses_itself);
            // An arc that bulges through the side across.
            CHECK(contour_kind({Line{at(0, 0), at(1, 0)}, Line{at(1, 0), at(1, 0.2)},
                                Arc{at(0.5, 0.2), 0.5 * size, 0, -pi},
                                Line{at(0, 0.2), at(0, 0)}}) == ErrorKind::contour_crosses_itself);
        }
    }
    CHECK(contour_kind(star(5, 2, 10)) == ErrorKind::contour_crosses_itself);
    CHECK(contour_kind(star(101, 50, 10)) == ErrorKind::contour_crosses_itself);
    CHECK(contour_kind({Arc{{0, 0}, 5, 0, 2 * pi}, Arc{{0, 0}, 5, 0, 2 * pi}}) ==
          ErrorKind::contour_crosses_itself);
    CHECK_NOTHROW(Contour(star(5, 2, 10), {}, Validate::no));
}

TEST_CASE("contours that touch themselves or have a slit are taken") {
    CHECK_NOTHROW(Contour(outlines::polygon({{0, 0}, {2, 1}, {3, 3}, {0, 0}, {1, 4}, {0, 5}})));
    // A corner on another side, within rounding on either side of it.
    for (const double beyond : {0.0, 1e-9, -1e-9, 1e-7})
        CHECK_NOTHROW(Contour(outlines::polygon(
            {{0, 0}, {10, 0}, {10, 10}, {6, 10}, {5, -beyond}, {4, 10}, {0, 10}})));
    // In to a hole and out along the same line.
    CHECK_NOTHROW(Contour(outlines::polygon({{0, 0},
                                             {10, 0},
                                             {10, 10},
                                             {0, 10},
                                             {0, 5},
                                             {3, 5},
                                             {3, 7},
                                             {7, 7},
                                             {7, 3},
                                             {3, 3},
                                             {3, 5},
                                             {0, 5}})));
    CHECK_NOTHROW(Contour(outlines::mixed()));
    CHECK_NOTHROW(Contour(outlines::slot(30, 4)));
}

TEST_CASE("numbers that are not finite and open chains are refused, validated or not") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const std::vector<Curve> bad = outlines::polygon({{0, 0}, {nan, 0}, {1, 1}});
    CHECK(contour_kind(bad) == ErrorKind::invalid_argument);
    CHECK(kind_of([&] { Contour(bad, {}, Validate::no); }) == ErrorKind::invalid_argument);
    CHECK(contour_kind({Line{{0, 0}, {1, 0}}, Line{{1, 0}, {1, 1}}}) ==
          ErrorKind::contour_not_closed);
}

TEST_CASE("a hole outside, across or around its outer contour is refused") {
    for (const double size : {1e-3, 1.0, 1e2, 1e5}) {
        CAPTURE(size);
        const Contour plate = outlines::rectangle(0, 0, 3 * size, 2 * size);
        const auto hole = [&](double x, double y, double radius) {
            return outlines::circle({x * size, y * size}, radius * size);
        };
        CHECK(profile_kind(plate, {hole(5, 1, 0.5)}) == ErrorKind::hole_not_inside);
        CHECK(profile_kind(plate, {hole(1, 1, 0.5), hole(3, 1, 0.5)}) ==
              ErrorKind::hole_not_inside);
        CHECK(profile_kind(plate, {hole(1.5, 1, 4)}) == ErrorKind::hole_not_inside);
        CHECK(profile_kind(plate, {hole(1, 1, 0.5), hole(1.2, 1, 0.5)}) ==
              ErrorKind::holes_overlap);
        CHECK(profile_kind(plate, {hole(1, 1, 0.5), hole(1, 1, 0.25)}) == ErrorKind::holes_overlap);
        CHECK(profile_kind(plate, {hole(1, 1, 0.5), hole(1, 1, 0.5)}) == ErrorKind::holes_overlap);
        CHECK_FALSE(profile_kind(plate, {hole(1, 1, 0.5), hole(2, 1, 0.4)}));
        // Contours that touch are common in cut parts.
        CHECK_FALSE(profile_kind(plate, {hole(0.5, 1, 0.5)}));
        CHECK_FALSE(profile_kind(plate, {hole(1, 1, 0.5), hole(2, 1, 0.5)}));
        CHECK_NOTHROW(Profile(plate, {hole(5, 1, 0.5)}, "", -1, Validate::no));
    }
    CHECK(kind_of([] {
              Profile(outlines::rectangle(0, 0, 30, 20),
                      {outlines::circle({5, 5}, 2), outlines::circle({50, 5}, 2)});
          }) == ErrorKind::hole_not_inside);
}

TEST_CASE("random polygons: what is refused is what crosses") {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> number(0, 100);
    int refused = 0, taken = 0;
    for (int i = 0; i < 400; ++i) {
        std::vector<Point2> corners;
        const int count = 3 + i % 6;
        for (int k = 0; k < count; ++k) corners.emplace_back(number(random), number(random));
        // By the textbook: two sides cross if each separates the ends of the other.
        bool crosses = false;
        const auto side = [](const Point2& a, const Point2& b, const Point2& c) {
            return cross(b - a, c - a) > 0.0;
        };
        for (int k = 0; k < count; ++k)
            for (int m = k + 2; m < count; ++m) {
                if (k == 0 && m == count - 1) continue;
                const auto at = [&](int n) { return corners[static_cast<std::size_t>(n % count)]; };
                const Point2 a = at(k), b = at(k + 1), c = at(m), d = at(m + 1);
                crosses |= side(a, b, c) != side(a, b, d) && side(c, d, a) != side(c, d, b);
            }
        const auto kind = contour_kind(outlines::polygon(corners));
        CHECK(kind.has_value() == crosses);
        if (kind) CHECK(*kind == ErrorKind::contour_crosses_itself);
        (crosses ? refused : taken) += 1;
    }
    CHECK(refused > 100);
    CHECK(taken > 50);
}

TEST_CASE("tolerances that lose the part, or that nothing can keep, are refused") {
    const std::vector<Profile> plate{Profile(outlines::rectangle(0, 0, 60, 48))};
    const auto kind = [&](double tolerance) {
        return kind_of([&] { ProfileSet(plate, {}, Datum::xy(), tolerance); });
    };
    CHECK_FALSE(kind(0.01));
    CHECK_FALSE(kind(0.7));
    CHECK(kind(0.8) == ErrorKind::tolerance_out_of_range);
    CHECK(kind(1000) == ErrorKind::tolerance_out_of_range);
    CHECK(kind(1e9) == ErrorKind::tolerance_out_of_range);
    CHECK(kind(1e-12) == ErrorKind::tolerance_out_of_range);
    CHECK(kind(0) == ErrorKind::invalid_argument);
    CHECK(kind(-1) == ErrorKind::invalid_argument);
    CHECK(kind(std::numeric_limits<double>::infinity()) == ErrorKind::invalid_argument);
    CHECK(fit_tolerance(0.01, 0.5) == doctest::Approx(0.005));
    CHECK(fit_tolerance(0.004, 0.5) == 0.004);
    CHECK_THROWS_AS(fit_tolerance(0.02, 0.5), GeometryError);
    CHECK(limited_tolerance(0.5, 10.0) == doctest::Approx(0.1));
    CHECK(limited_tolerance(0.05, 10.0) == 0.05);
    CHECK_NOTHROW(ProfileSet(plate, {}, Datum::xy(), 1000, "", {}, Validate::no));
}
