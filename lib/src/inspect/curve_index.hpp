#pragma once

/// All curves of a profile set, numbered through, with a search tree over their chords.

#include <optional>
#include <vector>

#include "grid/box_grid.hpp"
#include "grid/box_tree.hpp"
#include "planform/profile.hpp"

namespace planform::inspection {

/// One curve of one contour.
struct OutlineCurve {
    const Curve* curve;
    int profile;
    int contour;   ///< 0 the outer one, then the holes
    int previous;  ///< number of the curve before it in the contour
    int next;
    int round;  ///< number of the round that it belongs to, -1 if none
};

/// A contour that is one circle.
struct Round {
    Point2 center;
    double radius;
    int profile;
    int contour;
    int first_curve;
    int curve_count;

    bool is_hole() const { return contour > 0; }
};

/// What the tree holds: one chord of a curve, or one round as a whole.
struct Stretch {
    int curve;  ///< -1 for a round
    double from, to;
    Point2 start, end;
    int round;  ///< -1 for a chord
};

Point2 nearest_on_segment(const Point2& point, const Point2& start, const Point2& end);
double distance_to_segment(const Point2& point, const Point2& start, const Point2& end);

/// Keeps pointers into the profile set, which has to outlive it.
class CurveIndex {
  public:
    /// Chords stray no more than `chord_error` mm from their curves.
    CurveIndex(const ProfileSet& profiles, double chord_error);

    const std::vector<OutlineCurve>& curves() const { return curves_; }
    const std::vector<Round>& rounds() const { return rounds_; }
    const std::vector<Stretch>& stretches() const { return stretches_; }
    double chord_error() const { return chord_error_; }
    const Box2& bounds() const { return bounds_; }

    /// Calls visit(number of stretch) for all whose box meets the given one.
    template <typename Visit>
    void for_each_near(const Box2& box, Visit&& visit) const {
        tree_->for_each_overlap((*grid_)(box), visit);
    }
    /// True if found(number of stretch) is for one whose box meets the given one.
    template <typename Found>
    bool any_near(const Box2& box, Found&& found) const {
        return tree_->any_overlap((*grid_)(box), found);
    }

    /// True if no point of any curve is nearer to `center` than radius - slack. Exact curves.
    bool disc_is_empty(const Point2& center, double radius, double slack) const;

    /// True if going from a point of curve `curve` at parameter `t` in `direction` leads into
    /// material. At a corner both curves that meet there count.
    bool leads_into_material(int curve, double t, const Vector2& direction) const;

  private:
    void add(const Contour& contour, int profile, int number);
    void add_chords(int curve);

    double chord_error_;
    std::vector<OutlineCurve> curves_;
    std::vector<Round> rounds_;
    std::vector<Stretch> stretches_;
    Box2 bounds_;
    std::optional<grid::BoxGrid> grid_;
    std::optional<grid::BoxTree> tree_;
};

}  // namespace planform::inspection
