#include "arrange/sweep/winding_sweep.hpp"

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <set>

#include "grid/order.hpp"

namespace planform::arrange {
namespace {

/// The line sweeps in lexicographic order; its status holds the edges it cuts, lowest first. Where
/// edges end and others begin at a vertex, entries are handed over in place: only local extremes of
/// the chains cost a search.
class Sweep {
  public:
    Sweep(const std::vector<grid::GridPoint>& vertices, const std::vector<SweepEdge>& edges)
        : vertices_(vertices), edges_(edges), status_(Lower{this}), places_(edges.size()) {
        result_.below.resize(edges.size(), Winding{});
        result_.edge_below.resize(edges.size(), -1);
    }

    SweepResult run() {
        sort_by_right();
        std::size_t next_left = 0, next_right = 0;
        while (next_left < edges_.size() || next_right < edges_.size()) {
            const std::int32_t vertex = next_vertex(next_left, next_right);
            const std::size_t first_left = next_left, first_right = next_right;
            while (next_left < edges_.size() && edge(next_left).left == vertex) ++next_left;
            while (next_right < edges_.size() && edge(by_right_[next_right]).right == vertex)
                ++next_right;
            visit(vertex, first_right, next_right, first_left, next_left);
        }
        return std::move(result_);
    }

  private:
    /// A place in the status; the edge in it changes without moving the place.
    struct Entry {
        mutable std::int32_t edge;
    };
    struct Lower {
        using is_transparent = void;
        const Sweep* sweep;
        bool operator()(const Entry& a, const Entry& b) const {
            return sweep->starts_below(a.edge, b.edge);
        }
        bool operator()(const Entry& a, const grid::GridPoint& point) const {
            return sweep->side(a.edge, point) > 0;
        }
        bool operator()(const grid::GridPoint& point, const Entry& a) const {
            return sweep->side(a.edge, point) < 0;
        }
    };
    using Status = std::set<Entry, Lower>;
    using Place = Status::iterator;

    const SweepEdge& edge(std::size_t index) const { return edges_[index]; }
    const SweepEdge& edge(std::int32_t index) const {
        return edges_[static_cast<std::size_t>(index)];
    }
    const grid::GridPoint& vertex(std::int32_t index) const {
        return vertices_[static_cast<std::size_t>(index)];
    }

    /// Positive if the point lies above the edge.
    std::int64_t side(std::int32_t index, const grid::GridPoint& point) const {
        return grid::orientation(vertex(edge(index).left), vertex(edge(index).right), point);
    }

    /// Order of two edges in the status: never called for edges that cross.
    bool starts_below(std::int32_t a, std::int32_t b) const {
        const grid::GridPoint& start_a = vertex(edge(a).left);
        const grid::GridPoint& start_b = vertex(edge(b).left);
        if (start_a < start_b) {
            const std::int64_t turn = side(a, start_b);
            return turn != 0 ? turn > 0 : side(a, vertex(edge(b).right)) > 0;
        }
        const std::int64_t turn = side(b, start_a);
        return turn != 0 ? turn < 0 : side(b, vertex(edge(a).right)) < 0;
    }

    void sort_by_right() {
        by_right_ = grid::order_by_small_key(grid::counted(edges_.size()), vertices_.size(),
                                             [&](std::int32_t i) { return edge(i).right; });
    }

    std::int32_t next_vertex(std::size_t next_left, std::size_t next_right) const {
        if (next_left == edges_.size()) return edge(by_right_[next_right]).right;
        if (next_right == edges_.size()) return edge(next_left).left;
        return std::min(edge(next_left).left, edge(by_right_[next_right]).right);
    }

    /// Takes out the edges that end at the vertex, puts in those that begin there.
    void visit(std::int32_t at, std::size_t first_ending, std::size_t last_ending,
               std::size_t first_starting, std::size_t last_starting) {
        starting_.clear();
        for (std::size_t i = first_starting; i < last_starting; ++i)
            starting_.push_back(static_cast<std::int32_t>(i));
        std::sort(starting_.begin(), starting_.end(), [&](std::int32_t a, std::int32_t b) {
            const std::int64_t turn =
                grid::orientation(vertex(at), vertex(edge(a).right), vertex(edge(b).right));
            return turn != 0 ? turn > 0 : a < b;
        });

        const std::size_t ending = last_ending - first_ending;
        if (ending == 1 && starting_.size() == 1) {
            hand_over(places_[static_cast<std::size_t>(by_right_[first_ending])], starting_[0]);
            return;
        }
        Place above = status_.end();
        if (ending > 0) {
            // The ending edges are neighbours in the status: whichever is taken out, what follows
            // is another of them or the place above all of them.
            for (std::size_t i = first_ending; i < last_ending; ++i) {
                const Place next = status_.erase(places_[static_cast<std::size_t>(by_right_[i])]);
                if (next == status_.end() || edge(next->edge).right != at) above = next;
            }
        } else {
            above = status_.lower_bound(vertex(at));
        }
        for (const std::int32_t index : starting_) insert(above, index);
    }

    void insert(Place above, std::int32_t index) {
        const Place place = status_.emplace_hint(above, Entry{index});
        if (place->edge != index) throw NotPlanar{vertex(edge(index).left)};
        places_[static_cast<std::size_t>(index)] = place;
        settle(place, index);
    }

    void hand_over(Place place, std::int32_t index) {
        place->edge = index;
        places_[static_cast<std::size_t>(index)] = place;
        settle(place, index);
    }

    void settle(Place place, std::int32_t index) {
        if (place == status_.begin()) return;
        const std::int32_t lower = std::prev(place)->edge;
        const Winding& lower_below = result_.below[static_cast<std::size_t>(lower)];
        Winding& below = result_.below[static_cast<std::size_t>(index)];
        for (std::size_t k = 0; k < below.size(); ++k)
            below[k] = lower_below[k] + edge(lower).weight[k];
        result_.edge_below[static_cast<std::size_t>(index)] = lower;
    }

    const std::vector<grid::GridPoint>& vertices_;
    const std::vector<SweepEdge>& edges_;
    Status status_;
    std::vector<Place> places_;
    std::vector<std::int32_t> by_right_;
    std::vector<std::int32_t> starting_;
    SweepResult result_;
};

}  // namespace

SweepResult sweep(const std::vector<grid::GridPoint>& vertices,
                  const std::vector<SweepEdge>& edges) {
    return Sweep(vertices, edges).run();
}

}  // namespace planform::arrange
