#pragma once

/// Polygons on a grid of cells: every cell that a polygon touches.

#include <cstdint>
#include <vector>

#include "planform/layout.hpp"

namespace planform::layout {

/// Cells first to last of a column, both included.
struct CellSpan {
    int first;
    int last;
};

/// What a polygon covers, by column (x), from that of its left end on.
struct Coverage {
    int column = 0;  ///< of the first entry
    std::vector<std::vector<CellSpan>> columns;
    int lowest = 0;   ///< row, over all columns
    int highest = 0;  ///< row
};

/// What is asked for.
enum class Cover {
    touched,  ///< all cells that the polygon's material touches
    edges,    ///< those that its edges touch
    middles,  ///< those that it covers on the middle lines of columns
};

/// The cells of a polygon. `origin` is the corner of cell (0, 0).
Coverage coverage(const Rings& rings, const Point2& origin, double cell,
                  Cover cover = Cover::touched);

/// Columns of bits, each from row 0 up.
class BitColumns {
  public:
    BitColumns(int columns, int rows);

    int columns() const { return columns_; }
    int rows() const { return rows_; }
    int words() const { return words_; }
    const std::uint64_t* column(int i) const { return bits_.data() + std::size_t(i) * words_; }
    std::uint64_t* column(int i) { return bits_.data() + std::size_t(i) * words_; }
    /// Sets (or clears) rows first to last of a column, as far as there are.
    void set(int column, int first, int last, bool value = true);

  private:
    int columns_, rows_, words_;
    std::vector<std::uint64_t> bits_;
};

/// target |= OR of source shifted down by first, ..., last rows: bit j is set if any of bits j +
/// first to j + last of source is. `scratch` has as many words.
void or_shifted_down(const std::uint64_t* source, int words, int first, int last,
                     std::uint64_t* scratch, std::uint64_t* target);

}  // namespace planform::layout
