#include <doctest/doctest.h>

#include <cmath>

#include "plan/pieces.hpp"
#include "planform/error.hpp"

namespace planform {
namespace {

using test::circle;
using test::piece;
using test::rectangle;

double cut_length(const Cut& cut) {
    double sum = 0.0;
    for (const auto& stretch : cut.stretches)
        for (const Curve& curve : stretch) sum += length(curve);
    return sum;
}

TEST_CASE("strips leave gaps of their width and that of the cut, on lines, away from corners") {
    PlanOptions options;
    options.kerf = 0.2;
    options.hold = {0.4, 3, 0.0};
    const CutPlan plan = plan_cuts({piece({Profile(rectangle(0, 0, 60, 20))})}, options);
    const Cut& cut = plan.cuts.front();
    REQUIRE(cut.stretches.size() == 4);
    CHECK(cut_length(cut) == doctest::Approx(160.0 - 3 * 0.6));
    CHECK(cut.pierces() == 4);
    for (std::size_t i = 1; i < cut.stretches.size(); ++i) {
        const Point2 before = end_point(cut.stretches[i - 1].back());
        const Point2 after = start_point(cut.stretches[i].front());
        CHECK((after - before).norm() == doctest::Approx(0.6));
        const Point2 middle = 0.5 * (before + after);
        for (const Point2& corner : {Point2(0, 0), Point2(60, 0), Point2(60, 20), Point2(0, 20)})
            CHECK((middle - corner).norm() > 0.9 - 1e-9);
        CHECK((middle - cut.start()).norm() > 0.9 - 1e-9);
    }
    CHECK(plan.findings.empty());
}

TEST_CASE("a disc is held on its arc; what is too small for its strips is a finding") {
    PlanOptions options;
    options.hold = {0.5, 2, 0.0};
    CHECK(
        plan_cuts({piece({Profile(circle({0, 0}, 20))})}, options).cuts.front().stretches.size() ==
        3);
    const CutPlan small = plan_cuts({piece({Profile(circle({0, 0}, 1.5))})}, options);
    REQUIRE(small.findings.size() == 1);
    CHECK(small.findings[0].rule == PlanRule::strip_left_out);
    CHECK(*small.findings[0].measured == 0.0);
    CHECK(*small.findings[0].limit == 2.0);
}

TEST_CASE("heavier pieces get more strips, holes none") {
    PlanOptions options;
    options.hold = {0.5, 2, 0.25};
    PlacedPiece plate = piece({Profile(rectangle(0, 0, 200, 100), {rectangle(20, 20, 80, 80)})});
    const auto strips = [&](double mass) {
        plate.mass = mass;
        int count = 0;
        for (const Cut& cut : plan_cuts({plate}, options).cuts) {
            if (cut.role == CutRole::hole) CHECK(cut.stretches.size() == 1);
            if (cut.role == CutRole::outer) count = static_cast<int>(cut.stretches.size()) - 1;
        }
        return count;
    };
    CHECK(strips(0.4) == 2);
    CHECK(strips(1.1) == 5);
}

TEST_CASE("how a piece lies on bars: statics of a plate") {
    const Grate grate{30.0, false};
    // Symmetrical: it needs two openings to be carried on both sides wherever the bars lie.
    CHECK(rest_on(Profile(rectangle(0, 0, 29, 500)), grate) == Rest::falls_through);
    CHECK(rest_on(Profile(rectangle(0, 0, 31, 500)), grate) == Rest::may_tip);
    CHECK(rest_on(Profile(rectangle(0, 0, 59, 500)), grate) == Rest::may_tip);
    CHECK(rest_on(Profile(rectangle(0, 0, 61, 500)), grate) == Rest::lies);
    // Bars along x: the other side counts.
    CHECK(rest_on(Profile(rectangle(0, 0, 29, 500)), {30.0, true}) == Rest::lies);
    // A triangle's centre lies at a third of its height (Archimedes): 90 wide, 30 and 60.
    const Profile triangle(
        Contour({Line{{0, 0}, {90, -50}}, Line{{90, -50}, {90, 50}}, Line{{90, 50}, {0, 0}}}));
    CHECK(rest_on(triangle, {29.9, false}) == Rest::lies);
    CHECK(rest_on(triangle, {30.1, false}) == Rest::may_tip);
    CHECK_THROWS_AS(rest_on(triangle, Grate{}), GeometryError);
}

TEST_CASE("on a grate only what may fall or tip is held; else it is a finding") {
    const std::vector<PlacedPiece> pieces{piece({Profile(rectangle(0, 0, 20, 20))}),
                                          piece({Profile(rectangle(100, 0, 300, 200))}),
                                          piece({Profile(rectangle(400, 0, 440, 200))})};
    PlanOptions options;
    options.grate.opening = 30.0;
    const CutPlan loose = plan_cuts(pieces, options);
    REQUIRE(loose.findings.size() == 2);
    CHECK(loose.findings[0].rule == PlanRule::falls_through);
    CHECK(loose.findings[0].piece == 0);
    CHECK(loose.findings[1].rule == PlanRule::drop_out);
    CHECK(loose.findings[1].piece == 2);
    options.hold = {0.5, 2, 0.0};
    const CutPlan held = plan_cuts(pieces, options);
    CHECK(held.findings.empty());
    for (const Cut& cut : held.cuts) CHECK(cut.stretches.size() == (cut.piece == 1 ? 1 : 3));
}

TEST_CASE("what falls out of a hole may fall, but not tip") {
    PlanOptions options;
    options.grate.opening = 30.0;
    const Profile plate(rectangle(0, 0, 400, 400),
                        {rectangle(10, 10, 20, 20), rectangle(100, 100, 140, 200)});
    const CutPlan plan = plan_cuts({piece({plate})}, options);
    REQUIRE(plan.findings.size() == 1);
    CHECK(plan.findings[0].rule == PlanRule::drop_out);
    CHECK(plan.cuts[static_cast<std::size_t>(plan.findings[0].cut)].contour == 2);
}

}  // namespace
}  // namespace planform
