#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "planform/error.hpp"
#include "planform/layout.hpp"

using namespace planform;

namespace {

Contour circle(const Point2& center, double radius) {
    return Contour({Arc{center, radius, 0.0, 2.0 * pi}});
}

Contour box(double left, double low, double right, double high) {
    return Contour({Line{{left, low}, {right, low}}, Line{{right, low}, {right, high}},
                    Line{{right, high}, {left, high}}, Line{{left, high}, {left, low}}});
}

ProfileSet set(Contour outer, std::vector<Contour> holes = {}) {
    return ProfileSet({Profile(std::move(outer), std::move(holes))});
}

const ProfileSet sheet = set(box(0, 0, 200, 100));
const ProfileSet nothing;

std::vector<LayoutFaultKind> faults(const std::vector<ProfileSet>& pieces, double gap,
                                    double margin, const ProfileSet& keep_clear = nothing) {
    std::vector<LayoutFaultKind> kinds;
    for (const LayoutFault& fault : prove_layout(sheet, keep_clear, pieces, {gap, margin}).faults)
        kinds.push_back(fault.kind);
    return kinds;
}

using Kinds = std::vector<LayoutFaultKind>;

}  // namespace

TEST_CASE("a gap is kept or missed by a hair") {
    const ProfileSet first = set(circle({30, 50}, 20));
    CHECK(faults({first, set(circle({75, 50}, 20))}, 5.0, 10.0).empty());
    CHECK(faults({first, set(circle({75 - 1e-5, 50}, 20))}, 5.0, 10.0) ==
          Kinds{LayoutFaultKind::too_near});
    const LayoutProof proof =
        prove_layout(sheet, nothing, {first, set(circle({75, 50}, 20))}, {5.0, 10.0});
    CHECK(proof.least_gap == doctest::Approx(5.0).epsilon(1e-14));
    CHECK(proof.least_margin == doctest::Approx(10.0).epsilon(1e-14));
}

TEST_CASE("pieces may lie in holes, not in material") {
    const ProfileSet ring = set(circle({50, 50}, 40), {circle({50, 50}, 30)});
    CHECK(faults({ring, set(circle({50, 50}, 25))}, 5.0, 0.0).empty());
    CHECK(faults({ring, set(circle({50, 50}, 26))}, 5.0, 0.0) == Kinds{LayoutFaultKind::too_near});
    CHECK(faults({ring, set(circle({85, 50}, 2))}, 1.0, 0.0) == Kinds{LayoutFaultKind::overlap});
    CHECK(faults({ring, ring}, 1.0, 0.0) == Kinds{LayoutFaultKind::overlap});
    // One wholly under another, contours far apart.
    CHECK(faults({set(box(10, 10, 90, 90)), set(circle({50, 50}, 5))}, 2.0, 0.0) ==
          Kinds{LayoutFaultKind::overlap});
}

TEST_CASE("without a gap outlines may touch along whole edges") {
    CHECK(faults({set(box(0, 0, 50, 100)), set(box(50, 0, 200, 100))}, 0.0, 0.0).empty());
    CHECK(faults({set(box(0, 0, 50, 100)), set(box(49.999, 0, 200, 100))}, 0.0, 0.0) ==
          Kinds{LayoutFaultKind::overlap});
    CHECK(faults({set(circle({50, 50}, 20)), set(circle({90, 50}, 20))}, 0.0, 0.0).empty());
}

TEST_CASE("the edge of the sheet, its holes, the margin, places to keep clear") {
    CHECK(faults({set(box(5, 5, 195, 95))}, 0.0, 5.0).empty());
    CHECK(faults({set(box(5, 5, 195.001, 95))}, 0.0, 5.0) == Kinds{LayoutFaultKind::in_margin});
    CHECK(faults({set(box(150, 10, 201, 20))}, 0.0, 5.0) == Kinds{LayoutFaultKind::outside_sheet});
    CHECK(faults({set(box(300, 10, 310, 20))}, 0.0, 5.0) == Kinds{LayoutFaultKind::outside_sheet});
    const ProfileSet clamp = set(box(0, 0, 30, 30));
    CHECK(faults({set(box(30, 5, 60, 30))}, 0.0, 5.0, clamp).empty());
    CHECK(faults({set(box(29, 5, 60, 30))}, 0.0, 5.0, clamp) == Kinds{LayoutFaultKind::not_clear});
    CHECK(faults({set(box(5, 5, 195, 95))}, 0.0, 5.0, set(circle({100, 50}, 3))) ==
          Kinds{LayoutFaultKind::not_clear});
    const ProfileSet holed = set(box(0, 0, 200, 100), {circle({100, 50}, 10)});
    const auto on_holed = [&](const ProfileSet& piece, double margin) {
        return prove_layout(holed, nothing, {piece}, {0.0, margin}).faults.size();
    };
    CHECK(on_holed(set(box(10, 10, 85, 90)), 5.0) == 0);
    CHECK(on_holed(set(box(10, 10, 86, 90)), 5.0) == 1);
    CHECK(on_holed(set(box(10, 10, 190, 90)), 2.0) == 1);
    CHECK(on_holed(set(box(10, 10, 190, 90), {circle({100, 50}, 15)}), 5.0) == 0);
}

TEST_CASE("two thousand pieces are proven, one too near is found") {
    std::vector<ProfileSet> pieces;
    for (int i = 0; i < 2000; ++i)
        pieces.push_back(set(circle({10.0 + 20.0 * (i % 50), 10.0 + 20.0 * (i / 50)}, 9.0)));
    const ProfileSet large = set(box(0, 0, 1000, 800));
    const LayoutProof right = prove_layout(large, nothing, pieces, {2.0, 1.0});
    CHECK(right.faults.empty());
    CHECK(right.measured_pairs < 20000);
    pieces[777] = set(circle({10.0 + 20.0 * 27 + 0.01, 10.0 + 20.0 * 15}, 9.0));
    const LayoutProof wrong = prove_layout(large, nothing, pieces, {2.0, 1.0});
    REQUIRE(wrong.faults.size() == 1);
    CHECK(wrong.faults[0].first == 777);
    CHECK(wrong.faults[0].second == 778);
    CHECK(wrong.faults[0].measured == doctest::Approx(1.99).epsilon(1e-9));
}

TEST_CASE("numbers that make no sense are refused") {
    CHECK_THROWS_AS(prove_layout(sheet, nothing, {}, {-1.0, 0.0}), GeometryError);
    CHECK_THROWS_AS(
        prove_layout(sheet, nothing, {}, {0.0, std::numeric_limits<double>::infinity()}),
        GeometryError);
    CHECK_THROWS_AS(prove_layout(nothing, nothing, {}, {}), GeometryError);
    CHECK_THROWS_AS(prove_layout(sheet, nothing, {nothing}, {}), GeometryError);
}
