#pragma once

/// Questions about places and shape: what holds a point, how far it is from the outline, centroid,
/// moments, hull. On the exact curves; lengths are millimetres.

#include <array>
#include <memory>

#include "planform/profile.hpp"

namespace planform {

/// The place of an outline that is nearest to a point. Without an outline the distance is infinite
/// and the point not a number.
struct NearestPlace {
    double distance = 0.0;  ///< mm
    Point2 point = Point2::Zero();
    int profile = -1;        ///< index in the set; -1 without an outline
    int contour = -1;        ///< 0 the outer contour, n hole n - 1
    int curve = -1;          ///< index in the contour
    double parameter = 0.0;  ///< of the curve there
};

/// The contours of a profile set made ready for questions about many places. Marks don't count.
/// Cheap to copy, immutable, safe from several threads; keeps the set. Built in O(n log
/// n) for n curves; a question costs O(log n) on outlines whose curves are spread out.
///
/// Points have to be finite. Places are exact to rounding: 1e-14 of the coordinates and radii,
/// 1e-12 on ellipses and splines. Of a spline that turns back on the spot, which no outline of a
/// solid has, chords stand in for the curve, within a thousandth of the set's tolerance.
class OutlineIndex {
  public:
    explicit OutlineIndex(const ProfileSet& set);

    const ProfileSet& profile_set() const;

    /// Is there material at the point? The outline itself belongs to it, within rounding.
    bool contains(const Point2& point) const;
    /// Distance to the nearest contour, mm, inside or outside; infinite without one.
    double distance(const Point2& point) const;
    /// The nearest place of all contours; of several, any.
    NearestPlace nearest(const Point2& point) const;

  private:
    struct Data;
    std::shared_ptr<const Data> data_;
};

/// Area, centroid and second moments of the profiles, holes taken off. Overlaps count as often as
/// they are covered.
struct AreaMoments {
    double area = 0.0;                 ///< mm^2
    Point2 centroid = Point2::Zero();  ///< mm; not a number without area
    Eigen::Matrix2d second = Eigen::Matrix2d::Zero();
    ///< mm^4, about the centroid: the integrals of x x, x y, y x, y y over the area
};

/// By Green's theorem on the exact curves: in closed form for lines (C. Steger, "On the calculation
/// of moments of polygons", Technische Universitaet Muenchen, report FGBV-96-04, 1996), by
/// quadrature that is exact to rounding for arcs and polynomial splines, to 1e-12 relative for
/// rational ones.
AreaMoments area_moments(const ProfileSet& set);

/// The smallest convex outline that holds all profiles, one profile, its curves those of the
/// outline where it is convex; within the set's tolerance. Same datum, tolerance and name, no
/// marks; empty for an empty set.
ProfileSet convex_hull(const ProfileSet& set);

/// The corners of the smallest rectangle around all profiles, counter-clockwise, the longer side
/// first; within the set's tolerance. Not a number for an empty set. One of its sides lies along an
/// edge of the hull (H. Freeman, R. Shapira, "Determining the minimum-area encasing rectangle for
/// an arbitrary closed curve", Comm. ACM 18, 1975).
std::array<Point2, 4> smallest_rectangle(const ProfileSet& set);

}  // namespace planform
