#include "query/cells.hpp"

#include <algorithm>
#include <cmath>

namespace planform::query {

namespace {

constexpr double cells_an_edge = 16.0;
constexpr double fewest_cells = 1024.0;
constexpr double most_cells = 1 << 20;
/// Where in its cell a mark lies: off the middle, as edges like to run through the middles of
/// things.
constexpr double mark_x = 0.4871823;
constexpr double mark_y = 0.5173407;

/// What an edge adds to the winding number on the way to `from` from `to`, on a level with it.
int turns_across(const Edge& edge, const Point2& from, const Point2& to) {
    if ((edge.start.y() <= from.y()) == (edge.end.y() <= from.y())) return 0;
    return static_cast<int>(is_left(edge, from)) - static_cast<int>(is_left(edge, to));
}

/// The same where `to` lies above or below `from`.
int turns_up(const Edge& edge, const Point2& from, const Point2& to) {
    if ((edge.start.x() <= from.x()) == (edge.end.x() <= from.x())) return 0;
    return static_cast<int>(is_left(edge, from)) - static_cast<int>(is_left(edge, to));
}

}  // namespace

Cells::Cells(const Pieces& pieces) {
    if (pieces.edges.empty()) return;
    lay_out(pieces);
    list_edges(pieces);
    wind_marks(pieces);
}

void Cells::lay_out(const Pieces& pieces) {
    for (const Edge& edge : pieces.edges) {
        const Vector2 margin = Vector2::Constant(edge.height + edge.slack);
        bounds_.extend(
            Box2(edge.start.cwiseMin(edge.end) - margin, edge.start.cwiseMax(edge.end) + margin));
    }
    const double count = std::clamp(cells_an_edge * static_cast<double>(pieces.edges.size()),
                                    fewest_cells, most_cells);
    const Vector2 extent = bounds_.sizes().cwiseMax(1e-6 * bounds_.sizes().maxCoeff());
    const double across = std::clamp(std::sqrt(count * extent.x() / extent.y()), 1.0, count);
    columns_ = std::max(1, static_cast<int>(across));
    rows_ = std::max(1, static_cast<int>(count / columns_));
    size_ = Vector2(extent.x() / columns_, extent.y() / rows_);
    winding_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_), 0);
}

Point2 Cells::mark(int column, int row) const {
    return bounds_.min() + Vector2((column + mark_x) * size_.x(), (row + mark_y) * size_.y());
}

int Cells::column_of(double x) const {
    return std::clamp(static_cast<int>((x - bounds_.min().x()) / size_.x()), 0, columns_ - 1);
}

int Cells::row_of(double y) const {
    return std::clamp(static_cast<int>((y - bounds_.min().y()) / size_.y()), 0, rows_ - 1);
}

template <class Visit>
void Cells::for_each_cell(const Edge& edge, Visit&& visit) const {
    // A hair more than the piece reaches, for the rounding of rows and columns.
    const double reach = edge.height + edge.slack + 1e-9 * size_.minCoeff();
    const bool rises = edge.end.y() >= edge.start.y();
    const Point2 &low = rises ? edge.start : edge.end, &high = rises ? edge.end : edge.start;
    const double climb = high.y() - low.y();
    const int first_row = row_of(low.y() - reach), last_row = row_of(high.y() + reach);
    for (int row = first_row; row <= last_row; ++row) {
        const double bottom = bounds_.min().y() + row * size_.y() - reach;
        const double top = bottom + size_.y() + 2.0 * reach;
        const auto x_at = [&](double y) {
            const double share = climb > 0.0 ? std::clamp((y - low.y()) / climb, 0.0, 1.0) : 0.0;
            return low.x() + share * (high.x() - low.x());
        };
        double from = x_at(bottom), to = x_at(top);
        if (climb <= 0.0) to = high.x();
        if (from > to) std::swap(from, to);
        const int last_column = column_of(to + reach);
        for (int column = column_of(from - reach); column <= last_column; ++column)
            visit(column, row);
    }
}

void Cells::list_edges(const Pieces& pieces) {
    first_.assign(winding_.size() + 1, 0);
    for (const Edge& edge : pieces.edges)
        for_each_cell(edge, [&](int column, int row) { ++first_[cell(column, row) + 1]; });
    for (std::size_t i = 1; i < first_.size(); ++i) first_[i] += first_[i - 1];
    listed_.resize(first_.back());
    std::vector<std::uint32_t> next(first_.begin(), first_.end() - 1);
    for (std::size_t i = 0; i < pieces.edges.size(); ++i)
        for_each_cell(pieces.edges[i], [&](int column, int row) {
            listed_[next[cell(column, row)]++] = static_cast<std::uint32_t>(i);
        });
}

void Cells::wind_marks(const Pieces& pieces) {
    // Row by row: an edge that passes the level of a row's marks turns about those on its left.
    for (const Edge& edge : pieces.edges) {
        const double low = std::min(edge.start.y(), edge.end.y());
        const double high = std::max(edge.start.y(), edge.end.y());
        const bool rises = edge.end.y() > edge.start.y();
        for (int row = row_of(low); row <= row_of(high); ++row) {
            const Point2 level = mark(0, row);
            if ((edge.start.y() <= level.y()) == (edge.end.y() <= level.y())) continue;
            const double share = (level.y() - edge.start.y()) / (edge.end.y() - edge.start.y());
            const double x = edge.start.x() + share * (edge.end.x() - edge.start.x());
            int last = column_of(x);
            // The marks to the left of the edge: those of columns up to `last`.
            while (last >= 0 && is_left(edge, mark(last, row)) != rises) --last;
            while (last + 1 < columns_ && is_left(edge, mark(last + 1, row)) == rises) ++last;
            if (last < 0) continue;
            const int turn = rises ? 1 : -1;
            winding_[cell(0, row)] += turn;
            if (last + 1 < columns_) winding_[cell(last + 1, row)] -= turn;
        }
    }
    for (int row = 0; row < rows_; ++row)
        for (int column = 1; column < columns_; ++column)
            winding_[cell(column, row)] += winding_[cell(column - 1, row)];
}

bool Cells::contains(const Point2& point, const Pieces& pieces) const {
    if (columns_ == 0 || !bounds_.contains(point)) return false;
    const int column = column_of(point.x()), row = row_of(point.y());
    const std::size_t here = cell(column, row);
    const std::uint32_t first = first_[here], last = first_[here + 1];
    int winding = winding_[here];
    if (first == last) return winding > 0;
    const Point2 target = mark(column, row);
    const Point2 corner(target.x(), point.y());
    for (std::uint32_t i = first; i < last; ++i) {
        const Edge& edge = pieces.edges[listed_[i]];
        winding += turns_across(edge, point, corner) + turns_up(edge, corner, target);
        const Lie lie = lie_of(point, edge, pieces);
        if (lie.on_curve) return true;
        winding += lie.turns;
    }
    return winding > 0;
}

}  // namespace planform::query
