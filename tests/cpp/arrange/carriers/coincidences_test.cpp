/// Curves that are parts of each other without being the same: one piece each.

#include "arrange/carriers/coincidences.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "arrange/arrange.hpp"
#include "arrange/carriers/carriers.hpp"
#include "arrange/carriers/touches.hpp"
#include "arrange/shapes.hpp"

namespace planform::arrange::test {
namespace {

constexpr double same = 2e-7;  // mm

Curve wave() { return cubic_spline({{0, 0}, {4, 3}, {9, -4}, {13, 5}, {19, -2}, {24, 0}}); }

/// The stretch of the wave between two parameters, closed by lines over a point below or above it.
std::vector<Curve> under(double from, double to, double height) {
    const Curve part = trimmed(wave(), from, to);
    const Point2 apex(0.5 * (start_point(part).x() + end_point(part).x()), height);
    return {part, Line{end_point(part), apex}, Line{apex, start_point(part)}};
}

std::vector<Loop> where(const Input& input, bool (*inside)(const Winding&)) {
    Options options;
    options.tolerance = 1e-3;
    options.inside = inside;
    return arrange(input, options);
}

bool in_first(const Winding& w) { return w[0] != 0; }
bool in_second(const Winding& w) { return w[1] != 0; }
bool in_any(const Winding& w) { return w[0] != 0 || w[1] != 0; }
bool in_two(const Winding& w) { return w[0] != 0 && w[1] != 0; }
bool in_one(const Winding& w) { return (w[0] != 0) != (w[1] != 0); }

TEST_CASE("a spline and a part of it, with what lies along them on either side") {
    const Interval range = domain(wave());
    const auto part = [&](double from, double to, double height) {
        const double size = range.last - range.first;
        return under(range.first + from * size, range.first + to * size, height);
    };
    // In the middle, from the start, overlapping at the end, all of it.
    const std::vector<std::pair<double, double>> stretches{
        {0.33, 0.71}, {0.0, 0.62}, {0.25, 1.0}, {0.0, 0.8}};
    for (const double height : {-20.0, 20.0})
        for (const auto& [from, to] : stretches) {
            CAPTURE(height);
            CAPTURE(from);
            const Input input =
                Shapes().chain(part(0.0, 0.8, -30.0), 0).chain(part(from, to, height), 1).input();
            const double first = area(where(input, in_first));
            const double second = area(where(input, in_second));
            const std::vector<Loop> any = where(input, in_any), two = where(input, in_two),
                                    one = where(input, in_one);
            // Both laws of areas, to rounding.
            CHECK(area(any) + area(two) == doctest::Approx(first + second).epsilon(1e-12));
            CHECK(area(one) + area(two) == doctest::Approx(area(any)).epsilon(1e-12));
            // Where two splines that are one were told apart, dozens of pieces came out.
            for (const auto* loops : {&any, &two, &one}) CHECK(count_curves(*loops) <= 12);
        }
}

TEST_CASE("pieces between the same nodes that are different curves stay apart") {
    // A line, an arc over it that is 1e-5 mm high, and one on the other side.
    const double half = 1.0, height = 1e-5;
    const double radius = 0.5 * (half * half + height * height) / height;
    const double angle = std::asin(half / radius);
    const Arc above{{0, height - radius}, radius, 0.5 * pi - angle, 2.0 * angle};
    const Input input =
        Shapes()
            .chain({Line{{-half, 0}, {half, 0}}, above})
            .chain({Line{{-half, 0}, {half, 0}}, Line{{half, 0}, {0, 3}}, Line{{0, 3}, {-half, 0}}})
            .input();
    CarrierSet set = collect_carriers(input, same);
    split_at_touches(set, same);
    const std::size_t before = set.pieces.size();
    unite_coincident(set, same);
    CHECK(set.pieces.size() == before);
    CHECK(before == 4);
}

}  // namespace
}  // namespace planform::arrange::test
