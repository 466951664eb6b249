#include "arrange/sweep/boundary.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>

#include "grid/order.hpp"

namespace planform::arrange {
namespace {

/// All stretches between the same two vertices, added up.
struct Bundle {
    SweepEdge edge;
    std::size_t first;  // into the sorted graph edges
    std::size_t last;
};

/// Index of graph edges sorted by their two vertices, lower first.
std::vector<std::int32_t> order_by_vertices(const PlanarGraph& graph) {
    const auto edge = [&](std::int32_t i) { return graph.edges[static_cast<std::size_t>(i)]; };
    const std::vector<std::int32_t> by_higher = grid::order_by_small_key(
        grid::counted(graph.edges.size()), graph.vertices.size(),
        [&](std::int32_t i) { return std::max(edge(i).from, edge(i).to); });
    return grid::order_by_small_key(by_higher, graph.vertices.size(), [&](std::int32_t i) {
        return std::min(edge(i).from, edge(i).to);
    });
}

std::vector<Bundle> bundle_edges(const PlanarGraph& graph, const std::vector<std::int32_t>& order,
                                 const std::vector<Winding>& weights) {
    std::vector<Bundle> bundles;
    for (std::size_t first = 0; first < order.size();) {
        const GraphEdge& head = graph.edges[static_cast<std::size_t>(order[first])];
        const auto [left, right] = std::minmax(head.from, head.to);
        Bundle bundle{{left, right, Winding{}}, first, first};
        for (; bundle.last < order.size(); ++bundle.last) {
            const GraphEdge& e = graph.edges[static_cast<std::size_t>(order[bundle.last])];
            if (std::minmax(e.from, e.to) != std::minmax(head.from, head.to)) break;
            const Winding& weight = weights[static_cast<std::size_t>(e.segment)];
            for (std::size_t k = 0; k < weight.size(); ++k)
                bundle.edge.weight[k] += e.from == left ? weight[k] : -weight[k];
        }
        first = bundle.last;
        if (bundle.edge.weight != Winding{}) bundles.push_back(bundle);
    }
    return bundles;
}

/// Follows boundary edges from vertex to vertex.
class LoopTracer {
  public:
    explicit LoopTracer(Boundary& boundary) : boundary_(boundary) {}

    void run() {
        index_outgoing();
        std::vector<char> used(boundary_.edges.size(), 0);
        for (std::size_t i = 0; i < boundary_.edges.size(); ++i)
            if (!used[i]) trace(static_cast<std::int32_t>(i), used);
    }

  private:
    const BoundaryEdge& edge(std::int32_t i) const {
        return boundary_.edges[static_cast<std::size_t>(i)];
    }
    const grid::GridPoint& vertex(std::int32_t i) const {
        return boundary_.vertices[static_cast<std::size_t>(i)];
    }

    void index_outgoing() {
        first_outgoing_.assign(boundary_.vertices.size() + 1, 0);
        for (const BoundaryEdge& e : boundary_.edges)
            ++first_outgoing_[static_cast<std::size_t>(e.from) + 1];
        for (std::size_t v = 1; v < first_outgoing_.size(); ++v)
            first_outgoing_[v] += first_outgoing_[v - 1];
        outgoing_.resize(boundary_.edges.size());
        std::vector<std::int32_t> next(first_outgoing_.begin(), first_outgoing_.end() - 1);
        for (std::size_t i = 0; i < boundary_.edges.size(); ++i) {
            const auto from = static_cast<std::size_t>(boundary_.edges[i].from);
            outgoing_[static_cast<std::size_t>(next[from]++)] = static_cast<std::int32_t>(i);
        }
    }

    /// Traces from one edge until it comes round; where the trace meets a vertex again, the part
    /// since then is a loop of its own, so that loops are simple and touch in points only.
    void trace(std::int32_t start, std::vector<char>& used) {
        std::vector<std::int32_t> path;
        std::int32_t current = start;
        seen_at_.resize(boundary_.vertices.size(), -1);
        while (true) {
            used[static_cast<std::size_t>(current)] = 1;
            seen_at_[static_cast<std::size_t>(edge(current).from)] =
                static_cast<std::int32_t>(path.size());
            path.push_back(current);
            const std::int32_t at = edge(current).to;
            const std::int32_t seen = seen_at_[static_cast<std::size_t>(at)];
            if (seen >= 0) {
                close_loop(path, static_cast<std::size_t>(seen));
                if (path.empty()) return;
            }
            current = next_edge(current, used);
        }
    }

    void close_loop(std::vector<std::int32_t>& path, std::size_t first) {
        BoundaryLoop loop;
        loop.edges.assign(path.begin() + static_cast<std::ptrdiff_t>(first), path.end());
        for (const std::int32_t e : loop.edges)
            seen_at_[static_cast<std::size_t>(edge(e).from)] = -1;
        path.resize(first);
        boundary_.loops.push_back(std::move(loop));
    }

    /// Of the unused edges that leave the vertex: the first one clockwise from the way back.
    /// Material lies on the left, so this keeps to the same wedge of material.
    std::int32_t next_edge(std::int32_t arriving, const std::vector<char>& used) const {
        const std::int32_t at = edge(arriving).to;
        const auto first = static_cast<std::size_t>(first_outgoing_[static_cast<std::size_t>(at)]);
        const auto last =
            static_cast<std::size_t>(first_outgoing_[static_cast<std::size_t>(at) + 1]);
        if (last - first == 1) return outgoing_[first];
        std::int32_t best = -1;
        for (std::size_t i = first; i < last; ++i) {
            const std::int32_t candidate = outgoing_[i];
            if (used[static_cast<std::size_t>(candidate)]) continue;
            if (best < 0 ||
                comes_first_clockwise(edge(arriving).from, at, edge(candidate).to, edge(best).to))
                best = candidate;
        }
        return best;
    }

    /// True if, turning clockwise about `at` from `back`, `a` is met before `b`.
    bool comes_first_clockwise(std::int32_t back, std::int32_t at, std::int32_t a,
                               std::int32_t b) const {
        const int half_a = clockwise_half(back, at, a);
        const int half_b = clockwise_half(back, at, b);
        if (half_a != half_b) return half_a < half_b;
        return grid::orientation(vertex(at), vertex(a), vertex(b)) < 0;
    }

    /// 0: within the first half turn clockwise from `back`; 1: within the second.
    int clockwise_half(std::int32_t back, std::int32_t at, std::int32_t to) const {
        const std::int64_t turn = grid::orientation(vertex(at), vertex(back), vertex(to));
        if (turn != 0) return turn < 0 ? 0 : 1;
        const grid::GridPoint &o = vertex(at), &p = vertex(back), &q = vertex(to);
        const bool same_side = (p.x - o.x) * (q.x - o.x) + (p.y - o.y) * (q.y - o.y) > 0;
        return same_side ? 0 : 1;
    }

    Boundary& boundary_;
    std::vector<std::int32_t> first_outgoing_;
    std::vector<std::int32_t> outgoing_;
    std::vector<std::int32_t> seen_at_;
};

/// Twice the signed area of a loop in grid units.
double doubled_area(const Boundary& boundary, const BoundaryLoop& loop) {
    const grid::GridPoint& origin = boundary.vertices[static_cast<std::size_t>(
        boundary.edges[static_cast<std::size_t>(loop.edges.front())].from)];
    double sum = 0.0;
    for (const std::int32_t e : loop.edges) {
        const BoundaryEdge& edge = boundary.edges[static_cast<std::size_t>(e)];
        sum += static_cast<double>(
            grid::orientation(origin, boundary.vertices[static_cast<std::size_t>(edge.from)],
                              boundary.vertices[static_cast<std::size_t>(edge.to)]));
    }
    return sum;
}

/// Finds which outer loop each hole belongs to and in which hole each island lies: a sweep over the
/// boundary alone tells what lies next below the leftmost vertex of a loop.
class Nesting {
  public:
    explicit Nesting(Boundary& boundary) : boundary_(boundary) {}

    void run() {
        build_sweep();
        const SweepResult swept = sweep(boundary_.vertices, edges_);
        for (const std::size_t index : loops_by_first_edge()) {
            const std::int32_t below = swept.edge_below[static_cast<std::size_t>(lowest_[index])];
            resolve(index, below < 0 ? -1 : loop_of_[static_cast<std::size_t>(below)]);
        }
    }

  private:
    void build_sweep() {
        const std::size_t count = boundary_.edges.size();
        std::vector<std::int32_t> owner(count);
        for (std::size_t loop = 0; loop < boundary_.loops.size(); ++loop)
            for (const std::int32_t e : boundary_.loops[loop].edges)
                owner[static_cast<std::size_t>(e)] = static_cast<std::int32_t>(loop);
        const std::vector<std::int32_t> order = grid::order_by_small_key(
            grid::counted(count), boundary_.vertices.size(), [&](std::int32_t i) {
                const BoundaryEdge& e = boundary_.edges[static_cast<std::size_t>(i)];
                return std::min(e.from, e.to);
            });
        lowest_.assign(boundary_.loops.size(), -1);
        for (const std::int32_t i : order) {
            const BoundaryEdge& e = boundary_.edges[static_cast<std::size_t>(i)];
            const bool forward = e.from < e.to;
            const auto position = static_cast<std::int32_t>(edges_.size());
            edges_.push_back(
                {std::min(e.from, e.to), std::max(e.from, e.to), Winding{forward ? 1 : -1, 0}});
            loop_of_.push_back(owner[static_cast<std::size_t>(i)]);
            std::int32_t& lowest = lowest_[static_cast<std::size_t>(loop_of_.back())];
            if (lowest < 0 || runs_below(position, lowest)) lowest = position;
        }
    }

    /// Of two edges that leave the same vertex to the right: is the first the lower one?
    bool runs_below(std::int32_t a, std::int32_t b) const {
        const SweepEdge& ea = edges_[static_cast<std::size_t>(a)];
        const SweepEdge& eb = edges_[static_cast<std::size_t>(b)];
        if (ea.left != eb.left) return false;
        return grid::orientation(boundary_.vertices[static_cast<std::size_t>(ea.left)],
                                 boundary_.vertices[static_cast<std::size_t>(ea.right)],
                                 boundary_.vertices[static_cast<std::size_t>(eb.right)]) > 0;
    }

    /// Loops in the order in which the sweep meets them, lower first at a common vertex: what lies
    /// below a loop is resolved before the loop.
    std::vector<std::size_t> loops_by_first_edge() const {
        std::vector<std::size_t> order(boundary_.loops.size());
        for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
        std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            const std::int32_t left_a = edges_[static_cast<std::size_t>(lowest_[a])].left;
            const std::int32_t left_b = edges_[static_cast<std::size_t>(lowest_[b])].left;
            if (left_a != left_b) return left_a < left_b;
            return runs_below(lowest_[a], lowest_[b]);
        });
        return order;
    }

    void resolve(std::size_t index, int below) {
        BoundaryLoop& loop = boundary_.loops[index];
        loop.parent = -1;
        if (below < 0) return;
        const BoundaryLoop& neighbour = boundary_.loops[static_cast<std::size_t>(below)];
        if (loop.hole) {
            // A hole touches material below it: that of the neighbour, or of the neighbour's owner.
            loop.parent = neighbour.hole ? neighbour.parent : below;
        } else {
            // An outer loop stands in the open: in the neighbour's hole, or beside it.
            loop.parent = neighbour.parent;
        }
    }

    Boundary& boundary_;
    std::vector<SweepEdge> edges_;
    std::vector<std::int32_t> loop_of_;  // by sweep edge
    std::vector<std::int32_t> lowest_;   // by loop: its lowest edge at its first vertex
};

}  // namespace

std::uint64_t mixed(std::uint64_t mark, std::uint64_t value) {
    // One step of a multiplicative generator (D. H. Lehmer), its high bits brought down.
    mark = (mark ^ value) * 0xda942042e4dd58b5ULL;
    return mark ^ mark >> 29;
}

std::uint64_t mark_of(const Boundary& boundary, const BoundaryEdge& edge) {
    std::uint64_t mark = 1;
    for (const std::int32_t end : {edge.from, edge.to}) {
        const grid::GridPoint& point = boundary.vertices[static_cast<std::size_t>(end)];
        mark = mixed(mark, static_cast<std::uint64_t>(point.x));
        mark = mixed(mark, static_cast<std::uint64_t>(point.y));
    }
    return mark;
}

namespace {

/// As many edges of the boundary come to a vertex as leave it, if the graph is planar.
void check_balance(const Boundary& boundary) {
    std::vector<std::int32_t> balance(boundary.vertices.size(), 0);
    for (const BoundaryEdge& edge : boundary.edges) {
        ++balance[static_cast<std::size_t>(edge.to)];
        --balance[static_cast<std::size_t>(edge.from)];
    }
    for (std::size_t i = 0; i < balance.size(); ++i)
        if (balance[i] != 0) throw NotPlanar{boundary.vertices[i]};
}

}  // namespace

Boundary find_boundary(const PlanarGraph& graph, const std::vector<Winding>& weights,
                       const std::function<bool(const Winding&)>& inside) {
    const std::vector<std::int32_t> order = order_by_vertices(graph);
    const std::vector<Bundle> bundles = bundle_edges(graph, order, weights);
    std::vector<SweepEdge> edges;
    edges.reserve(bundles.size());
    for (const Bundle& bundle : bundles) edges.push_back(bundle.edge);
    const SweepResult swept = sweep(graph.vertices, edges);

    Boundary boundary;
    boundary.vertices = graph.vertices;
    for (std::size_t i = 0; i < bundles.size(); ++i) {
        const Winding& below = swept.below[i];
        Winding above = below;
        for (std::size_t k = 0; k < above.size(); ++k) above[k] += edges[i].weight[k];
        const bool inside_above = inside(above);
        if (inside_above == inside(below)) continue;
        BoundaryEdge edge;
        edge.from = inside_above ? edges[i].left : edges[i].right;
        edge.to = inside_above ? edges[i].right : edges[i].left;
        edge.first_stretch = static_cast<std::int32_t>(boundary.stretches.size());
        for (std::size_t s = bundles[i].first; s < bundles[i].last; ++s) {
            const GraphEdge& e = graph.edges[static_cast<std::size_t>(order[s])];
            boundary.stretches.push_back({e.segment, e.from == edge.from});
        }
        edge.last_stretch = static_cast<std::int32_t>(boundary.stretches.size());
        boundary.edges.push_back(edge);
    }
    check_balance(boundary);
    return boundary;
}

void find_loops(Boundary& boundary) {
    LoopTracer(boundary).run();
    for (BoundaryLoop& loop : boundary.loops) loop.hole = doubled_area(boundary, loop) < 0.0;
    Nesting(boundary).run();
}

}  // namespace planform::arrange
