#include "offset/laws.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "offset/judge.hpp"
#include "planform/boolean.hpp"
#include "planform/offset.hpp"

namespace laws {

using namespace planform;

namespace {

ProfileSet moved(const ProfileSet& set, double distance) { return offset(set, distance).profiles; }

/// mm^2 of either set alone, per mm of outline: how far they are apart on average.
double apart(const ProfileSet& a, const ProfileSet& b) {
    return symmetric_difference(a, b).area() / std::max(1.0, a.length());
}

/// How far (mm) points of the outlines of one set are from those of the other.
double furthest(const ProfileSet& from, const ProfileSet& to) {
    const judge::Outlines outlines(to);
    double most = 0.0;
    const auto look = [&](const Contour& contour) {
        for (const Curve& curve : contour.curves()) {
            const Interval range = domain(curve);
            for (int i = 0; i <= 6; ++i)
                most =
                    std::max(most, outlines.distance(point_at(
                                       curve, range.first + (range.last - range.first) * i / 6)));
        }
    };
    for (const Profile& profile : from.profiles()) {
        look(profile.outer());
        for (const Contour& hole : profile.holes()) look(hole);
    }
    return most;
}

/// Area of `inner` beyond `outer`.
double beyond(const ProfileSet& inner, const ProfileSet& outer) {
    return difference(inner, outer).area();
}

/// What two results may differ in area: 1e-6 of it; and where little is left of many splines, a
/// fiftieth of the tolerance along their length, a tenth of what both may be off.
double area_slack(const ProfileSet& set, const ProfileSet& result) {
    return std::max(1e-6 * result.area(), 0.02 * set.tolerance() * result.length());
}

}  // namespace

void growth(const cases::Case& tried) {
    const ProfileSet& set = tried.set;
    const double slack = 0.1 * set.tolerance() * set.length();
    double before = -1.0;
    for (const double distance : {-tried.taken, -0.5 * tried.taken, -0.1 * tried.taken,
                                  0.1 * tried.grown, 0.5 * tried.grown, tried.grown}) {
        const double area = moved(set, distance).area();
        CHECK(area >= before);
        before = area;
    }
    const ProfileSet part = moved(set, 0.3 * tried.grown), whole = moved(set, tried.grown);
    CHECK(beyond(set, part) <= slack);
    CHECK(beyond(part, whole) <= slack);
    // The fit of splines counts twice.
    CHECK(apart(moved(part, 0.7 * tried.grown), whole) <= 0.3 * set.tolerance());
}

double opening_and_closing(const cases::Case& tried) {
    const ProfileSet& set = tried.set;
    const double slack = 2e-3 * set.tolerance() * set.length();
    const ProfileSet inside = opened(set, tried.taken).profiles,
                     outside = closed(set, tried.grown).profiles;
    CHECK(beyond(inside, set) <= slack);
    CHECK(beyond(set, outside) <= slack);
    CHECK(apart(opened(inside, tried.taken).profiles, inside) <= 0.01 * set.tolerance());
    CHECK(apart(closed(outside, tried.grown).profiles, outside) <= 0.01 * set.tolerance());
    return outside.area() - inside.area();
}

void motions(const cases::Case& tried) {
    const ProfileSet& set = tried.set;
    const double size = set.bounds().sizes().maxCoeff();
    for (const double distance : {tried.grown, -0.5 * tried.taken}) {
        CAPTURE(distance);
        const ProfileSet result = moved(set, distance);
        for (const bool mirrored : {false, true}) {
            Transform2 motion{Eigen::Rotation2Dd(0.3 + size)};
            if (mirrored) motion.scale(Vector2(1.0, -1.0));
            motion.pretranslate(size * Vector2(-3.0, 0.4));
            const ProfileSet other = moved(set.transformed(motion), distance);
            CHECK(std::abs(other.area() - result.area()) <= area_slack(set, result));
            CHECK(other.profiles().size() == result.profiles().size());
            CHECK(furthest(other.transformed(motion.inverse()), result) <= 0.2 * set.tolerance());
        }
        std::vector<Profile> turned;
        for (const Profile& profile : set.profiles()) {
            std::vector<Curve> curves = profile.outer().curves();
            std::rotate(curves.begin(), curves.begin() + 1, curves.end());
            std::vector<Contour> holes;
            for (const Contour& hole : profile.holes()) holes.push_back(hole.reversed());
            turned.emplace_back(Contour(curves).reversed(), holes, "", profile.parent());
        }
        const ProfileSet other =
            moved(ProfileSet(turned, {}, set.datum(), set.tolerance()), distance);
        CHECK(std::abs(other.area() - result.area()) <= area_slack(set, result));
        CHECK(furthest(other, result) <= 0.2 * set.tolerance());
    }
}

void unions(const cases::Case& tried) {
    const ProfileSet& set = tried.set;
    Transform2 shift = Transform2::Identity();
    shift.translate(set.bounds().sizes().maxCoeff() * Vector2(0.13, 0.07));
    const ProfileSet other = set.transformed(shift);
    const ProfileSet both = united(set, other);
    CHECK(apart(moved(both, tried.grown),
                united(moved(set, tried.grown), moved(other, tried.grown))) <=
          0.3 * set.tolerance());
    // Profiles that overlap are one before they shrink.
    std::vector<Profile> profiles = set.profiles();
    const auto count = static_cast<int>(profiles.size());
    for (const Profile& profile : other.profiles())
        profiles.emplace_back(profile.outer(), profile.holes(), profile.name(),
                              profile.is_island() ? profile.parent() + count : -1);
    CHECK(apart(moved(ProfileSet(profiles, {}, set.datum(), set.tolerance()), -0.5 * tried.taken),
                moved(both, -0.5 * tried.taken)) <= 0.3 * set.tolerance());
}

}  // namespace laws
