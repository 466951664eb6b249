/// Two curves that are one but for a notch somewhere: whichever of them is asked, the notch is
/// seen. In each case the union is the outline without the notch, by construction.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "arrange/arrange.hpp"
#include "arrange/shapes.hpp"
#include "random_count.hpp"

using namespace planform;
using namespace planform::arrange;

namespace {

constexpr double tolerance = 0.01;
constexpr double first_angle = 0.1;

struct Notch {
    double from, to, depth;  ///< angles, mm
};

/// An arc of so many cubic pieces, whose joints stray by up to `stray`; with a notch, for which it
/// has pieces of its own.
Spline arc_of_pieces(double radius, double sweep, int pieces, double stray, const Notch* notch) {
    std::vector<double> angles;
    for (int k = 0; k <= pieces; ++k) angles.push_back(first_angle + sweep * k / pieces);
    if (notch) {
        std::erase_if(angles, [&](double a) { return a >= notch->from && a <= notch->to; });
        const double middle = 0.5 * (notch->from + notch->to);
        angles.insert(angles.end(), {notch->from, middle, notch->to});
        std::sort(angles.begin(), angles.end());
    }
    const auto radius_at = [&](double angle) {
        const bool is_bottom = notch && std::abs(angle - 0.5 * (notch->from + notch->to)) < 1e-12;
        return radius + stray * std::sin(37.0 * angle) - (is_bottom ? notch->depth : 0.0);
    };
    const auto out = [](double angle) { return Vector2(std::cos(angle), std::sin(angle)); };
    const auto on = [](double angle) { return Vector2(-std::sin(angle), std::cos(angle)); };
    Spline spline;
    spline.degree = 3;
    spline.poles.push_back(radius_at(angles[0]) * out(angles[0]));
    spline.knots.assign(4, angles[0]);
    for (std::size_t k = 1; k < angles.size(); ++k) {
        const double a = angles[k - 1], b = angles[k],
                     handle = 4.0 / 3.0 * std::tan(0.25 * (b - a));
        spline.poles.push_back(radius_at(a) * (out(a) + handle * on(a)));
        spline.poles.push_back(radius_at(b) * (out(b) - handle * on(b)));
        spline.poles.push_back(radius_at(b) * out(b));
        spline.knots.insert(spline.knots.end(), k + 1 == angles.size() ? 4 : 3, b);
    }
    return spline;
}

void add_sector(test::Shapes& shapes, const Curve& edge) {
    shapes.chain(
        {Line{Point2::Zero(), start_point(edge)}, edge, Line{end_point(edge), Point2::Zero()}});
}

/// How far the outline is from a place that it must pass.
double miss(const std::vector<Loop>& loops, const Point2& place) {
    double least = 1e300;
    for (const Loop& loop : loops)
        for (const Curve& c : loop.curves)
            least = std::min(least, (point_at(c, nearest_parameter(c, place)) - place).norm());
    return least;
}

}  // namespace

TEST_CASE("a notch between two samples of a curve beside it is no part of it") {
    constexpr double radius = 500.0, sweep = 5.5;
    const int plain = static_cast<int>(std::ceil(sweep / 0.18));
    constexpr int all = 4 * 3 * 2 * 2 * 2 * 2;
    const int stride = (all / random_count(all, all)) | 1;  // odd: some of each kind
    int count = 0, number = 0;
    for (const double depth : {1.5, 0.5, 0.1, 0.03})
        for (const double width : {0.02, 0.004, 0.0012})
            for (const int pieces : {plain, 4 * plain})
                for (const double stray : {0.0, 1e-5})
                    for (const bool is_first : {true, false})
                        for (const bool unites : {true, false}) {
                            if (number++ % stride != 0) continue;
                            CAPTURE(depth);
                            CAPTURE(width);
                            CAPTURE(pieces);
                            CAPTURE(stray);
                            CAPTURE(is_first);
                            CAPTURE(unites);
                            // Off the middle of a piece, where nobody looks by chance.
                            const double middle = first_angle + sweep * (plain / 2 + 0.53) / plain;
                            const Notch notch{middle - 0.5 * width, middle + 0.5 * width, depth};
                            const Curve with = arc_of_pieces(radius, sweep, pieces, stray, &notch);
                            const Curve without = arc_of_pieces(radius, sweep, plain, 0.0, nullptr);
                            test::Shapes shapes;
                            add_sector(shapes, is_first ? with : without);
                            add_sector(shapes, is_first ? without : with);
                            Options options;
                            options.tolerance = tolerance;
                            options.inside = test::either;
                            options.unites_strands = unites;
                            std::vector<Loop> loops;
                            try {
                                loops = arrange::arrange(shapes.input(), options);
                            } catch (const Error&) {
                                continue;  // said, not wrong in silence
                            }
                            ++count;
                            const Point2 place =
                                radius * Point2(std::cos(middle), std::sin(middle));
                            CHECK(miss(loops, place) <= tolerance);
                        }
    CHECK(count >= 180 / stride);
}
