#pragma once

/// Outlines moved, turned, mirrored and scaled in their plane, and in simpler curves. Marks, names,
/// notes, provenance and data follow; the datum stays. Lengths are millimetres, angles radians.

#include "planform/profile.hpp"

namespace planform {

ProfileSet moved(const ProfileSet& set, const Vector2& by);
/// Turned counter-clockwise.
ProfileSet rotated(const ProfileSet& set, double angle, const Point2& about = Point2::Zero());
/// The mirror image in the line through two points: what is cut from it fits the other hand. Bends
/// keep their direction: the solid is mirrored with its outline. Throws GeometryError if the points
/// are one.
ProfileSet mirrored(const ProfileSet& set, const Point2& first, const Point2& second);
/// All lengths times `factor`, finite and above 0: depths of marks, the tolerance and the
/// deviations of the proof, too. Throws GeometryError for another factor.
ProfileSet scaled(const ProfileSet& set, double factor, const Point2& about = Point2::Zero());

/// The curves that machines and programs take.
enum class SimpleCurves {
    arcs,   ///< lines and circular arcs, with continuous tangent where the curve has one
    lines,  ///< chords
};

/// The set with its curves within `tolerance` (mm) of what they were, as lines and arcs, or as
/// lines; curves that are that already stay as they are. The set's tolerance grows by it. Throws
/// GeometryError for a tolerance that is not positive and finite or more than a hundredth of the
/// extent, and, with the place, if contours of one profile that all but touch would cross. What was
/// proven of the set was of its own curves: it does not come along.
ProfileSet with_curves(const ProfileSet& set, SimpleCurves curves, double tolerance);

}  // namespace planform
