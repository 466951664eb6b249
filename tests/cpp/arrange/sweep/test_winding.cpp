/// Winding numbers of the sweep against rays, and loops of the boundary.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <set>

#include "arrange/sweep/boundary.hpp"
#include "arrange/sweep/snap_rounding.hpp"
#include "arrange/sweep/winding_sweep.hpp"

namespace planform::arrange::test {
namespace {

struct Chains {
    std::vector<GridSegment> segments;
    std::vector<Winding> weights;

    void add(const std::vector<grid::GridPoint>& corners, int weight = 1, std::size_t operand = 0) {
        for (std::size_t i = 0; i < corners.size(); ++i) {
            segments.push_back({corners[i], corners[(i + 1) % corners.size()]});
            weights.push_back({});
            weights.back()[operand] = weight;
        }
    }
    void square(std::int64_t x, std::int64_t y, std::int64_t size, int weight = 1) {
        add({{x, y}, {x + size, y}, {x + size, y + size}, {x, y + size}}, weight);
    }
    Boundary boundary() const {
        Boundary boundary =
            find_boundary(snap_round(segments), weights, [](const Winding& w) { return w[0] > 0; });
        find_loops(boundary);
        return boundary;
    }
};

Chains random_chains(std::mt19937& random, int reach) {
    Chains chains;
    for (int c = 0; c < 3; ++c) {
        std::vector<grid::GridPoint> corners;
        for (int i = 0; i < 5; ++i) {
            const auto x = static_cast<std::int64_t>(random() % static_cast<unsigned>(reach));
            corners.push_back(
                {x, static_cast<std::int64_t>(random() % static_cast<unsigned>(reach))});
        }
        chains.add(corners, 1 + c % 2, static_cast<std::size_t>(c) % 2);
    }
    return chains;
}

/// Edges of the graph, added up, sorted by their left vertex.
std::vector<SweepEdge> sweep_edges(const PlanarGraph& graph, const std::vector<Winding>& weights) {
    std::vector<SweepEdge> edges;
    std::set<std::pair<std::int32_t, std::int32_t>> keys;
    for (const GraphEdge& e : graph.edges) keys.insert(std::minmax(e.from, e.to));
    for (const auto& [left, right] : keys) {
        SweepEdge edge{left, right, Winding{}};
        for (const GraphEdge& e : graph.edges) {
            if (std::minmax(e.from, e.to) !=
                std::pair<const std::int32_t&, const std::int32_t&>(left, right))
                continue;
            for (std::size_t k = 0; k < 2; ++k)
                edge.weight[k] +=
                    (e.from == left ? 1 : -1) * weights[static_cast<std::size_t>(e.segment)][k];
        }
        edges.push_back(edge);
    }
    return edges;
}

/// Winding number just below the middle of an edge: what a ray down from there crosses. The ray
/// starts a hair to the right for upright edges, below which is to the right.
Winding winding_below(const std::vector<grid::GridPoint>& vertices,
                      const std::vector<SweepEdge>& edges, std::size_t index) {
    const auto at = [&](std::int32_t v) { return vertices[static_cast<std::size_t>(v)]; };
    const grid::GridPoint a = at(edges[index].left), b = at(edges[index].right);
    // An irrational share of the edge, so that the ray hits no vertex.
    const double share = 0.4142135623730951;
    const bool upright = a.x == b.x;
    const double x =
        static_cast<double>(a.x) + share * static_cast<double>(b.x - a.x) + (upright ? 1e-7 : 0.0);
    const double y = static_cast<double>(a.y) + share * static_cast<double>(b.y - a.y);
    Winding sum{};
    for (std::size_t i = 0; i < edges.size(); ++i) {
        if (i == index) continue;
        const grid::GridPoint c = at(edges[i].left), d = at(edges[i].right);
        if (!(static_cast<double>(c.x) < x && x < static_cast<double>(d.x))) continue;
        const double height = static_cast<double>(c.y) + (x - static_cast<double>(c.x)) /
                                                             static_cast<double>(d.x - c.x) *
                                                             static_cast<double>(d.y - c.y);
        if (height < y)
            for (std::size_t k = 0; k < 2; ++k) sum[k] += edges[i].weight[k];
    }
    return sum;
}

TEST_CASE("winding numbers of the sweep") {
    std::mt19937 random(31);
    std::size_t compared = 0;
    for (const int reach : {6, 20, 1000}) {
        for (int round = 0; round < 200; ++round) {
            const Chains chains = random_chains(random, reach);
            const PlanarGraph graph = snap_round(chains.segments);
            const std::vector<SweepEdge> edges = sweep_edges(graph, chains.weights);
            const SweepResult swept = sweep(graph.vertices, edges);
            for (std::size_t i = 0; i < edges.size(); ++i) {
                CHECK(swept.below[i] == winding_below(graph.vertices, edges, i));
                ++compared;
            }
        }
    }
    CHECK(compared > 10000);
}

double loop_area(const Boundary& boundary, const BoundaryLoop& loop) {
    double doubled = 0.0;
    for (const std::int32_t e : loop.edges) {
        const BoundaryEdge& edge = boundary.edges[static_cast<std::size_t>(e)];
        const grid::GridPoint a = boundary.vertices[static_cast<std::size_t>(edge.from)];
        const grid::GridPoint b = boundary.vertices[static_cast<std::size_t>(edge.to)];
        doubled += static_cast<double>(a.x * b.y - b.x * a.y);
    }
    return 0.5 * doubled;
}

/// Closed, each vertex once, the right way round.
void check_loops(const Boundary& boundary) {
    std::size_t used = 0;
    for (const BoundaryLoop& loop : boundary.loops) {
        std::set<std::int32_t> seen;
        for (std::size_t i = 0; i < loop.edges.size(); ++i) {
            const auto& here = boundary.edges[static_cast<std::size_t>(loop.edges[i])];
            const auto& next =
                boundary.edges[static_cast<std::size_t>(loop.edges[(i + 1) % loop.edges.size()])];
            CHECK(here.to == next.from);
            CHECK(seen.insert(here.from).second);
        }
        used += loop.edges.size();
        CHECK(loop.hole == (loop_area(boundary, loop) < 0.0));
        if (loop.hole) {
            REQUIRE(loop.parent >= 0);
            CHECK(!boundary.loops[static_cast<std::size_t>(loop.parent)].hole);
        }
    }
    CHECK(used == boundary.edges.size());
}

TEST_CASE("loops of random chains") {
    std::mt19937 random(32);
    for (const int reach : {6, 20, 1000})
        for (int round = 0; round < 200; ++round)
            check_loops(random_chains(random, reach).boundary());
}

TEST_CASE("squares in squares, five deep") {
    Chains chains;
    for (int i = 0; i < 10; ++i) chains.square(10 * i, 10 * i, 200 - 20 * i, i % 2 == 0 ? 1 : -1);
    const Boundary boundary = chains.boundary();
    check_loops(boundary);
    REQUIRE(boundary.loops.size() == 10);
    int deepest = 0;
    for (std::size_t i = 0; i < boundary.loops.size(); ++i) {
        int depth = 0;
        for (int p = boundary.loops[i].parent; p >= 0;
             p = boundary.loops[static_cast<std::size_t>(p)].parent)
            ++depth;
        deepest = std::max(deepest, depth);
    }
    CHECK(deepest == 5);  // the innermost hole lies in five outer loops
}

TEST_CASE("squares that meet at corners") {
    Chains two;
    two.square(0, 0, 10);
    two.square(10, 10, 10);
    const Boundary pair = two.boundary();
    check_loops(pair);
    CHECK(pair.loops.size() == 2);

    Chains chain;
    for (int i = 0; i < 50; ++i) chain.square(10 * i, i % 2 == 0 ? 0 : 10, 10);
    const Boundary row = chain.boundary();
    check_loops(row);
    CHECK(row.loops.size() == 50);
    for (const BoundaryLoop& loop : row.loops) CHECK(loop.parent == -1);
}

TEST_CASE("a ring of squares that meet at corners encloses no hole of its own") {
    // Four squares about a square gap: each corner of the gap is shared by two of them.
    Chains chains;
    chains.square(10, 0, 10);
    chains.square(20, 10, 10);
    chains.square(10, 20, 10);
    chains.square(0, 10, 10);
    const Boundary boundary = chains.boundary();
    check_loops(boundary);
    CHECK(boundary.loops.size() == 4);
}

TEST_CASE("a hole that touches the edge in a point") {
    Chains chains;
    chains.square(0, 0, 20);
    chains.add({{10, 0}, {15, 5}, {10, 10}, {5, 5}}, -1);
    const Boundary boundary = chains.boundary();
    check_loops(boundary);
    double area = 0.0;
    for (const BoundaryLoop& loop : boundary.loops) area += loop_area(boundary, loop);
    CHECK(area == 350.0);
}

TEST_CASE("two holes that touch each other") {
    Chains chains;
    chains.square(0, 0, 40);
    chains.square(5, 5, 10, -1);
    chains.square(15, 15, 10, -1);
    const Boundary boundary = chains.boundary();
    check_loops(boundary);
    CHECK(boundary.loops.size() == 3);
}

}  // namespace
}  // namespace planform::arrange::test
