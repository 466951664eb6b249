/// Prisms on closed curves out of splines of every kind: their shadows have a closed form from
/// every side. Flat and nearly flat walls seen face-on, edge-on and askew; folds on curves of many
/// pieces.
///
/// A share of the bodies runs by default, all of them with PLANFORM_LONG_TESTS in the environment.

#include <doctest/doctest.h>

#include <cstdlib>
#include <string>

#include "flatten/base_outlines.hpp"
#include "flatten/bodies.hpp"
#include "planform/error.hpp"
#include "random_count.hpp"

using namespace planform;
using base_outlines::Base;
using base_outlines::Walls;

namespace {

/// From above, from the side, along a wall and along its normal, level and tilted, and any.
std::vector<Vector3> views_of(const Base& base, std::mt19937_64& random) {
    std::vector<Vector3> views = {Vector3::UnitZ(), bodies::random_direction(random),
                                  bodies::random_direction(random)};
    const std::size_t wall =
        std::uniform_int_distribution<std::size_t>(0, base.wall_normals.size() - 1)(random);
    const Vector2 n = base.wall_normals[wall];
    const double lift = std::uniform_real_distribution<double>(0.1, 1.0)(random);
    views.emplace_back(n.x(), n.y(), 0.0);
    views.emplace_back(-n.y(), n.x(), 0.0);
    views.emplace_back(n.x(), n.y(), lift);
    views.emplace_back(-n.y(), n.x(), lift);
    for (Vector3& view : views) view.normalize();
    return views;
}

struct PrismTally {
    int bodies = 0, silhouettes = 0;
    double worst = 0.0;  ///< of the relative differences
};

void check_prism(const Base& base, double height, Walls walls, std::mt19937_64& random,
                 PrismTally& tally) {
    const std::vector<Solid> solids = bodies::solids_of(base_outlines::prism(base, height, walls));
    ++tally.bodies;
    for (const Vector3& view : views_of(base, random)) {
        CAPTURE(view.x());
        CAPTURE(view.y());
        CAPTURE(view.z());
        const double expected = base_outlines::prism_shadow(base, height, view);
        try {
            const ProfileSet set = silhouette(solids, Datum({1.0, -2.0, 3.0}, view));
            CHECK(set.notes() == std::vector<std::string>{});
            // Runs shorter than a hundredth of the tolerance are absorbed.
            const double resolution = 0.01 * set.tolerance() * set.length();
            const double off =
                std::max(0.0, std::abs(set.area() - expected) - resolution) / expected;
            CHECK(off < 1e-6);
            tally.worst = std::max(tally.worst, off);
            ++tally.silhouettes;
        } catch (const Error& error) {
            FAIL_CHECK(std::string(error.what()));
        }
    }
}

void report(const PrismTally& tally, int wanted) {
    MESSAGE(tally.silhouettes << " silhouettes of " << tally.bodies << " prisms, worst off by "
                              << tally.worst);
    CHECK(tally.bodies == wanted);
    CHECK(tally.silhouettes == 7 * wanted);
}

}  // namespace

TEST_CASE("the swept area of a square, a sweep that leaves a gap, and one that closes it") {
    using base_outlines::swept_area;
    const std::vector<Point2> square = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
    CHECK(swept_area(square, {0, 0}) == doctest::Approx(1.0));
    CHECK(swept_area(square, {2, 0}) == doctest::Approx(3.0));
    CHECK(swept_area(square, {1, 1}) == doctest::Approx(3.0));
    // Two towers of width 1 on a floor of height 1, a gap of 2 between them.
    const std::vector<Point2> towers = {{0, 0}, {4, 0}, {4, 3}, {3, 3},
                                        {3, 1}, {1, 1}, {1, 3}, {0, 3}};
    CHECK(swept_area(towers, {0, 0}) == doctest::Approx(8.0));
    CHECK(swept_area(towers, {0.5, 0}) == doctest::Approx(8.0 + 0.5 + 2.0));
    CHECK(swept_area(towers, {3, 0}) == doctest::Approx(8.0 + 4.0 + 9.0));
}

TEST_CASE("prisms with flat walls of every degree, Bezier and B-spline") {
    std::mt19937_64 random(101);
    PrismTally tally;
    const int wanted = random_count(20, 500);
    for (int i = 0; i < wanted; ++i) {
        const Base base = base_outlines::walled(static_cast<std::uint64_t>(i), 0.0);
        CAPTURE(i);
        CAPTURE(base.description);
        check_prism(base, 6.0, i % 2 == 0 ? Walls::extrusions : Walls::splines, random, tally);
    }
    report(tally, wanted);
}

TEST_CASE("prisms with walls that bulge by nanometres to millimetres") {
    std::mt19937_64 random(102);
    PrismTally tally;
    const int wanted = random_count(20, 500);
    for (int i = 0; i < wanted; ++i) {
        const double sag =
            std::pow(10.0, std::uniform_real_distribution<double>(-9.0, 0.3)(random));
        const Base base = base_outlines::walled(static_cast<std::uint64_t>(1000 + i), sag);
        CAPTURE(i);
        CAPTURE(base.description);
        check_prism(base, 6.0, i % 2 == 0 ? Walls::extrusions : Walls::splines, random, tally);
    }
    report(tally, wanted);
}

TEST_CASE("prisms on waves that are interpolated through many points") {
    std::mt19937_64 random(103);
    PrismTally tally;
    const int wanted = random_count(10, 500);
    for (int i = 0; i < wanted; ++i) {
        const int lobes = i == 0 ? 12 : std::uniform_int_distribution<int>(2, 40)(random);
        const int points = i == 0 ? 72 : lobes * std::uniform_int_distribution<int>(4, 12)(random);
        const double wave =
            i == 0 ? 2.0 : std::uniform_real_distribution<double>(0.02, 3.0)(random);
        const Base base = base_outlines::waved(points, 20.0, wave, lobes);
        CAPTURE(i);
        CAPTURE(base.description);
        check_prism(base, 5.0, i % 2 == 0 ? Walls::extrusions : Walls::splines, random, tally);
    }
    report(tally, wanted);
}

TEST_CASE("prisms on one closed spline: all degrees, creases, rational, up to 1,500 poles") {
    std::mt19937_64 random(104);
    PrismTally tally;
    const int wanted = random_count(16, 500);
    for (int i = 0; i < wanted; ++i) {
        const Base base =
            base_outlines::random_spline(static_cast<std::uint64_t>(i), i % 8 == 7 ? 1500 : 60);
        CAPTURE(i);
        CAPTURE(base.description);
        check_prism(base, 4.0, i % 2 == 0 ? Walls::extrusions : Walls::splines, random, tally);
    }
    report(tally, wanted);
}
