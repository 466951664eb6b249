#pragma once

/// Which piece of the outlines is near to a place.

#include <optional>
#include <vector>

#include "offset/atoms.hpp"
#include "offset/integer_frame.hpp"

namespace planform::offset_detail {

/// Atoms, to be asked by place: long straight ones lie in several boxes, so that a place among
/// slanted ones has few to ask.
class NearAtoms {
  public:
    /// The atoms must outlive this.
    explicit NearAtoms(const std::vector<Atom>& atoms);

    /// The atom whose chord is nearest to a point, of those nearer than `radius` mm; else -1.
    int nearest(const Point2& point, double radius) const;
    /// Is some point of an atom within `radius` mm of each point of the convex hull of these?
    bool is_all_within(const std::vector<Point2>& points, double radius, int atom) const;

  private:
    const std::vector<Atom>& atoms_;
    std::vector<int> owners_;  ///< by box: its atom
    std::optional<IntegerFrame> frame_;
    std::optional<grid::BoxTree> tree_;
};

}  // namespace planform::offset_detail
