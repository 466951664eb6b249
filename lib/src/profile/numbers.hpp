#pragma once

/// The numbers that say what a profile set is, whatever the order of its profiles, the starts of
/// its contours and the splitting of its lines and arcs.

#include <cstdint>
#include <vector>

#include "planform/profile.hpp"

namespace planform::detail {

/// What a curve is.
enum class CurveTag : std::int64_t {
    line = 1,
    arc = 2,
    ellipse = 3,
    spline = 4,
    circle = 5,
    full_ellipse = 6,
    end = 7,    ///< of an open mark: its last point
    depth = 8,  ///< of a mark: the middle of its box, then the depth
};

/// One curve, of as few and as well-conditioned numbers as tell it from others of its kind. They
/// begin with its start (of a whole circle or ellipse: the centre), so that curves of one contour
/// need no ends.
struct CurveNumbers {
    CurveTag tag;
    int degree = 0;  ///< of a spline
    int poles = 0;
    std::vector<double> lengths;  ///< mm, all of them: knots are shares of the poles' polygon

    Point2 start() const { return {lengths[0], lengths[1]}; }
};

/// Neighbours on one line, circle or ellipse made one; a curve that is a simpler one taken as that.
using ContourNumbers = std::vector<CurveNumbers>;

struct ProfileNumbers {
    ContourNumbers outer;
    std::vector<ContourNumbers> holes;
};

struct SetNumbers {
    std::vector<ProfileNumbers> profiles;
    /// Closed ones counter-clockwise: a mark has no inside; open ones from the end that comes first
    /// in a direction of no importance.
    std::vector<ContourNumbers> marks;
    double size = 0.0;  ///< diagonal of the bounds, mm
};

/// Distance in mm within which two curves lie on one line or circle: far above the rounding of
/// coordinates, far below what a cut shows.
inline constexpr double same_support = 1e-8;

/// `support`: as same_support.
SetNumbers numbers_of(const ProfileSet& set, double support = same_support);

/// The contour's curves, each as its simplest kind and with neighbours merged, round the start too.
std::vector<Curve> merged_curves(const Contour& contour, double support = same_support);
/// Those of a mark; not round the start of an open one.
std::vector<Curve> merged_curves(const Mark& mark, double support = same_support);

/// A full turn but for rounding: less than same_support of the way round is missing.
bool is_full_turn(double radius, double sweep);

}  // namespace planform::detail
