#include "plan/start_grid.hpp"

#include <algorithm>
#include <cmath>

namespace planform::planning {
namespace {

/// Stops a cell on average.
constexpr double per_cell = 2.0;

}  // namespace

StartGrid::StartGrid(const std::vector<Stop>& stops) : stops_(stops), low_(Point2::Zero()) {
    Box2 box;
    for (const Stop& stop : stops) box.extend(stop.start);
    if (!box.isEmpty()) {
        low_ = box.min();
        const double count = std::max(1.0, static_cast<double>(stops.size()) / per_cell);
        const Vector2 extent = box.sizes().cwiseMax(1e-6);
        // Square cells, but no more of them along a side than there are stops.
        size_ = std::max(std::sqrt(extent.x() * extent.y() / count), extent.maxCoeff() / count);
        columns_ = static_cast<int>(extent.x() / size_) + 1;
        rows_ = static_cast<int>(extent.y() / size_) + 1;
    }
    cells_.resize(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_));
    for (int s = 0; s < static_cast<int>(stops.size()); ++s) restore(s);
}

StartGrid::Cell StartGrid::cell_of(const Point2& point) const {
    const Vector2 place = (point - low_) / size_;
    const auto limited = [](double value, int count) {
        return static_cast<int>(std::clamp(std::floor(value), 0.0, count - 1.0));
    };
    return {limited(place.x(), columns_), limited(place.y(), rows_)};
}

std::vector<int>& StartGrid::stops_in(const Cell& cell) {
    return cells_[static_cast<std::size_t>(cell.row) * static_cast<std::size_t>(columns_) +
                  static_cast<std::size_t>(cell.column)];
}

const std::vector<int>& StartGrid::stops_in(const Cell& cell) const {
    return cells_[static_cast<std::size_t>(cell.row) * static_cast<std::size_t>(columns_) +
                  static_cast<std::size_t>(cell.column)];
}

void StartGrid::remove(int stop) {
    std::erase(stops_in(cell_of(stops_[static_cast<std::size_t>(stop)].start)), stop);
}

void StartGrid::restore(int stop) {
    stops_in(cell_of(stops_[static_cast<std::size_t>(stop)].start)).push_back(stop);
}

std::vector<int> StartGrid::nearest(const Point2& point, int count) const {
    const Cell center = cell_of(point);
    std::vector<std::pair<double, int>> found;
    const int last_ring = std::max(columns_, rows_);
    for (int ring = 0; ring <= last_ring; ++ring) {
        for (int row = center.row - ring; row <= center.row + ring; ++row) {
            if (row < 0 || row >= rows_) continue;
            const bool is_edge = row == center.row - ring || row == center.row + ring;
            const int step = is_edge || ring == 0 ? 1 : 2 * ring;
            for (int column = center.column - ring; column <= center.column + ring;
                 column += step) {
                if (column < 0 || column >= columns_) continue;
                for (const int s : stops_in({column, row}))
                    found.emplace_back((stops_[static_cast<std::size_t>(s)].start - point).norm(),
                                       s);
            }
        }
        if (static_cast<int>(found.size()) < count) continue;
        const auto last = found.begin() + (count - 1);
        std::nth_element(found.begin(), last, found.end());
        // From the border of the cells looked at; a point outside of the grid is nearer to none.
        const Point2 low = low_ + size_ * Vector2(center.column - ring, center.row - ring);
        const Point2 high = low + Vector2::Constant(size_ * (2.0 * ring + 1.0));
        const double border = std::min((point - low).minCoeff(), (high - point).minCoeff());
        if (last->first <= border) break;
    }
    const auto kept = std::min(static_cast<std::size_t>(count), found.size());
    std::partial_sort(found.begin(), found.begin() + static_cast<std::ptrdiff_t>(kept),
                      found.end());
    std::vector<int> stops;
    for (std::size_t i = 0; i < kept; ++i) stops.push_back(found[i].second);
    return stops;
}

}  // namespace planform::planning
