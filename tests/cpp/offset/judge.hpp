#pragma once

/// The judge of offsets: nearest points on the exact curves of the set that went in.

#include <string>
#include <vector>

#include "planform/profile.hpp"

namespace judge {

/// The nearest place of a set's outlines.
struct Foot {
    double distance;
    bool on_exact;  ///< on a line or an arc
    planform::Point2 point;
};

/// All curves of a set, for distances and for being inside.
class Outlines {
  public:
    explicit Outlines(const planform::ProfileSet& set);

    /// mm to the nearest point of any curve.
    double distance(const planform::Point2& point) const { return foot(point).distance; }
    Foot foot(const planform::Point2& point) const;
    /// Winding number of the contours, from their chords within `chord` mm.
    int winding(const planform::Point2& point) const;
    /// Is some ellipse or spline within `near` mm of being `wanted` mm away?
    bool has_fitted_at(const planform::Point2& point, double wanted, double near) const;
    const planform::Box2& box() const { return box_; }

    static constexpr double chord = 1e-5;

  private:
    struct Known {
        planform::Curve curve;
        planform::Box2 box;
    };
    struct Polyline {
        std::vector<planform::Point2> points;
        planform::Box2 box;
    };

    void fill_cells();
    int column(const planform::Point2& point, int axis) const;

    std::vector<Known> curves_;
    std::vector<Polyline> polylines_;
    planform::Box2 box_;
    int side_ = 0;  ///< cells a side of the square that holds the box
    double width_ = 0.0;
    std::vector<std::vector<std::size_t>> cells_;  ///< curves whose boxes reach into them
};

/// What the judge found.
struct Verdict {
    double worst_exact = 0.0;  ///< mm by which lines and arcs of the result are off the distance
    /// The same of their ends: what is too short for the grid is left out there, and its
    /// neighbours are led on to meet.
    double worst_corner = 0.0;
    double worst_fitted = 0.0;                          ///< mm by which splines and ellipses are
    int samples = 0;                                    ///< points of the result that were measured
    int grid = 0;                                       ///< points of the grid that were decided
    int wrong = 0;                                      ///< of those, on the wrong side
    planform::Point2 where = planform::Point2::Zero();  ///< of the worst, or of a wrong one
    planform::Point2 where_exact = planform::Point2::Zero();  ///< of the worst of lines and arcs
};

/// Measures `result` as the offset of `set` with round corners.
Verdict examine(const planform::ProfileSet& set, double distance,
                const planform::ProfileSet& result, int per_curve, int grid);

/// The set as C++ to paste, for a failure's message.
std::string as_code(const planform::ProfileSet& set);

}  // namespace judge
