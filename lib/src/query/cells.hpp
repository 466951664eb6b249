#pragma once

/// Cells over the outline that know whether they hold material, or which edges run through them.

#include <cstdint>
#include <vector>

#include "query/pieces.hpp"

namespace planform::query {

/// Each cell knows the winding number of the polygon of all edges at a place of its own, its mark.
/// That of a point is the mark's and what the edges of the cell add on the way from there: across,
/// then up. A cell without edges is inside or outside as a whole.
class Cells {
  public:
    explicit Cells(const Pieces& pieces);

    bool contains(const Point2& point, const Pieces& pieces) const;

  private:
    void lay_out(const Pieces& pieces);
    void list_edges(const Pieces& pieces);
    void wind_marks(const Pieces& pieces);
    Point2 mark(int column, int row) const;
    int column_of(double x) const;
    int row_of(double y) const;
    std::size_t cell(int column, int row) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
               static_cast<std::size_t>(column);
    }
    /// Calls visit(column, row) for the cells that an edge with its piece may reach.
    template <class Visit>
    void for_each_cell(const Edge& edge, Visit&& visit) const;

    Box2 bounds_;
    int columns_ = 0;
    int rows_ = 0;
    Vector2 size_ = Vector2::Zero();     ///< of a cell
    std::vector<std::int32_t> winding_;  ///< one a cell
    std::vector<std::uint32_t> first_;   ///< one a cell and one more: its edges in `listed_`
    std::vector<std::uint32_t> listed_;
};

}  // namespace planform::query
