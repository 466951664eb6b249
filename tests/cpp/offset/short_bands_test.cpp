/// Bands cut short: no more than has to be, and the same offset.

#include "offset/short_bands.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>
#include <utility>
#include <vector>

#include "offset/judge.hpp"
#include "offset/random_outlines.hpp"
#include "offset/source.hpp"
#include "planform/offset.hpp"
#include "random_count.hpp"

using namespace planform;
using namespace planform::offset_detail;

namespace {

constexpr double resolution = 1e-4;
/// Splines are fitted part by part: closely, so that no difference comes from that.
const LoopStyle style{{Corners::round, 4.0}, 1e-5};

Source source(const ProfileSet& set, double distance) {
    return source_of(
        set, [&](const CurvePlace&) { return distance; }, 1e-4, resolution);
}

double area_of(const std::vector<RawLoop>& loops) {
    arrange::Input input;
    for (const RawLoop& loop : loops) add_loop(input, loop, 1, 0);
    arrange::Options options;
    options.tolerance = resolution;
    double area = 0.0;
    for (const arrange::Loop& loop : arrange::arrange(input, options))
        for (const Curve& curve : loop.curves)
            area += swept_area(curve, start_point(loop.curves.front()));
    return area;
}

/// mm^2 that bands reach over, each for itself, as far as they are straight.
double reached(const BandedChain& chain) {
    double sum = 0.0;
    for (std::size_t i = 0; i < chain.parts.size(); ++i) {
        const Element& part = chain.parts[i];
        const Curve& next = chain.parts[(i + 1) % chain.parts.size()].curve;
        const double turn =
            Corner{start_point(next), end_place(part.curve), start_place(next)}.turn();
        sum += std::abs(part.distance) * length(part.curve);
        if (turn * part.distance > 0.0)
            sum += 0.5 * std::abs(turn) * chain.corners[i] * chain.corners[i];
    }
    return sum;
}

/// Blades side by side, `pitch` apart, each half as thick.
ProfileSet comb(int blades, double pitch, double blade) {
    std::vector<Point2> corners{{0.0, -1.0}, {blades * pitch, -1.0}};
    for (int i = blades - 1; i >= 0; --i) {
        const double x = i * pitch;
        corners.insert(corners.end(), {{x + 0.75 * pitch, 0.0},
                                       {x + 0.75 * pitch, blade},
                                       {x + 0.25 * pitch, blade},
                                       {x + 0.25 * pitch, 0.0}});
    }
    std::vector<Curve> curves;
    for (std::size_t i = 0; i < corners.size(); ++i)
        curves.push_back(Line{corners[i], corners[(i + 1) % corners.size()]});
    return ProfileSet({Profile(Contour(curves), {})});
}

}  // namespace

TEST_CASE("between blades bands reach to the middle, or a little further") {
    const double pitch = 0.4, blade = 10.0, distance = 5.0;
    const Source comb_source = source(comb(60, pitch, blade), distance);
    const std::vector<Element>& chain = comb_source.chains.front().elements;
    CHECK(ShortBands::are_worth_it(*comb_source.field, distance, chain));
    CHECK(!ShortBands::are_worth_it(*comb_source.field, 0.01, chain));
    const BandedChain banded = ShortBands(*comb_source.field, distance, resolution).of(chain);
    double inner = 0.0, inner_reach = 0.0;
    for (const Element& part : banded.parts) {
        const Point2 middle = 0.5 * (start_point(part.curve) + end_point(part.curve));
        const bool is_side =
            std::abs(start_point(part.curve).x() - end_point(part.curve).x()) < 1e-9;
        if (!is_side || middle.x() < pitch || middle.x() > 59 * pitch) continue;
        inner += length(part.curve);
        inner_reach += length(part.curve) * part.distance;
        CHECK(part.distance >= 0.25 * pitch);
    }
    CHECK(inner == doctest::Approx(2.0 * 58 * blade).epsilon(0.02));
    CHECK(inner_reach / inner < 3.0 * 0.25 * pitch);
    // What is far from all others reaches all the way.
    CHECK(banded.parts.front().distance == distance);
    // The blades' round tips are one straight end but for the bows between them.
    const double whole = area_of({raw_loop(chain, style)});
    CHECK(area_of({raw_loop(banded, style)}) == doctest::Approx(whole).epsilon(1e-9));
}

TEST_CASE("bands cut short make the same offset") {
    double shortest = 1.0;
    int seen = 0;
    const int count = std::max(5, random_count(14, 14));
    for (int seed = 1; seed <= count; ++seed)
        for (const double distance : {10.0, -4.0}) {
            const ProfileSet set = random_outlines::set(static_cast<std::uint32_t>(seed), 500);
            const Source s = source(set, distance);
            std::vector<RawLoop> whole, cut;
            double reach = 0.0, all = 0.0;
            const ShortBands bands(*s.field, distance, resolution);
            for (const Chain& chain : s.chains) {
                whole.push_back(raw_loop(chain.elements, style));
                const BandedChain banded = bands.of(chain.elements);
                cut.push_back(raw_loop(banded, style));
                reach += reached(banded);
                all +=
                    reached({chain.elements, std::vector<double>(chain.elements.size(), distance)});
            }
            CAPTURE(seed);
            CAPTURE(distance);
            CHECK(reach <= all * (1.0 + 1e-9));
            shortest = std::min(shortest, reach / all);
            CHECK(area_of(cut) == doctest::Approx(area_of(whole)).epsilon(1e-6));
            ++seen;
        }
    CHECK(seen == 2 * count);
    CHECK(shortest < 0.5);
}

TEST_CASE("where curves lie closer than they are moved the result lies at the distance") {
    std::vector<int> seeds{3, 11};
    seeds.resize(static_cast<std::size_t>(random_count(2, 2)));
    for (const int seed : seeds) {
        const ProfileSet set = random_outlines::set(static_cast<std::uint32_t>(seed), 1600);
        for (const double distance : {4.0, -4.0, 20.0}) {
            CAPTURE(seed);
            CAPTURE(distance);
            const Source s = source(set, distance);
            CHECK(ShortBands::are_worth_it(*s.field, distance, s.chains.front().elements));
            const judge::Verdict verdict =
                judge::examine(set, distance, offset(set, distance).profiles, 6, 30);
            CHECK(verdict.grid > 400);
            CHECK(verdict.wrong == 0);
            CHECK(verdict.worst_exact <= 1e-9);
            CHECK(verdict.worst_corner <= 2e-6);
            CHECK(verdict.worst_fitted <= 0.1 * set.tolerance());
        }
    }
}

TEST_CASE("bands are not cut short where corners are not round") {
    for (const Corners corners : {Corners::sharp, Corners::flat}) {
        const double distance = 4.0;
        const ProfileSet set = random_outlines::set(11, 1600);
        const Source s = source(set, distance);
        CHECK(ShortBands::are_worth_it(*s.field, distance, s.chains.front().elements));
        LoopStyle other = style;
        other.corners.corners = corners;
        std::vector<RawLoop> whole;
        for (const Chain& chain : s.chains) whole.push_back(raw_loop(chain.elements, other));
        OffsetOptions options;
        options.corners = corners;
        CHECK(offset(set, distance, options).profiles.area() ==
              doctest::Approx(area_of(whole)).epsilon(1e-6));
    }
}

namespace {

/// Drops, each of them one cubic that comes back to its start at an angle, at random places; the
/// shares tell where each is cut in two, 0: not at all.
ProfileSet drops(std::uint32_t seed, int count, double share) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> angle(0.0, 2.0 * pi), along(0.0, 0.15);
    std::vector<Profile> profiles;
    for (int i = 0; i < count; ++i) {
        const double turn = angle(random), size = 0.2;
        const Point2 at(0.6 * (i % 6) + along(random), 0.6 * (i / 6) + along(random));
        const auto place = [&](double x, double y) {
            return Point2(at + Eigen::Rotation2Dd(turn) * Vector2(size * x, size * y));
        };
        Spline drop;
        drop.degree = 3;
        drop.poles = {place(0, 0), place(1, -1), place(1, 1), place(0, 0)};
        drop.knots = {0, 0, 0, 0, 1, 1, 1, 1};
        std::vector<Curve> curves{drop};
        if (share > 0.0) curves = {trimmed(drop, 0.0, share), trimmed(drop, share, 1.0)};
        profiles.emplace_back(Contour(curves), std::vector<Contour>());
    }
    return ProfileSet(std::move(profiles));
}

}  // namespace

TEST_CASE("splines that come back to their start: as if they were cut in two") {
    for (std::uint32_t seed = 1; seed <= 12; ++seed) {
        CAPTURE(seed);
        for (const double distance : {0.3, 2.0}) {
            CAPTURE(distance);
            const double whole = offset(drops(seed, 36, 0.0), distance).profiles.area();
            const double halves = offset(drops(seed, 36, 0.5), distance).profiles.area();
            CHECK(std::abs(whole - halves) < 2e-3);
        }
    }
}
