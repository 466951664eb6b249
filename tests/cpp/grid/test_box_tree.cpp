/// Overlap queries of the box tree against brute force.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <set>

#include "grid/box_tree.hpp"

namespace planform::arrange::test {
namespace {

std::vector<grid::GridBox> random_boxes(std::mt19937& random, int count, int reach, int size) {
    std::vector<grid::GridBox> boxes;
    for (int i = 0; i < count; ++i) {
        const auto next = [&](int bound) {
            return static_cast<int>(random() % static_cast<unsigned>(bound));
        };
        const int x = next(2 * reach) - reach, y = next(2 * reach) - reach;
        boxes.push_back({x, y, x + next(size), y + next(size)});
    }
    return boxes;
}

double distance_to(const grid::GridBox& box, double x, double y) {
    return std::hypot(std::max({box.low_x - x, 0.0, x - box.high_x}),
                      std::max({box.low_y - y, 0.0, y - box.high_y}));
}

/// All boxes within a distance are found, and with a reach that falls the nearest.
void check_nearest(const grid::BoxTree& tree, const std::vector<grid::GridBox>& boxes, double x,
                   double y) {
    constexpr double reach = 120.0;
    std::vector<int> hits, wanted;
    double least = reach, nearest = reach;
    CHECK(!tree.any_within(
        x, y, [] { return reach; },
        [&](std::int32_t i) {
            hits.push_back(i);
            return false;
        }));
    std::sort(hits.begin(), hits.end());
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        const double distance = distance_to(boxes[i], x, y);
        if (distance < reach) wanted.push_back(static_cast<int>(i));
        least = std::min(least, distance);
    }
    CHECK(hits == wanted);
    tree.any_within(
        x, y, [&] { return nearest; },
        [&](std::int32_t i) {
            nearest = std::min(nearest, distance_to(boxes[static_cast<std::size_t>(i)], x, y));
            return false;
        });
    CHECK(nearest == least);
    CHECK(tree.any_within(
              x, y, [] { return reach; }, [](std::int32_t) { return true; }) == !wanted.empty());
}

TEST_CASE("pairs and queries of the box tree") {
    std::mt19937 random(21);
    std::size_t all_pairs = 0;
    for (const int count : {0, 1, 2, 7, 8, 9, 64, 65, 300, 1000}) {
        for (const int size : {1, 30, 400}) {
            CAPTURE(count);
            CAPTURE(size);
            const std::vector<grid::GridBox> boxes = random_boxes(random, count, 500, size);
            const grid::BoxTree tree(boxes);
            std::set<std::pair<int, int>> expected, found;
            for (int i = 0; i < count; ++i)
                for (int j = i + 1; j < count; ++j)
                    if (boxes[static_cast<std::size_t>(i)].overlaps(
                            boxes[static_cast<std::size_t>(j)]))
                        expected.insert({i, j});
            std::size_t calls = 0;
            tree.for_each_pair([&](std::int32_t a, std::int32_t b) {
                ++calls;
                found.insert(std::minmax(a, b));
            });
            CHECK(found == expected);
            CHECK(calls == expected.size());
            all_pairs += calls;

            for (const grid::GridBox& query : random_boxes(random, 20, 500, 100)) {
                std::vector<int> hits, wanted;
                tree.for_each_overlap(query, [&](std::int32_t i) { hits.push_back(i); });
                std::sort(hits.begin(), hits.end());
                for (int i = 0; i < count; ++i)
                    if (boxes[static_cast<std::size_t>(i)].overlaps(query)) wanted.push_back(i);
                CHECK(hits == wanted);
                check_nearest(tree, boxes, query.low_x + 0.25, query.low_y - 0.75);
            }
        }
    }
    CHECK(all_pairs > 10000);
}

}  // namespace
}  // namespace planform::arrange::test
