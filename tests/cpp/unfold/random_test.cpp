/// Random bent sheets: their construction knows the blank.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_Transform.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax2.hxx>
#include <gp_Quaternion.hxx>
#include <optional>
#include <random>

#include "random_count.hpp"
#include "unfold/sheets.hpp"

using namespace planform;
using sheets::BentSheet;
using sheets::Flange;

namespace {

using sheets::degree;

class Random {
  public:
    explicit Random(unsigned seed) : engine_(seed) {}
    double between(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(engine_);
    }
    int below(int count) { return std::uniform_int_distribution<int>(0, count - 1)(engine_); }
    bool chance(double share) { return between(0.0, 1.0) < share; }
    gp_Trsf motion() {
        std::normal_distribution<double> normal;
        gp_Quaternion turn(normal(engine_), normal(engine_), normal(engine_), normal(engine_));
        turn.Normalize();
        gp_Trsf motion;
        motion.SetTransformation(
            turn, gp_Vec(between(-300, 300), between(-300, 300), between(-300, 300)));
        return motion;
    }

  private:
    std::mt19937 engine_;
};

struct Case {
    BentSheet sheet;
    double thickness, k_factor;
    std::vector<double> bend_holes;  ///< diameters of holes through bends
};

/// A base with flanges, some with flanges of their own, windows and holes; nothing if pieces run
/// into each other in space or in the blank.
std::optional<Case> random_case(unsigned seed) {
    Random random(seed);
    const double t = random.between(0.5, 3.0), k = random.between(0.25, 0.5);
    const double width = random.between(60.0, 120.0), height = random.between(50.0, 100.0);
    Case made{BentSheet(t, k, width, height), t, k, {}};
    const auto flange = [&] {
        return Flange{random.between(15.0, 120.0) * degree, random.chance(0.5),
                      random.chance(0.2) ? 0.0 : random.between(0.3, 3.0) * t,
                      random.between(8.0, 20.0) + 2.0 * t};
    };
    struct BendHole {
        int wall;
        double along, diameter;
    };
    std::vector<BendHole> bend_holes;
    bool has_bend = false;
    for (int edge = 0; edge < 4; ++edge) {
        if (!random.chance(0.6) && !(edge == 3 && !has_bend)) continue;
        has_bend = true;
        const double length = edge % 2 == 0 ? height : width;
        const bool is_full = random.chance(0.2);
        const double from = is_full ? 0.0 : random.between(0.1, 0.3) * length;
        const double to = is_full ? length : random.between(0.6, 0.9) * length;
        const Flange first = flange();
        const int wall = made.sheet.attach(0, edge, from, to, first);
        if (random.chance(0.5))
            made.sheet.drill(wall, {0.5 * first.length, random.between(0.2, 0.8) * (to - from)},
                             random.between(1.0, 0.4 * first.length));
        if (random.chance(0.4))
            made.sheet.attach(wall, 0, 0.1 * (to - from), 0.8 * (to - from), flange());
        if (random.chance(0.3)) {
            Flange side = flange();
            side.length = 6.0;
            made.sheet.attach(wall, random.chance(0.5) ? 1 : 3, 0.3 * first.length,
                              0.9 * first.length, side);
        }
        if (first.radius > 0.0 && random.chance(0.3)) {
            // Small enough to stay within the bend.
            const double most = 2.0 * first.radius * std::sin(0.4 * first.angle);
            const double diameter = std::min(0.9 * most, 0.2 * (to - from));
            if (diameter > 0.3)
                bend_holes.push_back({wall, random.between(0.3, 0.7) * (to - from), diameter});
        }
    }
    if (random.chance(0.6))
        made.sheet.drill(0, {0.3 * width, 0.4 * height}, random.between(2.0, 12.0));
    if (random.chance(0.4))
        made.sheet.cut(0, {0.5 * width, 0.55 * height}, 0.2 * width, 0.15 * height);
    const double expected = made.sheet.volume_of_pieces();
    if (std::abs(sheets::volume(made.sheet.body()) - expected) > 1e-6 * expected)
        return std::nullopt;
    if (std::abs(made.sheet.outline().area() - made.sheet.area_of_pieces()) >
        1e-6 * made.sheet.area_of_pieces())
        return std::nullopt;
    for (const BendHole& hole : bend_holes) {
        made.sheet.drill_bend(hole.wall, hole.along, hole.diameter);
        made.bend_holes.push_back(hole.diameter);
    }
    return made;
}

/// The result without the holes that were drilled through bends, which are looked at apart.
ProfileSet without_bend_holes(const ProfileSet& blank, std::size_t count,
                              std::vector<Contour>& holes) {
    std::vector<Contour> kept;
    for (const Contour& hole : blank.profiles().front().holes()) {
        const bool is_spline =
            std::any_of(hole.curves().begin(), hole.curves().end(),
                        [](const Curve& curve) { return std::holds_alternative<Spline>(curve); });
        (is_spline ? holes : kept).push_back(hole);
    }
    CHECK(holes.size() == count);
    return ProfileSet({Profile(blank.profiles().front().outer(), kept)}, {}, Datum::xy(), 1e-6);
}

bool same_bends(std::vector<Flange> expected, const std::vector<Bend>& bends, bool flipped) {
    if (expected.size() != bends.size()) return false;
    for (const Bend& bend : bends) {
        const auto found =
            std::find_if(expected.begin(), expected.end(), [&](const Flange& flange) {
                return std::abs(flange.angle - bend.angle) < 1e-6 &&
                       std::abs(flange.radius - bend.inside_radius) < 1e-6 &&
                       (flange.up != flipped) == bend.up;
            });
        if (found == expected.end()) return false;
        expected.erase(found);
    }
    return true;
}

}  // namespace

TEST_CASE("random bent sheets unfold to the blanks that they were made from") {
    const int count = std::max(3, random_count(12, 500));  // so many have holes in bends among them
    int tried = 0;
    int with_bend_holes = 0;
    unsigned seed = 1;
    for (; tried < count && seed < 20u * static_cast<unsigned>(count); ++seed) {
        const auto made = random_case(seed);
        if (!made) continue;
        ++tried;
        CAPTURE(seed);
        Random random(seed + 100000u);
        TopoDS_Shape body = made->sheet.body();
        const bool is_mirrored = random.chance(0.3);
        if (is_mirrored) {
            gp_Trsf mirror;
            mirror.SetMirror(gp_Ax2(gp_Pnt(1.0, 2.0, 3.0), gp_Dir(0.3, -0.7, 0.5)));
            body = BRepBuilderAPI_Transform(body, mirror, Standard_True).Shape();
        }
        body = BRepBuilderAPI_Transform(body, random.motion(), Standard_True).Shape();
        UnfoldOptions options;
        options.rule.kind = BendRuleKind::k_factor;
        options.rule.k_factor = made->k_factor;
        options.tolerance = 1e-4;
        const Unfolding unfolding = try_unfold(sheets::solid_of(body), options);
        REQUIRE_MESSAGE(unfolding.blank.has_value(), unfolding.refusal.text);
        const Blank& blank = *unfolding.blank;
        CHECK(std::abs(blank.thickness - made->thickness) < 1e-9);
        std::vector<Contour> holes;
        const ProfileSet plain = without_bend_holes(blank.outline, made->bend_holes.size(), holes);
        with_bend_holes += holes.empty() ? 0 : 1;
        // Seen from the one side or from the other: the mirror image with all bends the other way.
        const ProfileSet expected = made->sheet.outline();
        const bool as_made = sheets::difference(expected, plain, 1e-3) <= 1e-6 &&
                             same_bends(made->sheet.bends(), blank.bends, is_mirrored);
        const bool from_behind = sheets::difference(expected, plain, 1e-3, true) <= 1e-6 &&
                                 same_bends(made->sheet.bends(), blank.bends, !is_mirrored);
        CHECK((as_made || from_behind));
        // A mirrored body's blank is the mirror image.
        CHECK(blank.outline.proof().largest_deviation() < 1e-5);
    }
    CHECK(tried == count);
    CHECK(with_bend_holes > 0);
}
