#include "arrange/sweep/snap_rounding.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdlib>
#include <limits>

#include "grid/box_tree.hpp"
#include "grid/order.hpp"
#include "grid/wide.hpp"

namespace planform::arrange {
namespace {

using grid::Wide;

/// One end of a parameter interval: numerator / denominator (> 0), included or not.
struct Bound {
    std::int64_t numerator;
    std::int64_t denominator;
    bool included;
};

bool nonempty(const Bound& lower, const Bound& upper) {
    const Wide left = static_cast<Wide>(lower.numerator) * upper.denominator;
    const Wide right = static_cast<Wide>(upper.numerator) * lower.denominator;
    return left < right || (left == right && lower.included && upper.included);
}

/// True if the segment meets the half-open unit square about `center`. Exact: in doubled
/// coordinates each side of the square bounds the segment's parameter by a fraction.
bool meets_pixel(const GridSegment& segment, const grid::GridPoint& center) {
    Bound lower[3] = {{0, 1, true}, {}, {}};
    Bound upper[3] = {{1, 1, true}, {}, {}};
    int count = 1;
    const std::int64_t starts[2] = {segment.start.x, segment.start.y};
    const std::int64_t deltas[2] = {segment.end.x - segment.start.x,
                                    segment.end.y - segment.start.y};
    const std::int64_t centers[2] = {center.x, center.y};
    for (int axis = 0; axis < 2; ++axis) {
        // start + t delta in [center - 1/2, center + 1/2)
        const std::int64_t low = 2 * (centers[axis] - starts[axis]) - 1;
        const std::int64_t high = low + 2;
        const std::int64_t delta = 2 * deltas[axis];
        if (delta == 0) {
            if (low > 0 || high <= 0) return false;
        } else if (delta > 0) {
            lower[count] = {low, delta, true};
            upper[count++] = {high, delta, false};
        } else {
            lower[count] = {-high, -delta, false};
            upper[count++] = {-low, -delta, true};
        }
    }
    for (int i = 0; i < count; ++i)
        for (int j = 0; j < count; ++j)
            if (!nonempty(lower[i], upper[j])) return false;
    return true;
}

/// floor((2 numerator + denominator) / (2 denominator)): numerator / denominator rounded half up.
std::int64_t rounded_quotient(Wide numerator, Wide denominator) {
    const Wide twice = 2 * numerator + denominator;
    const Wide divisor = 2 * denominator;
    Wide quotient = twice / divisor;
    if (twice % divisor != 0 && (twice < 0)) --quotient;
    return static_cast<std::int64_t>(quotient);
}

/// A vertex that a segment is led through, by its place along the segment.
struct Stop {
    std::int32_t segment;
    grid::GridPoint point;
};

/// One cell further than its ends: what a pixel test may reach.
grid::GridBox grown_box(const grid::GridPoint& a, const grid::GridPoint& b) {
    return {static_cast<std::int32_t>(std::min(a.x, b.x) - 1),
            static_cast<std::int32_t>(std::min(a.y, b.y) - 1),
            static_cast<std::int32_t>(std::max(a.x, b.x) + 1),
            static_cast<std::int32_t>(std::max(a.y, b.y) + 1)};
}

class SnapRounder {
  public:
    explicit SnapRounder(const std::vector<GridSegment>& segments) : segments_(segments) {}

    PlanarGraph run() {
        build_pieces();
        const grid::BoxTree tree(boxes_);
        tree.for_each_pair([&](std::int32_t a, std::int32_t b) { visit_pair(a, b); });
        lead_through_crossings(tree);
        return build_graph();
    }

  private:
    /// Long slanted segments have boxes that overlap nearly everything: they enter the tree in
    /// pieces of bounded size.
    void build_pieces() {
        if (segments_.empty()) return;
        grid::GridPoint low = segments_[0].start, high = low;
        for (const GridSegment& s : segments_) {
            low.x = std::min({low.x, s.start.x, s.end.x});
            low.y = std::min({low.y, s.start.y, s.end.y});
            high.x = std::max({high.x, s.start.x, s.end.x});
            high.y = std::max({high.y, s.start.y, s.end.y});
        }
        low_ = low;
        const double extent = static_cast<double>(std::max(high.x - low.x, high.y - low.y)) + 1.0;
        const double piece_size =
            std::max(64.0, 4.0 * extent / std::sqrt(static_cast<double>(segments_.size())));
        boxes_.reserve(segments_.size());
        owners_.reserve(segments_.size());
        for (std::size_t i = 0; i < segments_.size(); ++i) {
            const GridSegment& s = segments_[i];
            const auto slant = static_cast<double>(
                std::min(std::abs(s.end.x - s.start.x), std::abs(s.end.y - s.start.y)));
            const int pieces = 1 + static_cast<int>(slant / piece_size);
            for (int k = 0; k < pieces; ++k) {
                boxes_.push_back(piece_box(s, k, pieces));
                owners_.push_back(static_cast<std::int32_t>(i));
            }
        }
    }

    /// Box of the k-th of n equal pieces.
    static grid::GridBox piece_box(const GridSegment& s, int k, int n) {
        const auto at = [&](std::int64_t start, std::int64_t end, int index) {
            return start + (end - start) * index / n;
        };
        const std::int64_t x0 = at(s.start.x, s.end.x, k), x1 = at(s.start.x, s.end.x, k + 1);
        const std::int64_t y0 = at(s.start.y, s.end.y, k), y1 = at(s.start.y, s.end.y, k + 1);
        return grown_box({x0, y0}, {x1, y1});
    }

    void visit_pair(std::int32_t piece_a, std::int32_t piece_b) {
        const std::int32_t a = owners_[static_cast<std::size_t>(piece_a)];
        const std::int32_t b = owners_[static_cast<std::size_t>(piece_b)];
        if (a == b) return;
        const GridSegment& sa = segments_[static_cast<std::size_t>(a)];
        const GridSegment& sb = segments_[static_cast<std::size_t>(b)];
        const std::int64_t b_start = grid::orientation(sa.start, sa.end, sb.start);
        const std::int64_t b_end = grid::orientation(sa.start, sa.end, sb.end);
        const std::int64_t a_start = grid::orientation(sb.start, sb.end, sa.start);
        const std::int64_t a_end = grid::orientation(sb.start, sb.end, sa.end);
        consider_end(a, sa, sb.start, b_start);
        consider_end(a, sa, sb.end, b_end);
        consider_end(b, sb, sa.start, a_start);
        consider_end(b, sb, sa.end, a_end);
        const bool a_split = (b_start > 0 && b_end < 0) || (b_start < 0 && b_end > 0);
        const bool b_split = (a_start > 0 && a_end < 0) || (a_start < 0 && a_end > 0);
        if (a_split && b_split) add_crossing(a, b, sa, a_start, a_end);
    }

    /// Leads segment s through `point`, an end of another, if it passes through its pixel.
    /// |orientation| <= (|dx| + |dy|) / 2 is the quick test of the line against the square.
    void consider_end(std::int32_t index, const GridSegment& s, const grid::GridPoint& point,
                      std::int64_t turn) {
        if (point == s.start || point == s.end) return;
        const std::int64_t reach = std::abs(s.end.x - s.start.x) + std::abs(s.end.y - s.start.y);
        if (2 * std::abs(turn) > reach) return;
        if (meets_pixel(s, point)) stops_.push_back({index, point});
    }

    /// The crossing lies on sa at a_start / (a_start - a_end) of its length.
    void add_crossing(std::int32_t a, std::int32_t b, const GridSegment& sa, std::int64_t a_start,
                      std::int64_t a_end) {
        Wide numerator = a_start;
        Wide denominator = static_cast<Wide>(a_start) - a_end;
        if (denominator < 0) {
            numerator = -numerator;
            denominator = -denominator;
        }
        const Wide dx = sa.end.x - sa.start.x;
        const Wide dy = sa.end.y - sa.start.y;
        const grid::GridPoint point{sa.start.x + rounded_quotient(dx * numerator, denominator),
                                    sa.start.y + rounded_quotient(dy * numerator, denominator)};
        stops_.push_back({a, point});
        stops_.push_back({b, point});
        crossings_.push_back(point);
    }

    /// A third segment may pass through the pixel of a crossing of two others.
    void lead_through_crossings(const grid::BoxTree& tree) {
        std::sort(crossings_.begin(), crossings_.end());
        crossings_.erase(std::unique(crossings_.begin(), crossings_.end()), crossings_.end());
        for (const grid::GridPoint& point : crossings_) {
            const auto x = static_cast<std::int32_t>(point.x);
            const auto y = static_cast<std::int32_t>(point.y);
            tree.for_each_overlap({x, y, x, y}, [&](std::int32_t piece) {
                const std::int32_t index = owners_[static_cast<std::size_t>(piece)];
                const GridSegment& s = segments_[static_cast<std::size_t>(index)];
                consider_end(index, s, point, grid::orientation(s.start, s.end, point));
            });
        }
    }

    PlanarGraph build_graph() {
        PlanarGraph graph;
        number_vertices(graph);
        const std::vector<std::int32_t> order = order_stops();
        std::size_t next = 0;
        graph.edges.reserve(segments_.size() + stops_.size());
        for (std::size_t i = 0; i < segments_.size(); ++i) {
            const auto segment = static_cast<std::int32_t>(i);
            const auto first = static_cast<std::size_t>(first_point_[i]);
            std::int32_t previous = vertex_of_[first];
            const auto go_to = [&](std::int32_t vertex) {
                if (vertex != previous) graph.edges.push_back({previous, vertex, segment});
                previous = vertex;
            };
            for (; next < order.size(); ++next) {
                const auto stop = static_cast<std::size_t>(order[next]);
                if (stops_[stop].segment != segment) break;
                go_to(vertex_of_[first_stop_ + stop]);
            }
            go_to(vertex_of_[first + 1]);
        }
        return graph;
    }

    /// Gives every end of a segment and every stop its vertex. Where a segment begins at the end of
    /// the one before, as along a chain, that point is counted once.
    void number_vertices(PlanarGraph& graph) {
        std::vector<grid::GridPoint> points;
        points.reserve(2 * segments_.size() + stops_.size());
        first_point_.reserve(segments_.size());
        for (const GridSegment& s : segments_) {
            if (points.empty() || points.back() != s.start) points.push_back(s.start);
            first_point_.push_back(static_cast<std::int32_t>(points.size()) - 1);
            points.push_back(s.end);
        }
        first_stop_ = points.size();
        for (const Stop& stop : stops_) points.push_back(stop.point);
        std::int64_t highest_y = 0;
        for (const grid::GridPoint& p : points) highest_y = std::max(highest_y, p.y - low_.y);
        const int y_bits = std::bit_width(static_cast<std::uint64_t>(highest_y));
        std::vector<std::uint64_t> keys;
        keys.reserve(points.size());
        for (const grid::GridPoint& p : points)
            keys.push_back(static_cast<std::uint64_t>(p.x - low_.x) << y_bits |
                           static_cast<std::uint64_t>(p.y - low_.y));
        vertex_of_.resize(points.size());
        for (const std::int32_t index : grid::order_by_key(keys)) {
            const grid::GridPoint& point = points[static_cast<std::size_t>(index)];
            if (graph.vertices.empty() || graph.vertices.back() != point)
                graph.vertices.push_back(point);
            vertex_of_[static_cast<std::size_t>(index)] =
                static_cast<std::int32_t>(graph.vertices.size()) - 1;
        }
    }

    /// Stops by segment, then along it.
    std::vector<std::int32_t> order_stops() const {
        std::vector<std::int32_t> order = grid::counted(stops_.size());
        std::sort(order.begin(), order.end(), [&](std::int32_t i, std::int32_t j) {
            const Stop& a = stops_[static_cast<std::size_t>(i)];
            const Stop& b = stops_[static_cast<std::size_t>(j)];
            if (a.segment != b.segment) return a.segment < b.segment;
            const std::int64_t along_a = progress(a), along_b = progress(b);
            return along_a != along_b ? along_a < along_b : a.point < b.point;
        });
        return order;
    }

    /// Place along the segment; its own ends stay first and last, also where the centre of a pixel
    /// next to an end lies beyond it.
    std::int64_t progress(const Stop& stop) const {
        const GridSegment& s = segments_[static_cast<std::size_t>(stop.segment)];
        if (stop.point == s.start) return std::numeric_limits<std::int64_t>::min();
        if (stop.point == s.end) return std::numeric_limits<std::int64_t>::max();
        return (stop.point.x - s.start.x) * (s.end.x - s.start.x) +
               (stop.point.y - s.start.y) * (s.end.y - s.start.y);
    }

    const std::vector<GridSegment>& segments_;
    std::vector<grid::GridBox> boxes_;
    std::vector<std::int32_t> owners_;
    grid::GridPoint low_;
    std::vector<Stop> stops_;
    std::vector<grid::GridPoint> crossings_;
    std::vector<std::int32_t> first_point_;  // by segment: its start, which its end follows
    std::size_t first_stop_ = 0;             // among the points; the stops follow
    std::vector<std::int32_t> vertex_of_;    // by point
};

GridSegment span_of(const PlanarGraph& graph, const GraphEdge& edge) {
    return {graph.vertices[static_cast<std::size_t>(edge.from)],
            graph.vertices[static_cast<std::size_t>(edge.to)]};
}

/// Names the edges of a graph by the segments that its own stand for.
void rename_segments(PlanarGraph& graph, const std::vector<std::int32_t>& segment_of) {
    for (GraphEdge& edge : graph.edges)
        edge.segment = segment_of[static_cast<std::size_t>(edge.segment)];
}

/// Old edges that stay as they are, and the segments that are arranged again.
struct Split {
    std::vector<GraphEdge> kept;
    std::vector<GridSegment> again;
    std::vector<std::int32_t> segment_of;  ///< by place in `again`: the segment that it belongs to
    std::size_t old_count = 0;             ///< so many of `again` are old edges, the first ones
};

Split split(const PlanarGraph& graph, const std::vector<GridSegment>& segments,
            const std::vector<char>& taken_out) {
    std::vector<grid::GridBox> boxes;
    for (std::size_t i = taken_out.size(); i < segments.size(); ++i)
        boxes.push_back(grown_box(segments[i].start, segments[i].end));
    const grid::BoxTree tree(boxes);
    Split result;
    for (const GraphEdge& edge : graph.edges) {
        if (taken_out[static_cast<std::size_t>(edge.segment)]) continue;
        const GridSegment span = span_of(graph, edge);
        if (tree.any_overlap(grown_box(span.start, span.end), [](std::int32_t) { return true; })) {
            result.again.push_back(span);
            result.segment_of.push_back(edge.segment);
        } else {
            result.kept.push_back(edge);
        }
    }
    result.old_count = result.again.size();
    for (std::size_t i = taken_out.size(); i < segments.size(); ++i) {
        result.again.push_back(segments[i]);
        result.segment_of.push_back(static_cast<std::int32_t>(i));
    }
    return result;
}

bool lies_within(const grid::GridPoint& a, const grid::GridPoint& b, const grid::GridPoint& p) {
    if (p == a || p == b || grid::orientation(a, b, p) != 0) return false;
    return std::min(a.x, b.x) <= p.x && p.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= p.y &&
           p.y <= std::max(a.y, b.y);
}

/// True if two edges meet elsewhere than in a common vertex, and are not one and the same.
bool meet_in_passing(const GridSegment& a, const GridSegment& b) {
    if (lies_within(a.start, a.end, b.start) || lies_within(a.start, a.end, b.end) ||
        lies_within(b.start, b.end, a.start) || lies_within(b.start, b.end, a.end))
        return true;
    const auto parts = [](const GridSegment& s, const GridSegment& other) {
        const std::int64_t one = grid::orientation(s.start, s.end, other.start);
        const std::int64_t two = grid::orientation(s.start, s.end, other.end);
        return (one > 0 && two < 0) || (one < 0 && two > 0);
    };
    return parts(a, b) && parts(b, a);
}

/// Old edges that the new arrangement leads elsewhere: within a cell of where they were, but that
/// may be where a kept edge is.
std::vector<GridSegment> moved_edges(const Split& parts, const PlanarGraph& again) {
    std::vector<GridSegment> moved;
    for (const GraphEdge& edge : again.edges) {
        const auto place = static_cast<std::size_t>(edge.segment);
        if (place >= parts.old_count) break;  // by segment: the new ones keep off what is kept
        const GridSegment span = span_of(again, edge);
        const GridSegment& old = parts.again[place];
        if (span.start != old.start || span.end != old.end) moved.push_back(span);
    }
    return moved;
}

/// Adds the kept edges that a moved one comes upon to those that are arranged again. False if there
/// are none.
bool take_what_is_met(const PlanarGraph& graph, const PlanarGraph& again, Split& parts) {
    const std::vector<GridSegment> moved = moved_edges(parts, again);
    if (moved.empty()) return false;
    std::vector<grid::GridBox> boxes;
    for (const GridSegment& span : moved) boxes.push_back(grown_box(span.start, span.end));
    const grid::BoxTree tree(boxes);
    std::vector<GridSegment> met;
    std::vector<std::int32_t> segments;
    std::erase_if(parts.kept, [&](const GraphEdge& edge) {
        const GridSegment span = span_of(graph, edge);
        const bool is_met =
            tree.any_overlap(grown_box(span.start, span.end), [&](std::int32_t other) {
                return meet_in_passing(span, moved[static_cast<std::size_t>(other)]);
            });
        if (is_met) {
            met.push_back(span);
            segments.push_back(edge.segment);
        }
        return is_met;
    });
    const auto old = static_cast<std::ptrdiff_t>(parts.old_count);
    parts.again.insert(parts.again.begin() + old, met.begin(), met.end());
    parts.segment_of.insert(parts.segment_of.begin() + old, segments.begin(), segments.end());
    parts.old_count += met.size();
    return !met.empty();
}

/// Puts two graphs together that share vertices only; what no edge uses is left out.
class Join {
  public:
    void add(const std::vector<grid::GridPoint>& vertices, const std::vector<GraphEdge>& edges) {
        std::vector<char> used(vertices.size(), 0);
        for (const GraphEdge& e : edges)
            used[static_cast<std::size_t>(e.from)] = used[static_cast<std::size_t>(e.to)] = 1;
        std::vector<grid::GridPoint> both;
        both.reserve(joined_.vertices.size() + vertices.size());
        std::vector<std::int32_t> old_place(joined_.vertices.size()), place(vertices.size());
        std::size_t i = 0, k = 0;
        while (i < joined_.vertices.size() || k < vertices.size()) {
            if (k < vertices.size() && !used[k]) {
                ++k;
                continue;
            }
            const bool first = k == vertices.size() ||
                               (i < joined_.vertices.size() && joined_.vertices[i] <= vertices[k]);
            const bool second = i == joined_.vertices.size() ||
                                (k < vertices.size() && vertices[k] <= joined_.vertices[i]);
            const auto number = static_cast<std::int32_t>(both.size());
            both.push_back(first ? joined_.vertices[i] : vertices[k]);
            if (first) old_place[i++] = number;
            if (second) place[k++] = number;
        }
        joined_.vertices = std::move(both);
        for (GraphEdge& e : joined_.edges)
            e = {old_place[static_cast<std::size_t>(e.from)],
                 old_place[static_cast<std::size_t>(e.to)], e.segment};
        for (const GraphEdge& e : edges)
            joined_.edges.push_back({place[static_cast<std::size_t>(e.from)],
                                     place[static_cast<std::size_t>(e.to)], e.segment});
    }

    PlanarGraph result() { return std::move(joined_); }

  private:
    PlanarGraph joined_;
};

}  // namespace

PlanarGraph snap_round(const std::vector<GridSegment>& segments) {
    return SnapRounder(segments).run();
}

PlanarGraph snap_round_again(const PlanarGraph& graph, const std::vector<GridSegment>& segments,
                             const std::vector<char>& taken_out) {
    Split parts = split(graph, segments, taken_out);
    PlanarGraph again = snap_round(parts.again);
    while (take_what_is_met(graph, again, parts)) again = snap_round(parts.again);
    rename_segments(again, parts.segment_of);
    Join join;
    join.add(graph.vertices, parts.kept);
    join.add(again.vertices, again.edges);
    return join.result();
}

PlanarGraph snap_round_without(const std::vector<GridSegment>& segments,
                               const std::vector<char>& taken_out) {
    std::vector<GridSegment> left;
    std::vector<std::int32_t> segment_of;
    for (std::size_t i = 0; i < segments.size(); ++i) {
        if (i < taken_out.size() && taken_out[i]) continue;
        left.push_back(segments[i]);
        segment_of.push_back(static_cast<std::int32_t>(i));
    }
    PlanarGraph graph = snap_round(left);
    rename_segments(graph, segment_of);
    return graph;
}

}  // namespace planform::arrange
