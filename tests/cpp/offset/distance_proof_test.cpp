/// The proof of offsets against results that were made wrong on purpose, and the other ways.

#include "offset/distance_proof.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "offset/cases.hpp"

using namespace planform;
using namespace planform::offset_detail;

namespace {

constexpr double slack = 0.0025;

/// A random set about to be moved.
struct Tried {
    Source source;
    LoopStyle style;
    double resolution;

    std::vector<MovedLoop> loops(bool apart = true) const {
        return moved_loops(source, style, resolution, apart).loops;
    }
    bool is_seen(const std::vector<MovedLoop>& loops) const {
        return breach_of(source, style, {loops, nullptr}, slack).has_value();
    }
};

Tried tried(int seed, double distance) {
    const ProfileSet set = cases::random_case(seed).set;
    const double bound = 0.1 * set.tolerance(), resolution = 0.01 * set.tolerance();
    return {source_of(
                set, [&](const CurvePlace&) { return distance; }, 0.1 * bound, resolution),
            {{Corners::round, 4.0}, bound},
            resolution};
}

double area_of(const RawLoop& loop) {
    double area = 0.0;
    for (const Curve& curve : loop.curves)
        area += swept_area(curve, start_point(loop.curves.front()));
    return area;
}

double area_of(const std::vector<MovedLoop>& loops) {
    double area = 0.0;
    for (const MovedLoop& moved : loops) area += area_of(moved.loop);
    return area;
}

/// Made wrong, and how often that was seen.
struct Mutants {
    int made = 0;
    int seen = 0;
    void add(bool is_seen) {
        ++made;
        seen += is_seen;
    }
};

}  // namespace

TEST_CASE("the proof sees contours that are lost, moved or cut short") {
    Mutants lost, moved, other_distance, cut_short;
    for (int seed = 1; seed <= 24; ++seed)
        for (const double distance : {0.4, -0.4}) {
            CAPTURE(seed);
            CAPTURE(distance);
            const Tried t = tried(seed, distance);
            const std::vector<MovedLoop> right = t.loops();
            CHECK(!t.is_seen(right));
            if (right.empty()) continue;
            const std::size_t which = static_cast<std::size_t>(seed) % right.size();
            std::vector<MovedLoop> wrong = right;
            wrong.erase(wrong.begin() + static_cast<std::ptrdiff_t>(which));
            lost.add(t.is_seen(wrong));

            wrong = right;
            Transform2 shift = Transform2::Identity();
            shift.translate(Vector2(0.02, 0.01));
            for (Curve& curve : wrong[which].loop.curves) curve = transformed(curve, shift);
            moved.add(t.is_seen(wrong));

            other_distance.add(t.is_seen(tried(seed, 0.99 * distance).loops()));

            wrong = right;
            RawLoop& loop = wrong[which].loop;
            if (loop.curves.size() < 4) continue;
            // The way past two curves: as where a region is lost that lies beyond a crossing.
            const std::size_t first = loop.curves.size() / 2;
            const Line way{start_point(loop.curves[first]), end_point(loop.curves[first + 1])};
            loop.curves[first] = way;
            loop.curves.erase(loop.curves.begin() + static_cast<std::ptrdiff_t>(first + 1));
            if (std::abs(area_of(loop) - area_of(right[which].loop)) < 0.1) continue;
            cut_short.add(t.is_seen(wrong));
        }
    MESSAGE("lost ", lost.seen, " of ", lost.made, ", moved ", moved.seen, " of ", moved.made,
            ", at another distance ", other_distance.seen, " of ", other_distance.made,
            ", cut short ", cut_short.seen, " of ", cut_short.made);
    CHECK(lost.made >= 40);
    CHECK(cut_short.made >= 20);
    CHECK(lost.seen == lost.made);
    CHECK(moved.seen == moved.made);
    CHECK(other_distance.seen == other_distance.made);
    CHECK(cut_short.seen == cut_short.made);
}

TEST_CASE("what is told apart and what is arranged together are the same") {
    int seen = 0;
    for (int seed = 1; seed <= 12; ++seed) {
        CAPTURE(seed);
        Tried t = tried(seed, -0.3);
        const std::vector<MovedLoop> apart = t.loops();
        t.style.cuts_corners = false;
        const std::vector<MovedLoop> together = t.loops(false);
        CHECK(area_of(together) == doctest::Approx(area_of(apart)).epsilon(1e-6));
        seen += together.size() == apart.size();
    }
    CHECK(seen == 12);
}
