#pragma once

/// All contours on a sheet that are cut through: how far things keep from them, what lies in what.

#include <memory>
#include <optional>
#include <vector>

#include "grid/box_grid.hpp"
#include "grid/box_tree.hpp"
#include "offset/separation.hpp"
#include "plan/curve_distance.hpp"
#include "planform/plan.hpp"

namespace planform::planning {

/// A contour of a piece where it lies. Points into the pieces, which have to outlive it.
struct SheetContour {
    const Contour* contour;
    int piece;
    int profile;
    int number;  ///< 0 the outer contour, n hole n - 1
    CutRole role;
    Box2 box;
};

/// The contours of the profiles of all pieces, in order: piece by piece, profile by profile, holes
/// first.
std::vector<SheetContour> contours_of(const std::vector<PlacedPiece>& pieces);

class SheetField {
  public:
    /// Throws GeometryError for curves that can't be planned.
    explicit SheetField(std::vector<SheetContour> contours);

    const std::vector<SheetContour>& contours() const { return contours_; }

    /// Which contours count for a distance.
    struct Among {
        int all_but = -1;
        int only = -1;
    };

    /// The least distance between a line or arc and the contours, if it is below `within`, else
    /// `within`; looks no further once it is known to be at most `enough`.
    double distance(const Curve& probe, double within, Among among, double enough = 0.0) const;
    double distance(const Curve& probe, double within) const {
        return distance(probe, within, Among());
    }
    /// The same of a point.
    double distance(const Point2& point, double within) const {
        return distance(point, within, Among());
    }
    double distance(const Point2& point, double within, Among among) const;

    /// Does the point lie in no piece? It must lie on no contour.
    bool is_waste(const Point2& point) const;

    /// Does the contour go round the point? It must not lie on it.
    bool is_inside(int contour, const Point2& point) const {
        return loops_.winding(contour, point) != 0;
    }

    /// By contour: the one directly around it, -1 if there is none.
    std::vector<int> around_each() const;

    /// Pairs of contours of different pieces, the first less, that come within `gap` mm.
    std::vector<std::pair<int, int>> meeting(double gap) const;

  private:
    struct Located {
        Atom atom;
        int contour;
    };
    template <class Visit>
    void for_each_near(const Box2& box, Visit&& visit) const {
        if (tree_) tree_->for_each_overlap((*grid_)(box), visit);
    }

    std::vector<SheetContour> contours_;
    std::vector<Located> atoms_;
    std::optional<grid::BoxGrid> grid_;
    std::optional<grid::BoxTree> tree_;
    offset_detail::LoopField loops_;
};

}  // namespace planform::planning
