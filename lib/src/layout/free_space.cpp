/// Free places: a position on the grid where no cell of the shape is taken, then as far left and
/// down from there as the polygons themselves let it.

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <utility>

#include "layout/raster.hpp"
#include "layout/ring.hpp"
#include "planform/error.hpp"
#include "planform/layout.hpp"

namespace planform {
namespace {

using layout::box_of;
using layout::Segment;

constexpr std::int64_t most_cells = 64'000'000;
/// Left and down in turn so many times: in corners of other pieces it takes a few.
constexpr int slide_rounds = 4;

void append_edges(const Ring& ring, const Vector2& shift, std::vector<Segment>& edges) {
    for (std::size_t i = 0; i < ring.size(); ++i)
        edges.push_back({ring[i] + shift, ring[(i + 1) % ring.size()] + shift});
}

std::vector<Segment> edges_of(const Rings& rings, const Vector2& shift = Vector2::Zero()) {
    std::vector<Segment> edges;
    append_edges(rings.outer, shift, edges);
    for (const Ring& hole : rings.holes) append_edges(hole, shift, edges);
    return edges;
}

bool is_inside(const Ring& ring, const Point2& point) {
    bool inside = false;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
        if ((a.y() <= point.y()) == (b.y() <= point.y())) continue;
        if ((cross(b - a, point - a) > 0.0) == (b.y() > a.y())) inside = !inside;
    }
    return inside;
}

bool is_inside(const Rings& rings, const Point2& point) {
    return is_inside(rings.outer, point) &&
           std::none_of(rings.holes.begin(), rings.holes.end(),
                        [&](const Ring& hole) { return is_inside(hole, point); });
}

bool cross_or_touch(const Segment& first, const Segment& second) {
    const auto sides = [](const Segment& s, const Segment& of) {
        return std::pair(cross(s.b - s.a, of.a - s.a), cross(s.b - s.a, of.b - s.a));
    };
    const auto [a, b] = sides(first, second);
    const auto [c, d] = sides(second, first);
    return std::min(a, b) <= 0.0 && std::max(a, b) >= 0.0 && std::min(c, d) <= 0.0 &&
           std::max(c, d) >= 0.0 && first.box().intersects(second.box());
}

/// How far a point goes along a unit vector until it runs into the segment, which has what is solid
/// on its left: from its right side alone.
/// A point up to `slack` behind it is taken to stand on it.
double way_to(const Segment& segment, const Point2& point, const Vector2& along, double slack) {
    const Vector2 edge = segment.b - segment.a;
    const double turn = cross(along, edge);
    if (turn >= 0.0) return INFINITY;
    const Vector2 between = segment.a - point;
    const double way = cross(between, edge) / turn;
    const double at = cross(between, along) / turn;
    return way >= -slack && at >= 0.0 && at <= 1.0 ? std::max(way, 0.0) : INFINITY;
}

}  // namespace

struct FreeSpace::Grid {
    Rings room;
    Box2 box;
    double cell;
    Point2 origin;
    layout::BitColumns taken;
    std::vector<Segment> edges;    // of the room and of all in it, what is solid on their left
    std::vector<Box2> edge_boxes;  // likewise
    std::vector<Rings> shapes;     // what lies in it
    std::vector<Box2> shape_boxes;
    std::map<int, std::vector<int>> first_columns;  // by number of an offer, for each shape

    Grid(const Rings& rings, double size)
        : room(rings),
          box(box_of(rings.outer)),
          cell(size),
          // Half a cell off: the edge of a room goes through the middle of cells.
          origin(box.min() - Vector2::Constant(0.5 * size)),
          taken(cells(box.sizes().x()), cells(box.sizes().y())) {
        for (int i = 0; i < taken.columns(); ++i) taken.set(i, 0, taken.rows() - 1);
        put(coverage(room, origin, cell, layout::Cover::middles), false);
        put(coverage(room, origin, cell, layout::Cover::edges), true);
        keep_edges(room);
        for (Segment& edge : edges) std::swap(edge.a, edge.b);
    }

    int cells(double extent) const { return static_cast<int>(std::ceil(extent / cell)) + 1; }

    void put(const layout::Coverage& covered, bool value) {
        for (std::size_t i = 0; i < covered.columns.size(); ++i)
            for (const layout::CellSpan& span : covered.columns[i])
                taken.set(covered.column + static_cast<int>(i), span.first, span.last, value);
    }

    void keep_edges(const Rings& rings) {
        for (const Segment& edge : edges_of(rings)) {
            edges.push_back(edge);
            edge_boxes.push_back(edge.box());
        }
    }

    bool is_free(const Rings& shape, const Vector2& shift) const;
    double slide(const Rings& shape, const Vector2& shift, const Vector2& along) const;
    Vector2 settled(const Rings& shape, Vector2 shift) const;
    /// Looks in columns from `first` on, which becomes the one up to which there is no room.
    std::optional<Vector2> find(const Rings& shape, double before, int& first) const;
    std::optional<Vector2> find_tight(const Rings& shape, const Box2& around) const;
};

/// The shape is made smaller by a trace first, so that it may touch.
bool FreeSpace::Grid::is_free(const Rings& shape, const Vector2& shift) const {
    const Box2 around = box_of(shape.outer);
    const Point2 center = around.center();
    const double share =
        1.0 - 2e-9 * box.sizes().maxCoeff() /
                  std::max(around.sizes().minCoeff(), 1e-9 * box.sizes().maxCoeff());
    if (share <= 0.0) return false;
    Rings smaller = shape;
    const auto shrink = [&](Ring& ring) {
        for (Point2& point : ring) point = center + share * (point - center) + shift;
    };
    shrink(smaller.outer);
    for (Ring& hole : smaller.holes) shrink(hole);
    const Box2 here = box_of(smaller.outer);
    if (!box.contains(here)) return false;
    const std::vector<Segment> own = edges_of(smaller);
    for (std::size_t i = 0; i < edges.size(); ++i) {
        if (!edge_boxes[i].intersects(here)) continue;
        for (const Segment& edge : own)
            if (cross_or_touch(edge, edges[i])) return false;
    }
    const Point2& point = smaller.outer.front();
    if (!is_inside(room, point)) return false;
    for (const Ring& hole : room.holes)
        if (is_inside(smaller, hole.front())) return false;
    for (std::size_t i = 0; i < shapes.size(); ++i) {
        if (!shape_boxes[i].intersects(here)) continue;
        if (is_inside(shapes[i], point) || is_inside(smaller, shapes[i].outer.front()))
            return false;
    }
    return true;
}

/// How far the shape goes along an axis until it meets an edge.
double FreeSpace::Grid::slide(const Rings& shape, const Vector2& shift,
                              const Vector2& along) const {
    std::vector<Segment> own = edges_of(shape, shift);
    Box2 here;
    for (const Segment& edge : own) here.extend(edge.a);
    const double slack = 1e-7 * box.sizes().maxCoeff();
    // A trace narrower, so that it does not run into what it only slides along.
    const int across = along.x() == 0.0 ? 0 : 1;
    const double middle = here.center()[across];
    for (Segment& edge : own)
        for (Point2* end : {&edge.a, &edge.b})
            (*end)[across] = middle + (1.0 - 1e-9) * ((*end)[across] - middle);
    double way = std::max(box.sizes().x(), box.sizes().y());
    Box2 swept = here;
    swept.extend(here.min() + way * along);
    for (std::size_t i = 0; i < edges.size(); ++i) {
        if (!edge_boxes[i].intersects(swept)) continue;
        for (const Segment& edge : own) {
            way = std::min(way, way_to(edges[i], edge.a, along, slack));
            way = std::min(way, way_to(edge, edges[i].a, -along, slack));
        }
    }
    return way;
}

Vector2 FreeSpace::Grid::settled(const Rings& shape, Vector2 shift) const {
    // Back by a trace, so that the next way begins free.
    const double trace = 1e-10 * box.sizes().maxCoeff();
    for (int round = 0; round < slide_rounds; ++round) {
        double gone = 0.0;
        for (const Vector2& along : {Vector2(-1.0, 0.0), Vector2(0.0, -1.0)}) {
            const double way = std::max(slide(shape, shift, along) - trace, 0.0);
            shift += way * along;
            gone += way;
        }
        if (gone < 0.01 * cell) break;
    }
    return shift;
}

/// A shape about as high or as wide as the room: there is no position on the grid for it.
std::optional<Vector2> FreeSpace::Grid::find_tight(const Rings& shape, const Box2& around) const {
    const Vector2 left = box.sizes() - around.sizes();
    const Vector2 corner = box.min() - around.min();
    const double trace = 1e-9 * box.sizes().maxCoeff();
    if (left.x() < -trace || left.y() < -trace) return {};
    const bool is_high = left.y() < 3.0 * cell;
    if (!is_high && left.x() >= 3.0 * cell) return {};
    const double room_left = std::max(is_high ? left.x() : left.y(), 0.0);
    const int steps = static_cast<int>(std::ceil(room_left / cell));
    for (int i = 0; i <= steps; ++i) {
        const double way = std::min(i * cell, room_left);
        const Vector2 shift = corner + (is_high ? Vector2(way, 0.0) : Vector2(0.0, way));
        if (is_free(shape, shift)) return settled(shape, shift);
    }
    return {};
}

std::optional<Vector2> FreeSpace::Grid::find(const Rings& shape, double before, int& first) const {
    const Box2 around = box_of(shape.outer);
    if (const auto tight = find_tight(shape, around)) return tight;
    // A trace inside the cell, so that a shape as wide as a number of cells covers no more.
    const Point2 own_origin = around.min() - Vector2::Constant(1e-6 * cell);
    const layout::Coverage covered = layout::coverage(shape, own_origin, cell);
    const int width = static_cast<int>(covered.columns.size());
    const int top = taken.rows() - 1 - covered.highest;
    if (top < 0 || width > taken.columns()) return {};
    // The fullest columns first: they are the likeliest to say no.
    std::vector<int> order(covered.columns.size());
    std::iota(order.begin(), order.end(), 0);
    const auto fill = [&](int i) {
        int sum = 0;
        for (const layout::CellSpan& span : covered.columns[i]) sum += span.last - span.first + 1;
        return sum;
    };
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return fill(a) > fill(b); });
    const int words = top / 64 + 1;
    std::vector<std::uint64_t> blocked(taken.words()), scratch(taken.words());
    for (int i = first; i + width <= taken.columns(); ++i) {
        first = i;
        const double right = origin.x() + i * cell + around.sizes().x();
        if (right >= before + 2.0 * cell) return {};
        std::fill(blocked.begin(), blocked.end(), 0);
        blocked[top / 64] |= top % 64 == 63 ? 0 : ~std::uint64_t{0} << (top % 64 + 1);
        bool is_full = false;
        for (std::size_t k = 0; k < order.size() && !is_full; ++k) {
            for (const layout::CellSpan& span : covered.columns[order[k]])
                layout::or_shifted_down(taken.column(i + order[k]), taken.words(), span.first,
                                        span.last, scratch.data(), blocked.data());
            is_full = std::all_of(blocked.begin(), blocked.begin() + words,
                                  [](std::uint64_t word) { return word == ~std::uint64_t{0}; });
        }
        if (is_full) continue;
        for (int word = 0; word < words; ++word) {
            if (blocked[word] == ~std::uint64_t{0}) continue;
            const int row = 64 * word + std::countr_one(blocked[word]);
            const Point2 corner = origin + cell * Vector2(i, row);
            return settled(shape, corner - own_origin);
        }
    }
    first = taken.columns();
    return {};
}

FreeSpace::FreeSpace(const Rings& room, double cell) {
    if (!std::isfinite(cell) || cell <= 0.0 || room.outer.size() < 3)
        throw GeometryError(
            ErrorKind::invalid_argument,
            "free space: the cell must be positive and finite (mm), the room a polygon");
    const Vector2 size = box_of(room.outer).sizes() / cell + Vector2::Constant(2.0);
    if (!(size.x() * size.y() <= static_cast<double>(most_cells)))
        throw GeometryError(
            ErrorKind::invalid_argument,
            "free space: the room has more than 64 million cells; take larger cells");
    grid_ = std::make_unique<Grid>(room, cell);
}

FreeSpace::~FreeSpace() = default;
FreeSpace::FreeSpace(FreeSpace&&) noexcept = default;
FreeSpace& FreeSpace::operator=(FreeSpace&&) noexcept = default;

void FreeSpace::occupy(const Rings& shape) {
    grid_->put(layout::coverage(shape, grid_->origin, grid_->cell), true);
    grid_->keep_edges(shape);
    grid_->shapes.push_back(shape);
    grid_->shape_boxes.push_back(box_of(shape.outer));
}

std::optional<FreePlace> FreeSpace::find(std::span<const Rings> shapes, int number) {
    std::vector<int> unknown;
    std::vector<int>& first = number < 0 ? unknown : grid_->first_columns[number];
    first.resize(shapes.size(), 0);
    std::optional<FreePlace> best;
    double best_end = INFINITY;
    double best_height = INFINITY;
    for (std::size_t i = 0; i < shapes.size(); ++i) {
        const auto shift = grid_->find(shapes[i], best_end, first[i]);
        if (!shift) continue;
        const Point2 end = box_of(shapes[i].outer).max() + *shift;
        const bool is_level = std::abs(end.x() - best_end) <= 1e-9 * std::abs(end.x());
        if (is_level ? end.y() >= best_height : end.x() >= best_end) continue;
        best = FreePlace{static_cast<int>(i), *shift};
        best_end = end.x();
        best_height = end.y();
    }
    return best;
}

namespace {

struct CellBox {
    int left = 0, low = 0, right = -1, high = -1;  ///< both ends included
    std::int64_t area() const { return std::int64_t(right - left + 1) * (high - low + 1); }
};

/// The largest rectangle of clear cells: column by column, how many cells to the left of each row
/// are clear, as a skyline, and of that the largest rectangle with a stack of rising steps.
CellBox largest_clear(const layout::BitColumns& taken) {
    std::vector<int> reach(taken.rows() + 1, 0);
    CellBox best;
    for (int i = 0; i < taken.columns(); ++i) {
        for (int j = 0; j < taken.rows(); ++j) {
            const bool is_taken = (taken.column(i)[j / 64] >> (j % 64)) & 1;
            reach[j] = is_taken ? 0 : reach[j] + 1;
        }
        std::vector<int> rising;
        for (int j = 0; j <= taken.rows(); ++j) {
            while (!rising.empty() && reach[rising.back()] >= reach[j]) {
                const int length = reach[rising.back()];
                rising.pop_back();
                const int low = rising.empty() ? 0 : rising.back() + 1;
                const CellBox box{i - length + 1, low, i, j - 1};
                if (length > 0 && box.area() > best.area()) best = box;
            }
            rising.push_back(j);
        }
    }
    return best;
}

Rings rings_of(const Box2& box) {
    return {{box.min(), {box.max().x(), box.min().y()}, box.max(), {box.min().x(), box.max().y()}},
            {}};
}

}  // namespace

std::optional<Box2> FreeSpace::largest_rectangle() const {
    const CellBox cells = largest_clear(grid_->taken);
    if (cells.right < cells.left) return {};
    Box2 box(Point2(grid_->origin + grid_->cell * Vector2(cells.left, cells.low)),
             Point2(grid_->origin + grid_->cell * Vector2(cells.right + 1, cells.high + 1)));
    for (const Vector2& along :
         {Vector2(1.0, 0.0), Vector2(0.0, 1.0), Vector2(-1.0, 0.0), Vector2(0.0, -1.0)}) {
        const double way = grid_->slide(rings_of(box), Vector2::Zero(), along);
        const Box2 moved(Point2(box.min() + way * along), Point2(box.max() + way * along));
        box.extend(moved);
    }
    return box;
}

bool FreeSpace::is_free(const Rings& shape) const { return grid_->is_free(shape, Vector2::Zero()); }

}  // namespace planform
