#include <doctest/doctest.h>

#include <cmath>

#include "plan/pieces.hpp"
#include "planform/error.hpp"

namespace planform {
namespace {

using test::circle;
using test::piece;
using test::rectangle;

Cut only_cut(const std::vector<PlacedPiece>& pieces, const PlanOptions& options) {
    return plan_cuts(pieces, options).cuts.front();
}

double angle_between(const Vector2& a, const Vector2& b) {
    return std::abs(std::atan2(cross(a, b), a.dot(b)));
}

TEST_CASE("a line enters square in the middle of the longest side, from outside") {
    const Cut cut = only_cut({piece({Profile(rectangle(0, 0, 60, 20))})}, {});
    CHECK(cut.room == EntryRoom::as_asked);
    CHECK((cut.start() - Point2(30, 0)).norm() < 1e-12);
    CHECK((cut.pierce() - Point2(30, -3)).norm() < 1e-12);
    CHECK(cut.clearance == doctest::Approx(3.0));
    CHECK(cut.length() == doctest::Approx(163.0));
}

TEST_CASE("a tangential line leads on from a corner") {
    PlanOptions options;
    options.entry.angle = 0.0;
    const Cut cut = only_cut({piece({Profile(rectangle(0, 0, 60, 20))})}, options);
    const Curve& first = cut.stretches.front().front();
    CHECK(angle_between(derivative_at(cut.entry.front(), 1.0), derivative_at(first, 0.0)) < 1e-12);
    CHECK(cut.room == EntryRoom::moved);
}

TEST_CASE("an arc is tangential to holes, to outer contours and on the way out") {
    PlanOptions options;
    options.entry.shape = EntryShape::arc;
    options.entry.exit_length = 2.0;
    options.entry.over_cut = 1.5;
    const CutPlan plan =
        plan_cuts({piece({Profile(circle({0, 0}, 40), {circle({0, 0}, 15)})})}, options);
    REQUIRE(plan.cuts.size() == 2);
    for (const Cut& cut : plan.cuts) {
        REQUIRE(cut.room == EntryRoom::as_asked);
        REQUIRE(cut.exit.size() == 1);
        const Curve& first = cut.stretches.front().front();
        CHECK(angle_between(derivative_at(cut.entry.front(), 1.0), derivative_at(first, 0.0)) <
              1e-9);
        CHECK(angle_between(derivative_at(cut.over_cut.back(), 1.0),
                            derivative_at(cut.exit.front(), 0.0)) < 1e-9);
        CHECK((end_point(cut.over_cut.back()) - start_point(cut.exit.front())).norm() < 1e-9);
        CHECK(length(cut.entry.front()) == doctest::Approx(3.0));
        CHECK(length(cut.over_cut.front()) == doctest::Approx(1.5));
        // Inside the hole, outside of the disc.
        const double from_middle = cut.pierce().norm();
        CHECK((cut.role == CutRole::hole ? from_middle < 14.0 : from_middle > 41.0));
    }
}

TEST_CASE("holes smaller than the least are entered from their middle") {
    PlanOptions options;
    options.entry.length = 2.0;
    options.entry.least_hole = 8.0;
    const Profile plate(rectangle(-30, -30, 30, 30),
                        {circle({0, 0}, 3.0), rectangle(10, 10, 12, 20), circle({-15, 0}, 4.5)});
    const CutPlan plan = plan_cuts({piece({plate})}, options);
    for (const Cut& cut : plan.cuts) {
        if (cut.role != CutRole::hole) continue;
        if (cut.contour == 1) {
            CHECK(cut.room == EntryRoom::middle);
            CHECK(cut.pierce().norm() < 1e-9);
            CHECK(cut.clearance == doctest::Approx(3.0));
        } else if (cut.contour == 2) {
            // The widest disc of a slot has half of its width.
            CHECK(cut.room == EntryRoom::middle);
            CHECK(cut.clearance == doctest::Approx(1.0).epsilon(0.02));
        } else {
            CHECK(cut.room == EntryRoom::as_asked);
        }
    }
}

TEST_CASE("a hole without room is entered from its middle, with a finding if that is too near") {
    PlanOptions options;
    options.entry.clearance = 1.5;
    const Profile plate(rectangle(-30, -30, 30, 30), {circle({0, 0}, 1.2)});
    const CutPlan plan = plan_cuts({piece({plate})}, options);
    CHECK(plan.cuts.front().room == EntryRoom::tight);
    REQUIRE(plan.findings.size() == 1);
    CHECK(plan.findings.front().rule == PlanRule::entry_tight);
    CHECK(*plan.findings.front().measured == doctest::Approx(1.2));
    CHECK(*plan.findings.front().limit == 1.5);
}

TEST_CASE("an entry moves to a side with room, gets shorter, or is left out with a finding") {
    const Profile middle(rectangle(0, 0, 60, 20));
    const auto with = [&](double gap, double gap_beside) {
        return std::vector<PlacedPiece>{
            piece({middle}), piece({Profile(rectangle(-100, -60, 200, -gap))}),
            piece({Profile(rectangle(-100, 20 + gap, 200, 60))}),
            piece({Profile(rectangle(-40, 0.2, -gap_beside, 19.8))}),
            piece({Profile(rectangle(60 + gap_beside, 0.2, 99, 19.8))})};
    };
    const auto room = [](const CutPlan& plan) {
        for (const Cut& cut : plan.cuts)
            if (cut.piece == 0) return cut.room;
        return EntryRoom::none;
    };
    const PlanOptions options;
    CHECK(room(plan_cuts(with(5.0, 5.0), options)) == EntryRoom::as_asked);
    CHECK(room(plan_cuts(with(1.5, 5.0), options)) == EntryRoom::moved);
    CHECK(room(plan_cuts(with(2.5, 2.5), options)) == EntryRoom::shortened);
    const CutPlan tight = plan_cuts(with(1.5, 1.5), options);
    CHECK(room(tight) == EntryRoom::left_out);
    CHECK(tight.findings.front().rule == PlanRule::entry_left_out);
    CHECK(tight.findings.front().piece == 0);
}

TEST_CASE("starts keep off curves to avoid and off narrow webs") {
    PlacedPiece plate = piece({Profile(rectangle(0, 0, 60, 20))});
    plate.avoid = {{0, 0, 0}, {0, 0, 2}};  // the long sides
    CHECK(std::abs(only_cut({plate}, {}).start().y() - 10.0) < 1e-9);
    plate.avoid = {{0, 0, 9}};
    CHECK_THROWS_AS(plan_cuts({plate}, {}), GeometryError);
    // A slot a millimetre behind the lower long side.
    PlanOptions options;
    options.entry.web = 5.0;
    const Profile slotted(rectangle(0, 0, 60, 20), {rectangle(5, 1, 55, 3)});
    for (const Cut& cut : plan_cuts({piece({slotted})}, options).cuts)
        if (cut.role == CutRole::outer) CHECK(std::abs(cut.start().y() - 20.0) < 1e-9);
}

TEST_CASE("entries stay on the sheet and off places to keep clear") {
    PlanOptions options;
    options.sheet = ProfileSet({Profile(rectangle(-1, -1, 61, 40))});
    const Cut cut = only_cut({piece({Profile(rectangle(0, 0, 60, 20))})}, options);
    CHECK((cut.pierce() - Point2(30, 23)).norm() < 1e-9);
    options.sheet = ProfileSet({Profile(rectangle(-1, -1, 61, 40), {rectangle(25, 21.5, 35, 24)})});
    const Cut moved = only_cut({piece({Profile(rectangle(0, 0, 60, 20))})}, options);
    CHECK(moved.pierce().y() > 22.0);
    CHECK(std::abs(moved.pierce().x() - 30.0) > 5.0);
}

TEST_CASE("a rest is left uncut") {
    PlanOptions options;
    options.entry.over_cut = -0.5;
    const Cut cut = only_cut({piece({Profile(rectangle(0, 0, 60, 20))})}, options);
    CHECK((cut.end() - cut.start()).norm() == doctest::Approx(0.5));
    CHECK(cut.length() == doctest::Approx(162.5));
}

TEST_CASE("cuts of two pieces that run into each other are an error among the findings") {
    PlanOptions options;
    options.kerf = 0.3;
    const auto beside = [&](double gap) {
        return plan_cuts({piece({Profile(rectangle(0, 0, 60, 20))}),
                          piece({Profile(rectangle(0, 20 + gap, 60, 40))})},
                         options)
            .findings;
    };
    CHECK(beside(0.31).empty());
    const auto found = beside(0.29);
    REQUIRE(found.size() == 1);
    CHECK(found[0].rule == PlanRule::common_cut);
    CHECK(found[0].severity == Severity::error);
    CHECK(found[0].piece == 0);
    CHECK(found[0].other_piece == 1);
}

TEST_CASE("lines without length are looked over, and addresses keep their curves") {
    std::vector<Curve> lines = rectangle(0, 0, 60, 20).curves();
    lines.insert(lines.begin() + 1, Line{{60, 0}, {60, 0}});
    PlacedPiece plate = piece({Profile(Contour(lines))});
    CHECK((only_cut({plate}, {}).start() - Point2(30, 0)).norm() < 1e-12);
    plate.avoid = {{0, 0, 0}, {0, 0, 3}};  // the long sides
    CHECK(std::abs(only_cut({plate}, {}).start().y() - 10.0) < 1e-9);
}

TEST_CASE("numbers out of range are refused") {
    const std::vector<PlacedPiece> pieces{piece({Profile(rectangle(0, 0, 60, 20))})};
    const auto refused = [&](auto&& change) {
        PlanOptions options;
        change(options);
        CHECK_THROWS_AS(plan_cuts(pieces, options), GeometryError);
    };
    refused([](PlanOptions& o) { o.kerf = -1.0; });
    refused([](PlanOptions& o) { o.entry.length = std::nan(""); });
    refused([](PlanOptions& o) { o.entry.clearance = 4.0; });
    refused([](PlanOptions& o) { o.entry.angle = 2.0; });
    refused([](PlanOptions& o) { o.hold.count = -1; });
    refused([](PlanOptions& o) { o.grate.opening = -3.0; });
    refused([](PlanOptions& o) { o.home = Point2(1.0 / 0.0, 0.0); });
    CHECK(plan_cuts({}, {}).cuts.empty());
}

}  // namespace
}  // namespace planform
