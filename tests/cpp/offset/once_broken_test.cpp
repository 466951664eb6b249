/// Sets whose offsets were once wrong, each with why; and the causes by themselves.

#include <doctest/doctest.h>

#include "offset/cases.hpp"
#include "offset/judge.hpp"
#include "offset/separation.hpp"
#include "planform/offset.hpp"

using namespace planform;

namespace {

std::vector<Curve> square(const Point2& center, double half) {
    const Point2 a = center + Vector2(-half, -half), b = center + Vector2(half, -half),
                 c = center + Vector2(half, half), d = center + Vector2(-half, half);
    return {Line{a, b}, Line{b, c}, Line{c, d}, Line{d, a}};
}

/// A loop that starts with a spline whose first span turns back on the spot, away from where
/// halvings come.
std::vector<Curve> loop_with_reversal() {
    const Spline spline{2, {0, 0, 0, 1, 2, 2, 2}, {{0, 0}, {3, 0}, {-2, 0}, {10, 10}}, {}};
    return {spline, Line{{10, 10}, {10, -10}}, Line{{10, -10}, {0, 0}}};
}

void check_distances(const ProfileSet& set, double distance) {
    CAPTURE(distance);
    const judge::Verdict verdict =
        judge::examine(set, distance, offset(set, distance).profiles, 12, 60);
    CAPTURE(verdict.where.x());
    CAPTURE(verdict.where.y());
    CHECK(verdict.grid > 1000);
    CHECK(verdict.wrong == 0);
    CHECK(verdict.worst_exact <= 1e-9);
    CHECK(verdict.worst_corner <= 2e-6);
    CHECK(verdict.worst_fitted <= 0.1 * set.tolerance());
}

}  // namespace

TEST_CASE("what follows a reversal on the spot is not forgotten when loops are told apart") {
    for (const bool reversal_first : {true, false}) {
        offset_detail::LoopField field(1e-6);
        const std::vector<Curve> across = square({1.625, 2.5}, 0.5);
        if (!reversal_first) field.add_loop(across, true);
        field.add_loop(loop_with_reversal(), true);
        if (reversal_first) field.add_loop(across, true);
        field.add_loop(square({-20.0, 0.0}, 1.0), true);
        field.tell_apart();
        CHECK(field.group(0) == field.group(1));
        CHECK(field.group(2) == 2);
        CHECK(!field.is_simple(reversal_first ? 0 : 1));
    }
}

TEST_CASE("a hole that grows beyond its profile cuts it in two: a spline's parallel has cusps") {
    check_distances(cases::random_case(125).set, -4.8837);
}
