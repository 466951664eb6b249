/// Reliefs: areas in closed form, and what a relief is for, checked by distances: the tool touches
/// every point of both walls, up to the square corner of the tab.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "offset/expected.hpp"
#include "offset/judge.hpp"
#include "planform/boolean.hpp"
#include "planform/offset.hpp"
#include "profile/outlines.hpp"

using namespace planform;

namespace {

/// All of the outline that is left of the walls can be touched by a disc of this radius that stays
/// in the void. Walls are the lines; returns how many places were looked at.
int check_reach(const ProfileSet& result, double radius) {
    const judge::Outlines outlines(result);
    int places = 0;
    for (const Profile& profile : result.profiles())
        for (const Contour& hole : profile.holes())
            for (const Curve& curve : hole.curves()) {
                const Line* line = std::get_if<Line>(&curve);
                if (line == nullptr) continue;
                const Vector2 along = (line->end - line->start).normalized();
                for (int i = 0; i <= 20; ++i) {
                    const Point2 center = line->start + (line->end - line->start) * i / 20.0 +
                                          radius * Vector2(along.y(), -along.x());
                    CHECK(outlines.distance(center) >= radius - 1e-9);
                    ++places;
                }
            }
    return places;
}

}  // namespace

TEST_CASE("a rectangular hole: reliefs of both styles") {
    const ProfileSet plate =
        set_of(outlines::rectangle(0, 0, 80, 60), {outlines::rectangle(20, 20, 40, 20)});
    const double r = 3.0;
    const Allowed corner = relieved(plate, r);
    CHECK(corner.findings.empty());
    check_near(plate.area() - corner.profiles.area(), 4 * r * r * (pi / 2 - 1));
    CHECK(check_reach(corner.profiles, r) == 84);
    // The square corner of a tab is free.
    for (const Point2& point : {Point2(20, 20), Point2(60, 20), Point2(60, 40), Point2(20, 40)})
        CHECK(judge::Outlines(corner.profiles).distance(point) < 1e-9);

    const Allowed side = relieved(plate, r, {ReliefStyle::side, 1.0});
    CHECK(side.findings.empty());
    check_near(plate.area() - side.profiles.area(), 4 * r * r * pi / 2);
    CHECK(check_reach(side.profiles, r) == 84);
    // Cut into the longer walls only.
    CHECK(side.profiles.profiles()[0].holes()[0].bounds().min().x() == doctest::Approx(20.0));
    CHECK(side.profiles.profiles()[0].holes()[0].bounds().min().y() == doctest::Approx(17.0));
    // Nothing else is changed, and what is added to the void is within the tool's reach.
    const ProfileSet cut = difference(plate, corner.profiles);
    CHECK(cut.profiles().size() == 8);
    CHECK(difference(corner.profiles, plate).empty());
}

TEST_CASE("corners of other angles") {
    for (const double degrees : {35.0, 50.0, 75.0, 90.0, 110.0, 140.0}) {
        CAPTURE(degrees);
        const double half = degrees * pi / 360.0, length = 30.0;
        const Point2 apex(0, 0);
        const Point2 left(length * std::cos(half), length * std::sin(half));
        const Point2 right(left.x(), -left.y());
        const ProfileSet plate = set_of(outlines::rectangle(-50, -60, 120, 120),
                                        {Contour(outlines::polygon({apex, right, left}))});
        const double r = 1.5;
        for (const ReliefStyle style : {ReliefStyle::corner, ReliefStyle::side}) {
            const Allowed result = relieved(plate, r, {style, 1.0});
            CHECK(result.findings.empty());
            CHECK(result.profiles.area() < plate.area());
            CHECK(check_reach(result.profiles, r) > 40);
            CHECK(difference(result.profiles, plate).empty());
        }
    }
}

TEST_CASE("a rounded corner is relieved where its walls would meet") {
    const auto rounded = [](double radius) {
        return Contour({Line{{20 + radius, 20}, {60 - radius, 20}},
                        Arc{{60 - radius, 20 + radius}, radius, -pi / 2, pi / 2},
                        Line{{60, 20 + radius}, {60, 40 - radius}},
                        Arc{{60 - radius, 40 - radius}, radius, 0, pi / 2},
                        Line{{60 - radius, 40}, {20 + radius, 40}},
                        Arc{{20 + radius, 40 - radius}, radius, pi / 2, pi / 2},
                        Line{{20, 40 - radius}, {20, 20 + radius}},
                        Arc{{20 + radius, 20 + radius}, radius, pi, pi / 2}});
    };
    const ProfileSet sharp =
        set_of(outlines::rectangle(0, 0, 80, 60), {outlines::rectangle(20, 20, 40, 20)});
    const ProfileSet small = set_of(outlines::rectangle(0, 0, 80, 60), {rounded(1.0)});
    const ProfileSet large = set_of(outlines::rectangle(0, 0, 80, 60), {rounded(3.5)});
    check_near(relieved(small, 3.0).profiles.area(), relieved(sharp, 3.0).profiles.area());
    CHECK(relieved(large, 3.0).profiles.digest() == large.digest());
}

TEST_CASE("no relief into a web, nor where walls are too short") {
    const double r = 3.0;
    const double reach = r - r / std::sqrt(2.0);  // beyond the wall
    for (const double web : {1.5, 1.0 + reach - 1e-3, 1.0 + reach + 1e-3}) {
        const ProfileSet plate = set_of(outlines::rectangle(20 - web, 0, 100, 60),
                                        {outlines::rectangle(20, 20, 40, 20)});
        const Allowed result = relieved(plate, r);
        const bool refused = web - reach < 1.0;
        CHECK(result.findings.size() == (refused ? 2 : 0));
        if (!refused) continue;
        CHECK(result.findings[0].rule == RuleKind::relief);
        CHECK(result.findings[0].place.x() == doctest::Approx(20.0));
        CHECK(result.findings[0].measured.value() == doctest::Approx(web - reach).epsilon(0.01));
        CHECK(result.findings[0].limit.value() == 1.0);
        check_near(plate.area() - result.profiles.area(), 2 * r * r * (pi / 2 - 1), 1e-9);
    }
    // A slot narrower than the tool.
    const ProfileSet slotted =
        set_of(outlines::rectangle(0, 0, 80, 60), {outlines::rectangle(20, 20, 40, 4)});
    const Allowed narrow = relieved(slotted, r);
    CHECK(narrow.findings.size() == 4);
    CHECK(narrow.profiles.digest() == slotted.digest());
    // Reliefs of two holes that would meet in the web between them: the first is cut.
    const ProfileSet pair =
        set_of(outlines::rectangle(0, 0, 120, 60),
               {outlines::rectangle(20, 20, 30, 20), outlines::rectangle(52.5, 20, 30, 20)});
    const Allowed both = relieved(pair, r);
    CHECK(both.findings.size() == 2);
}
