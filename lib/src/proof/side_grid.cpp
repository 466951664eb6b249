#include "proof/side_grid.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <variant>

namespace planform::proof {
namespace {

double distance_from_side(const Point2& p, const Point2& a, const Point2& b) {
    const Vector2 way = b - a;
    const double square = way.squaredNorm();
    const double along = square > 0.0 ? std::clamp((p - a).dot(way) / square, 0.0, 1.0) : 0.0;
    return (a + along * way - p).norm();
}

/// Where a side crosses the line x = at or y = at, along the other axis.
double crossing(const Point2& a, const Point2& b, Eigen::Index axis, double at) {
    return a[1 - axis] + (at - a[axis]) / (b[axis] - a[axis]) * (b[1 - axis] - a[1 - axis]);
}

/// Half open, so that a chain crosses a line through its corner as often as any other.
bool crosses(const Point2& a, const Point2& b, Eigen::Index axis, double at) {
    return (a[axis] > at) != (b[axis] > at);
}

/// Calls `visit` for the points between the ends of a curve's polygon.
template <typename Visit>
void for_each_inner_point(const Curve& curve, double tolerance, const Visit& visit) {
    if (std::holds_alternative<Line>(curve)) return;
    if (const auto* arc = std::get_if<Arc>(&curve)) {
        // The rise of a chord over its half angle a is r (1 - cos a).
        const double half = std::acos(std::max(0.0, 1.0 - tolerance / arc->radius));
        const int count = static_cast<int>(std::ceil(std::abs(arc->sweep) / (2.0 * half)));
        const double step = arc->sweep / count, c = std::cos(step), s = std::sin(step);
        Vector2 ray = arc->radius * Vector2(std::cos(arc->start_angle), std::sin(arc->start_angle));
        for (int i = 1; i < count; ++i) {
            ray = Vector2(c * ray.x() - s * ray.y(), s * ray.x() + c * ray.y());
            visit(Point2(arc->center + ray));
        }
        return;
    }
    const std::vector<Point2> points = planform::points(curve, tolerance);
    for (std::size_t i = 1; i + 1 < points.size(); ++i) visit(points[i]);
}

}  // namespace

void SideGrid::add(const Curve& curve, const Point2& start, const Point2& end, double tolerance,
                   int weight, int set) {
    Point2 last = start;
    for_each_inner_point(curve, tolerance, [&](const Point2& point) {
        add(last, point, weight, set);
        last = point;
    });
    add(last, end, weight, set);
}

void SideGrid::add(std::span<const Profile> profiles, double tolerance, int set) {
    const auto add_contour = [&](const Contour& contour) {
        const std::vector<Curve>& curves = contour.curves();
        for (std::size_t i = 0; i < curves.size(); ++i)
            add(curves[i], start_point(curves[i]), start_point(curves[(i + 1) % curves.size()]),
                tolerance, 1, set);
    };
    for (const Profile& profile : profiles) {
        add_contour(profile.outer());
        for (const Contour& hole : profile.holes()) add_contour(hole);
    }
}

void SideGrid::set_cells() {
    // Four times as many cells as sides, square ones: few cells hold many sides, and many places
    // are asked.
    constexpr double most_a_way = 1024.0;
    Box2 box;
    for (const Side& side : sides_) {
        box.extend(side.start);
        box.extend(side.end);
    }
    // A hair more, so that no side lies on the grid's own border.
    const Vector2 border = 1e-6 * box.sizes() + Vector2::Constant(1e-9);
    low_ = box.min() - border;
    high_ = box.max() + border;
    const Vector2 extent = high_ - low_;
    const double step = std::sqrt(extent.prod() / (4.0 * static_cast<double>(sides_.size()) + 1.0));
    const auto count = [&](double length) {
        return static_cast<int>(std::clamp(std::ceil(length / step), 1.0, most_a_way));
    };
    columns_ = count(extent.x());
    rows_ = count(extent.y());
    size_ = extent.cwiseQuotient(Vector2(columns_, rows_));
}

int SideGrid::column(double x) const {
    return std::clamp(static_cast<int>((x - low_.x()) / size_.x()), 0, columns_ - 1);
}

int SideGrid::row(double y) const {
    return std::clamp(static_cast<int>((y - low_.y()) / size_.y()), 0, rows_ - 1);
}

template <typename Visit>
void SideGrid::for_each_column(const Side& side, int row, const Visit& visit) const {
    constexpr double hair = 1e-6;  // of a cell
    const double below = low_.y() + (row - hair) * size_.y();
    const double above = low_.y() + (row + 1 + hair) * size_.y();
    const Point2 &a = side.start, &b = side.end;
    double left = std::min(a.x(), b.x()), right = std::max(a.x(), b.x());
    if (std::min(a.y(), b.y()) < below && std::max(a.y(), b.y()) >= below) {
        const double x = crossing(a, b, 1, below);
        ((b.x() - a.x()) * (b.y() - a.y()) > 0.0 ? left : right) = x;
    }
    if (std::max(a.y(), b.y()) > above && std::min(a.y(), b.y()) <= above) {
        const double x = crossing(a, b, 1, above);
        ((b.x() - a.x()) * (b.y() - a.y()) > 0.0 ? right : left) = x;
    }
    const int last = column(right + hair * size_.x());
    for (int i = column(left - hair * size_.x()); i <= last; ++i) visit(i);
}

void SideGrid::sort_into_cells() {
    if (sides_.empty()) return;
    set_cells();
    const std::size_t cells = static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_);
    first_.assign(cells + 1, 0);
    constexpr double hair = 1e-6;
    // By cell in the end: found once, counted, then put in their places.
    std::vector<std::array<std::uint32_t, 2>> found;
    found.reserve(2 * sides_.size());
    for (std::size_t i = 0; i < sides_.size(); ++i) {
        const auto [low, high] = std::minmax(sides_[i].start.y(), sides_[i].end.y());
        const int last = row(high + hair * size_.y());
        for (int k = row(low - hair * size_.y()); k <= last; ++k)
            for_each_column(sides_[i], k, [&](int column) {
                const std::size_t at = cell(column, k);
                ++first_[at + 1];
                found.push_back({static_cast<std::uint32_t>(at), static_cast<std::uint32_t>(i)});
            });
    }
    for (std::size_t i = 0; i < cells; ++i) first_[i + 1] += first_[i];
    in_cells_.resize(found.size());
    std::vector<std::uint32_t> next(first_.begin(), first_.end() - 1);
    for (const auto& [at, side] : found) in_cells_[next[at]++] = side;
    count_windings();
}

/// Along the line through the middles of a row, from the left, where nothing is.
void SideGrid::count_windings() {
    windings_.assign(first_.size() - 1, Windings{});
    for (const Side& side : sides_) {
        const auto [low, high] = std::minmax(side.start.y(), side.end.y());
        const int last = row(high);
        for (int k = row(low); k <= last; ++k) {
            const double y = middle(0, k).y();
            if (!crosses(side.start, side.end, 1, y)) continue;
            // Left of the crossing it counts not, right of it the side lies behind: the first
            // middle to its right.
            const double x = crossing(side.start, side.end, 1, y);
            int first = column(x);
            if (!(x <= middle(first, k).x())) ++first;
            if (first == columns_) continue;
            // To the left of a side that goes up the winding number is higher.
            windings_[cell(first, k)][static_cast<std::size_t>(side.set)] +=
                side.end.y() > side.start.y() ? -side.weight : side.weight;
        }
    }
    for (int k = 0; k < rows_; ++k)
        for (int i = 1; i < columns_; ++i)
            for (std::size_t set = 0; set < Windings().size(); ++set)
                windings_[cell(i, k)][set] += windings_[cell(i - 1, k)][set];
}

Windings SideGrid::windings(const Point2& place) const {
    if (sides_.empty() || (place.array() < low_.array()).any() ||
        (place.array() > high_.array()).any())
        return {};
    const int i = column(place.x()), k = row(place.y());
    const std::size_t at = cell(i, k);
    const Point2 from = middle(i, k);
    const Vector2 way = place - from;
    Windings windings = windings_[at];
    for (std::uint32_t entry = first_[at]; entry < first_[at + 1]; ++entry) {
        const Side& side = sides_[in_cells_[entry]];
        // Straight from the middle to the place: sides whose line runs through the place, but which
        // end before it, are not in the way, however the place is rounded.
        const Vector2 to_start = side.start - from, to_end = side.end - from;
        if ((cross(way, to_start) > 0.0) == (cross(way, to_end) > 0.0)) continue;
        const Vector2 along = side.end - side.start;
        const bool is_left = cross(along, place - side.start) > 0.0;
        if (is_left == (cross(along, from - side.start) > 0.0)) continue;
        windings[static_cast<std::size_t>(side.set)] += is_left ? side.weight : -side.weight;
    }
    return windings;
}

double SideGrid::distance(const Point2& place, double enough, int first, int last) const {
    double nearest = std::numeric_limits<double>::infinity();
    if (sides_.empty()) return nearest;
    const auto look = [&](int column, int row) {
        if (column < 0 || row < 0 || column >= columns_ || row >= rows_) return;
        const std::size_t at = cell(column, row);
        for (std::uint32_t e = first_[at]; e < first_[at + 1] && nearest > enough; ++e) {
            const Side& side = sides_[in_cells_[e]];
            if (side.set >= first && side.set <= last)
                nearest = std::min(nearest, distance_from_side(place, side.start, side.end));
        }
    };
    // Ring by ring of cells away from the place.
    const int i = column(place.x()), k = row(place.y()), most = std::max(columns_, rows_);
    for (int ring = 0; ring < most && nearest > enough; ++ring) {
        if ((ring - 1) * size_.minCoeff() > nearest) break;
        for (int step = -ring; step <= ring; ++step) {
            look(i + step, k - ring);
            if (ring > 0) look(i + step, k + ring);
        }
        for (int step = 1 - ring; step <= ring - 1; ++step) {
            look(i - ring, k + step);
            look(i + ring, k + step);
        }
    }
    return nearest;
}

}  // namespace planform::proof
