/// Chords as long as their neighbours allow, judged by the crossings of dense points of their
/// curves.

#include "arrange/chords/settled_chords.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <vector>

#include "arrange/carriers/carriers.hpp"
#include "arrange/carriers/touches.hpp"
#include "arrange/shapes.hpp"

namespace planform::arrange::test {
namespace {

constexpr double fine = 2.5e-3, margin = 8e-5, same_chord = 2e-7;  // mm

using Random = std::mt19937;

double uniform(Random& random, double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
}

struct Chord {
    int carrier;
    double tolerance;
    std::vector<Point2> straight;
    std::vector<Point2> dense;
    Box2 box;  // of both
};

std::vector<Chord> chords_of(const CarrierSet& set) {
    const Polylines lines = settled_chords(set, fine, fine, margin);
    std::vector<Chord> chords;
    for (std::size_t p = 0; p < set.pieces.size(); ++p)
        for (std::size_t i = lines.first[p]; i + 1 < lines.first[p + 1]; ++i) {
            const int index = set.pieces[p].carrier;
            const Carrier& carrier = set.carriers[static_cast<std::size_t>(index)];
            std::vector<Point2> dense =
                points(carrier.piece(lines.parameters[i], lines.parameters[i + 1]), 1e-5);
            dense.front() = lines.points[i];
            dense.back() = lines.points[i + 1];
            Box2 box;
            for (const Point2& point : dense) box.extend(point);
            chords.push_back(
                {index, lines.tolerances[i], {lines.points[i], lines.points[i + 1]}, dense, box});
        }
    return chords;
}

/// Places along the first polyline, by its edges, at which it goes across the other.
std::vector<double> crossings(const std::vector<Point2>& a, const std::vector<Point2>& b) {
    std::vector<double> places;
    for (std::size_t i = 0; i + 1 < a.size(); ++i)
        for (std::size_t k = 0; k + 1 < b.size(); ++k) {
            const Vector2 u = a[i + 1] - a[i], v = b[k + 1] - b[k];
            const double b_start = cross(u, b[k] - a[i]), b_end = cross(u, b[k + 1] - a[i]);
            const double a_start = cross(v, a[i] - b[k]), a_end = cross(v, a[i + 1] - b[k]);
            if (b_start * b_end < 0.0 && a_start * a_end < 0.0)
                places.push_back(static_cast<double>(i) + a_start / (a_start - a_end));
        }
    return places;
}

bool share_an_end(const Chord& a, const Chord& b) {
    for (const Point2& p : a.straight)
        for (const Point2& q : b.straight)
            if (p == q) return true;
    return false;
}

/// Curves of all kinds, some in chains, that lie across each other.
Input tangle(Random& random, int count) {
    Shapes shapes;
    const auto place = [&] {
        const double x = uniform(random, 0.0, 14.0);
        return Point2(x, uniform(random, 0.0, 14.0));
    };
    for (int i = 0; i < count; ++i) {
        const Point2 c = place();
        const double size = uniform(random, 0.3, 5.0), angle = uniform(random, 0.0, 6.0);
        switch (i % 5) {
            case 0:
                shapes.circle(c, size);
                break;
            case 1:
                shapes.ellipse(c, size * Vector2(std::cos(angle), std::sin(angle)),
                               uniform(random, 0.1, 0.9));
                break;
            case 2:
                shapes.polygon({c, place(), place()});
                break;
            case 3: {
                const Point2 a = c, b = place();
                const Vector2 half = 0.5 * (b - a);
                const double turn = std::atan2(half.y(), half.x());
                shapes.chain({Line{a, b}, Arc{a + half, half.norm(), turn, pi}});
                break;
            }
            default: {
                std::vector<Point2> poles;
                for (int k = 0; k < 7; ++k) {
                    const double at = 2.0 * pi * k / 7.0, r = size * uniform(random, 0.5, 1.5);
                    poles.push_back(c + r * Vector2(std::cos(at), std::sin(at)));
                }
                poles.push_back(poles.front());
                shapes.chain({cubic_spline(poles)});
            }
        }
    }
    return shapes.input();
}

TEST_CASE("settled chords cross as often as their curves, and in the same order") {
    Random random(21);
    int long_chords = 0, crossed = 0, ordered = 0;
    for (int round = 0; round < 40; ++round) {
        CAPTURE(round);
        CarrierSet set = collect_carriers(tangle(random, 4 + round % 12), same_chord);
        split_at_touches(set, same_chord);
        const std::vector<Chord> chords = chords_of(set);
        for (const Chord& a : chords) {
            if (a.tolerance <= fine) continue;
            ++long_chords;
            struct Both {
                double straight;
                double dense;
            };
            std::vector<Both> places;
            for (const Chord& b : chords) {
                if (&a == &b || a.carrier == b.carrier || !a.box.intersects(b.box)) continue;
                const std::vector<double> of_chords = crossings(a.straight, b.straight);
                const std::vector<double> of_curves = crossings(a.dense, b.dense);
                if (share_an_end(a, b)) {
                    // The dense points of an arc stand a little beside the node itself.
                    CHECK(of_chords.empty());
                    continue;
                }
                REQUIRE(of_chords.size() == of_curves.size());
                if (!of_chords.empty()) places.push_back({of_chords[0], of_curves[0]});
            }
            crossed += static_cast<int>(places.size());
            for (const Both& p : places)
                for (const Both& q : places)
                    if (p.straight < q.straight) {
                        ++ordered;
                        CHECK(p.dense < q.dense);
                    }
        }
    }
    // What would make the checks above empty.
    CHECK(long_chords > 2000);
    CHECK(crossed > 1000);
    CHECK(ordered > 100);
}

TEST_CASE("a circle alone is an octagon, two that touch are fine where they touch") {
    CarrierSet alone = collect_carriers(Shapes().circle({3, 4}, 5).input(), same_chord);
    CHECK(settled_chords(alone, fine, fine, margin).points.size() == 9);

    CarrierSet set =
        collect_carriers(Shapes().circle({0, 0}, 5).circle({8, 0}, 3).input(), same_chord);
    split_at_touches(set, same_chord);
    const Polylines lines = settled_chords(set, fine, fine, margin);
    double longest = 0.0, at_touch = 1.0;
    for (std::size_t i = 0; i < lines.points.size(); ++i) {
        longest = std::max(longest, lines.tolerances[i]);
        if ((lines.points[i] - Point2(5, 0)).norm() < 1e-6 && lines.tolerances[i] > 0.0)
            at_touch = std::min(at_touch, lines.tolerances[i]);
    }
    CHECK(at_touch == fine);
    CHECK(longest > 10.0 * fine);
}

}  // namespace
}  // namespace planform::arrange::test
