/// Laws of offsets on random sets.
///
/// Sources: dilation, erosion, opening and closing by a disc are those of J. Serra, "Image Analysis
/// and Mathematical Morphology", Academic Press 1982, ch. II: dilations add up, an opening lies
/// within and a closing holds the set, both are idempotent, dilation goes with unions.

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <random>

#include "offset/judge.hpp"
#include "offset/random_outlines.hpp"
#include "planform/boolean.hpp"
#include "planform/offset.hpp"

using namespace planform;

namespace {

int sets() { return std::getenv("PLANFORM_LONG_TESTS") ? 500 : 12; }

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

struct Case {
    ProfileSet set;
    double distance;
};

Case draw(int seed) {
    std::mt19937 random(static_cast<std::uint32_t>(1000 + seed));
    const auto share = std::uniform_real_distribution<double>(0.0, 1.0)(random);
    return {random_outlines::set(static_cast<std::uint32_t>(1000 + seed), 6 + seed * 37 % 90),
            0.02 * std::exp(share * std::log(500.0))};
}

}  // namespace

TEST_CASE("offsets: monotone in the distance, and growth adds up") {
    int seen = 0;
    for (int seed = 0; seed < sets(); ++seed) {
        CAPTURE(seed);
        const auto [set, d] = draw(seed);
        const double slack = 0.1 * set.tolerance() * set.length();
        double before = -1.0;
        for (const double share : {-1.0, -0.5, -0.1, 0.1, 0.5, 1.0}) {
            const double area = moved(set, share * d).area();
            CHECK(area >= before);
            before = area;
            ++seen;
        }
        const ProfileSet part = moved(set, 0.3 * d), whole = moved(set, d);
        CHECK(beyond(set, part) <= slack);
        CHECK(beyond(part, whole) <= slack);
        // The fit of splines counts twice.
        CHECK(apart(moved(part, 0.7 * d), whole) <= 0.3 * set.tolerance());
    }
    CHECK(seen == 6 * sets());
}

TEST_CASE("opening lies inside, closing outside, both are idempotent") {
    double opened_area = 0.0, closed_area = 0.0;
    for (int seed = 0; seed < sets(); ++seed) {
        CAPTURE(seed);
        const auto [set, d] = draw(seed);
        const double slack = 2e-3 * set.tolerance() * set.length();
        const ProfileSet inside = opened(set, d).profiles, outside = closed(set, d).profiles;
        CHECK(beyond(inside, set) <= slack);
        CHECK(beyond(set, outside) <= slack);
        CHECK(apart(opened(inside, d).profiles, inside) <= 0.01 * set.tolerance());
        CHECK(apart(closed(outside, d).profiles, outside) <= 0.01 * set.tolerance());
        opened_area += set.area() - inside.area();
        closed_area += outside.area() - set.area();
    }
    CHECK(opened_area > 1.0);
    CHECK(closed_area > 1.0);
}

TEST_CASE("offsets go with motions, mirrors and the start and direction of contours") {
    for (int seed = 0; seed < sets(); ++seed) {
        CAPTURE(seed);
        const auto [set, d] = draw(seed);
        for (const double distance : {d, -0.3 * d}) {
            const ProfileSet result = moved(set, distance);
            for (const bool mirrored : {false, true}) {
                Transform2 motion{Eigen::Rotation2Dd(0.3 + seed)};
                if (mirrored) motion.scale(Vector2(1.0, -1.0));
                motion.pretranslate(Vector2(-300.0, 40.0));
                const ProfileSet other = moved(set.transformed(motion), distance);
                CHECK(other.area() == doctest::Approx(result.area()).epsilon(1e-6));
                CHECK(other.profiles().size() == result.profiles().size());
                CHECK(furthest(other.transformed(motion.inverse()), result) <=
                      0.2 * set.tolerance());
            }
            std::vector<Profile> turned;
            for (const Profile& profile : set.profiles()) {
                std::vector<Curve> curves = profile.outer().curves();
                std::rotate(curves.begin(), curves.begin() + 1, curves.end());
                std::vector<Contour> holes;
                for (const Contour& hole : profile.holes()) holes.push_back(hole.reversed());
                turned.emplace_back(Contour(curves).reversed(), holes);
            }
            const ProfileSet other = moved(ProfileSet(turned), distance);
            CHECK(other.area() == doctest::Approx(result.area()).epsilon(1e-6));
            CHECK(furthest(other, result) <= 0.2 * set.tolerance());
        }
    }
}

TEST_CASE("the offset of a union is the union of offsets") {
    for (int seed = 0; seed < sets(); ++seed) {
        CAPTURE(seed);
        const auto [set, d] = draw(seed);
        Transform2 shift = Transform2::Identity();
        shift.translate(Vector2(13.0, 7.0));
        const ProfileSet other = set.transformed(shift);
        const ProfileSet both = united(set, other);
        CHECK(apart(moved(both, d), united(moved(set, d), moved(other, d))) <=
              0.3 * set.tolerance());
        // Profiles that overlap are one before they shrink.
        std::vector<Profile> profiles = set.profiles();
        profiles.insert(profiles.end(), other.profiles().begin(), other.profiles().end());
        CHECK(apart(moved(ProfileSet(profiles), -0.2 * d), moved(both, -0.2 * d)) <=
              0.3 * set.tolerance());
    }
}
