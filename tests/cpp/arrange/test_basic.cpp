/// Everyday plates: the first thing that has to work.

#include <doctest/doctest.h>

#include <cmath>

#include "arrange/expected.hpp"
#include "arrange/shapes.hpp"

namespace planform::arrange::test {
namespace {

TEST_CASE("two overlapping circles make one outline of two arcs") {
    const Input input = Shapes().circle({0, 0}, 10).circle({12, 0}, 8).input();
    const std::vector<Loop> loops = arrange(input);
    REQUIRE(loops.size() == 1);
    check_sound(loops);
    CHECK(loops[0].curves.size() == 2);
    // Lens = two circular segments r^2 (a - sin a cos a), a the half angle at each centre, which
    // follows from the law of cosines on the triangle of centres and crossing.
    const double a = std::acos((144.0 + 100 - 64) / (2 * 12.0 * 10));
    const double b = std::acos((144.0 + 64 - 100) / (2 * 12.0 * 8));
    const double lens =
        100 * (a - std::sin(a) * std::cos(a)) + 64 * (b - std::sin(b) * std::cos(b));
    CHECK(area(loops) == doctest::Approx(pi * 164 - lens).epsilon(1e-12));
}

TEST_CASE("a plate with a hole") {
    const Input input = Shapes().rectangle(0, 0, 100, 60).circle({30, 30}, 10, 0, -1).input();
    const std::vector<Loop> loops = arrange(input);
    REQUIRE(loops.size() == 2);
    check_sound(loops);
    CHECK(area(loops) == doctest::Approx(6000 - 100 * pi).epsilon(1e-12));
    CHECK(count_curves(loops) == 5);
    CHECK(loops[0].hole != loops[1].hole);
}

TEST_CASE("rectangles that share an edge become one") {
    const Input input = Shapes().rectangle(0, 0, 10, 10).rectangle(10, 2, 25, 8).input();
    const std::vector<Loop> loops = arrange(input);
    REQUIRE(loops.size() == 1);
    check_sound(loops);
    CHECK(area(loops) == doctest::Approx(190).epsilon(1e-12));
    CHECK(loops[0].curves.size() == 8);
}

TEST_CASE("collinear edges of neighbours become one line") {
    const Input input = Shapes().rectangle(0, 0, 10, 10).rectangle(10, 0, 25, 10).input();
    const std::vector<Loop> loops = arrange(input);
    REQUIRE(loops.size() == 1);
    check_sound(loops);
    CHECK(area(loops) == doctest::Approx(250).epsilon(1e-12));
    CHECK(loops[0].curves.size() == 4);
}

TEST_CASE("islands in holes, five deep") {
    Shapes shapes;
    for (int i = 0; i < 6; ++i) shapes.circle({0, 0}, 60.0 - 10 * i, 0, i % 2 == 0 ? 1 : -1);
    const std::vector<Loop> loops = arrange(shapes.input());
    REQUIRE(loops.size() == 6);
    check_sound(loops);
    CHECK(area(loops) ==
          doctest::Approx(pi * (3600 - 2500 + 1600 - 900 + 400 - 100)).epsilon(1e-12));
    int outer_most = 0, depth_sum = 0;
    for (const Loop& loop : loops) {
        if (loop.parent < 0) ++outer_most;
        int depth = 0;
        for (int p = loop.parent; p >= 0; p = loops[static_cast<std::size_t>(p)].parent) ++depth;
        depth_sum += depth;
    }
    CHECK(outer_most == 1);
    CHECK(depth_sum == 0 + 1 + 1 + 2 + 2 + 3);
}

TEST_CASE("squares that meet at a corner stay two") {
    const Input input = Shapes().rectangle(0, 0, 10, 10).rectangle(10, 10, 20, 20).input();
    const std::vector<Loop> loops = arrange(input);
    REQUIRE(loops.size() == 2);
    check_sound(loops);
    CHECK(area(loops) == doctest::Approx(200).epsilon(1e-12));
    CHECK(count_curves(loops) == 8);
    CHECK(loops[0].parent == -1);
    CHECK(loops[1].parent == -1);
}

TEST_CASE("the same body twice changes nothing") {
    Shapes shapes;
    shapes.rectangle(0, 0, 100, 60).circle({30, 30}, 10, 0, -1);
    const Input once = shapes.input();
    const std::vector<Loop> loops = arrange(shapes.add(once).input());
    REQUIRE(loops.size() == 2);
    check_sound(loops);
    CHECK(area(loops) == doctest::Approx(6000 - 100 * pi).epsilon(1e-12));
}

TEST_CASE("nothing in, nothing out") {
    CHECK(arrange(Input{}).empty());
    // A body and its reverse cancel.
    Shapes shapes;
    shapes.rectangle(0, 0, 10, 10).rectangle(0, 0, 10, 10, 0, -1);
    CHECK(arrange(shapes.input()).empty());
}

}  // namespace
}  // namespace planform::arrange::test
