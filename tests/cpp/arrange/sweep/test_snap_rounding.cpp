/// The planar graph of snap rounding, judged by brute force with exact integers.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>
#include <set>
#include <sstream>

#include "arrange/sweep/snap_rounding.hpp"

namespace planform::arrange::test {
namespace {

using Random = std::mt19937;

std::int64_t pick(Random& random, std::int64_t low, std::int64_t high) {
    return low + static_cast<std::int64_t>(random() % static_cast<std::uint64_t>(high - low + 1));
}

bool lies_inside(const grid::GridPoint& a, const grid::GridPoint& b, const grid::GridPoint& p) {
    if (p == a || p == b || grid::orientation(a, b, p) != 0) return false;
    return std::min(a.x, b.x) <= p.x && p.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= p.y &&
           p.y <= std::max(a.y, b.y);
}

int sign(std::int64_t value) { return value > 0 ? 1 : value < 0 ? -1 : 0; }

bool cross_inside(const grid::GridPoint& a, const grid::GridPoint& b, const grid::GridPoint& c,
                  const grid::GridPoint& d) {
    return sign(grid::orientation(a, b, c)) * sign(grid::orientation(a, b, d)) < 0 &&
           sign(grid::orientation(c, d, a)) * sign(grid::orientation(c, d, b)) < 0;
}

double distance(const grid::GridPoint& p, const GridSegment& s) {
    const auto dx = static_cast<double>(s.end.x - s.start.x);
    const auto dy = static_cast<double>(s.end.y - s.start.y);
    const auto px = static_cast<double>(p.x - s.start.x), py = static_cast<double>(p.y - s.start.y);
    const double square = dx * dx + dy * dy;
    const double t = square == 0.0 ? 0.0 : std::clamp((px * dx + py * dy) / square, 0.0, 1.0);
    return std::hypot(px - t * dx, py - t * dy);
}

/// What is wrong with a graph, or nothing. A vertex on a segment's path is the centre of a unit
/// square that the segment meets: at most half a diagonal away.
std::string graph_fault(const std::vector<GridSegment>& segments, const PlanarGraph& graph,
                        double most_stray = 0.7072) {
    if (!std::is_sorted(graph.vertices.begin(), graph.vertices.end())) return "vertices unsorted";
    if (std::adjacent_find(graph.vertices.begin(), graph.vertices.end()) != graph.vertices.end())
        return "a vertex twice";
    const auto at = [&](std::int32_t v) { return graph.vertices[static_cast<std::size_t>(v)]; };
    // Every segment's path leads from its start to its end and stays near it.
    std::size_t next = 0;
    for (std::size_t i = 0; i < segments.size(); ++i) {
        grid::GridPoint here = segments[i].start;
        for (;
             next < graph.edges.size() && graph.edges[next].segment == static_cast<std::int32_t>(i);
             ++next) {
            if (at(graph.edges[next].from) != here) return "a path with a gap";
            here = at(graph.edges[next].to);
            if (distance(here, segments[i]) > most_stray) return "a path that strays";
        }
        if (here != segments[i].end) return "a path that ends elsewhere";
    }
    if (next != graph.edges.size()) return "edges out of order";
    std::set<std::pair<std::int32_t, std::int32_t>> different;
    for (const GraphEdge& e : graph.edges) different.insert(std::minmax(e.from, e.to));
    for (const auto& [a, b] : different) {
        if (a == b) return "an edge without length";
        for (const grid::GridPoint& v : graph.vertices)
            if (lies_inside(at(a), at(b), v)) return "an edge passes through a vertex";
        for (const auto& [c, d] : different)
            if (cross_inside(at(a), at(b), at(c), at(d))) return "two edges cross";
    }
    return {};
}

void check(const std::vector<GridSegment>& segments) {
    const std::string wrong = graph_fault(segments, snap_round(segments));
    if (wrong.empty()) return;
    std::ostringstream text;
    for (const GridSegment& s : segments)
        text << '{' << s.start.x << ',' << s.start.y << ',' << s.end.x << ',' << s.end.y << "} ";
    FAIL_CHECK(wrong << ": " << text.str());
}

grid::GridPoint point(Random& random, std::int64_t reach) {
    const std::int64_t x = pick(random, -reach, reach);
    return {x, pick(random, -reach, reach)};
}

TEST_CASE("random segments on grids from tiny to the largest") {
    Random random(11);
    for (const std::int64_t reach : {2LL, 4LL, 16LL, 100LL, 100000LL, 536870912LL}) {
        CAPTURE(reach);
        for (int round = 0; round < 150; ++round) {
            std::vector<GridSegment> segments;
            const std::int64_t count = pick(random, 2, reach < 100 ? 24 : 40);
            for (std::int64_t i = 0; i < count; ++i)
                segments.push_back({point(random, reach), point(random, reach)});
            check(segments);
        }
    }
}

TEST_CASE("bundles of nearly parallel segments") {
    Random random(12);
    for (int round = 0; round < 200; ++round) {
        const std::int64_t length = pick(random, 10, 100000000);
        std::vector<GridSegment> segments;
        for (int i = 0; i < 12; ++i)
            segments.push_back({{pick(random, -3, 3), pick(random, -3, 3)},
                                {length + pick(random, -3, 3), length / 3 + pick(random, -3, 3)}});
        check(segments);
    }
}

TEST_CASE("long segments across many tiny ones") {
    Random random(13);
    for (int round = 0; round < 60; ++round) {
        std::vector<GridSegment> segments;
        for (int i = 0; i < 40; ++i) {
            const grid::GridPoint start = point(random, 12);
            segments.push_back(
                {start, {start.x + pick(random, -2, 2), start.y + pick(random, -2, 2)}});
        }
        for (int i = 0; i < 6; ++i)
            segments.push_back({{-1000, pick(random, -20, 20)}, {1000, pick(random, -20, 20)}});
        check(segments);
    }
}

TEST_CASE("fans and coincident segments") {
    Random random(14);
    for (int round = 0; round < 100; ++round) {
        std::vector<GridSegment> segments;
        const grid::GridPoint hub = point(random, 5);
        for (int i = 0; i < 8; ++i) segments.push_back({hub, point(random, 1000)});
        for (int i = 0; i < 8; ++i) {
            const GridSegment s = segments[static_cast<std::size_t>(i)];
            segments.push_back(i % 2 == 0 ? s : GridSegment{s.end, s.start});
        }
        check(segments);
    }
}

/// The edges of a graph that was arranged again, in the order in which `graph_fault` wants them: by
/// segment, and along each from its start.
PlanarGraph in_order(PlanarGraph graph, const std::vector<GridSegment>& segments) {
    std::vector<GraphEdge> ordered;
    for (std::size_t i = 0; i < segments.size(); ++i) {
        std::vector<GraphEdge> own;
        for (const GraphEdge& e : graph.edges)
            if (e.segment == static_cast<std::int32_t>(i)) own.push_back(e);
        grid::GridPoint here = segments[i].start;
        while (!own.empty()) {
            const auto next = std::find_if(own.begin(), own.end(), [&](const GraphEdge& e) {
                return graph.vertices[static_cast<std::size_t>(e.from)] == here;
            });
            if (next == own.end()) break;
            here = graph.vertices[static_cast<std::size_t>(next->to)];
            ordered.push_back(*next);
            own.erase(next);
        }
        ordered.insert(ordered.end(), own.begin(), own.end());
    }
    graph.edges = std::move(ordered);
    return graph;
}

/// Replaces some segments, three times over, by two each that lead through a place beside them.
void check_replacements(std::vector<GridSegment> segments, Random& random, unsigned one_in,
                        std::int64_t beside) {
    PlanarGraph graph = snap_round(segments);
    std::vector<char> gone(segments.size(), 0);
    for (int again = 1; again <= 3; ++again) {
        const std::size_t before = segments.size();
        for (std::size_t i = 0; i < before; ++i) {
            if (gone[i] || random() % one_in != 0) continue;
            gone[i] = 1;
            const grid::GridPoint off = point(random, beside);
            const GridSegment old = segments[i];
            const grid::GridPoint between{(old.start.x + old.end.x) / 2 + off.x,
                                          (old.start.y + old.end.y) / 2 + off.y};
            segments.push_back({old.start, between});
            segments.push_back({between, old.end});
        }
        graph = snap_round_again(graph, segments, gone);
        gone.resize(segments.size(), 0);
        std::vector<GridSegment> current;
        std::vector<std::int32_t> number(segments.size(), -1);
        for (std::size_t i = 0; i < segments.size(); ++i) {
            if (gone[i]) continue;
            number[i] = static_cast<std::int32_t>(current.size());
            current.push_back(segments[i]);
        }
        PlanarGraph renumbered = graph;
        for (GraphEdge& e : renumbered.edges) {
            e.segment = number[static_cast<std::size_t>(e.segment)];
            REQUIRE(e.segment >= 0);
        }
        const std::string wrong =
            graph_fault(current, in_order(renumbered, current), 0.7072 * (again + 1));
        CHECK_MESSAGE(wrong.empty(), wrong);
    }
}

TEST_CASE("segments replaced by chains beside them, three times over") {
    Random random(15);
    for (int round = 0; round < 400; ++round) {
        const std::int64_t reach = round % 2 == 0 ? 12 : 400;
        std::vector<GridSegment> segments;
        for (int i = 0; i < 14; ++i)
            segments.push_back({point(random, reach), point(random, reach)});
        check_replacements(segments, random, 4, 3);
    }
}

TEST_CASE("segments replaced in bundles, where what moved comes upon what was left") {
    Random random(16);
    for (int round = 0; round < 400; ++round) {
        const std::int64_t reach = round % 2 == 0 ? 20 : 90, spread = 3;
        std::vector<GridSegment> segments;
        for (int i = 0; i < 24; ++i) {
            const grid::GridPoint from = point(random, spread), to = point(random, spread);
            segments.push_back({{from.x - reach, from.y}, {to.x + reach, to.y}});
        }
        check_replacements(segments, random, 12, 1);
    }
}

TEST_CASE("degenerate input") {
    CHECK(snap_round({}).vertices.empty());
    const PlanarGraph point = snap_round({{{3, 4}, {3, 4}}});
    CHECK(point.edges.empty());
    CHECK(point.vertices.size() == 1);
    const PlanarGraph corner_to_corner =
        snap_round({{{-536870912, -536870912}, {536870912, 536870912}},
                    {{-536870912, 536870912}, {536870912, -536870912}}});
    CHECK(corner_to_corner.vertices.size() == 5);
    CHECK(corner_to_corner.edges.size() == 4);
}

}  // namespace
}  // namespace planform::arrange::test
