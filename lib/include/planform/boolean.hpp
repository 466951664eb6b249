#pragma once

/// Booleans of profile sets on the exact curves: lines stay lines, arcs arcs, splines splines, and
/// corners are the true intersections.
///
/// What is material: a point is in a set where the contours of its profiles, holes included, turn
/// around it more often counter-clockwise than clockwise; profiles that overlap count once. The
/// result is closed, oriented and free of self-crossing; profiles that meet in a point only stay
/// two. It does not depend on the order of profiles. Edges that two profiles share leave no line.
///
/// Where the operands lie: the result is on the datum of the first. A second datum that is parallel
/// and faces the same way is allowed, and its outlines are moved to where they lie in the model,
/// seen along the normal; ProfileSet::with_datum compares by coordinates instead.
///
/// Tolerance: the larger of the operands'. Curves that run within a thousandth of it of each other
/// are one (see the table of resolution in DEVELOPERS.md).
///
/// Names: a profile has the name of the profiles that its outer contour comes from, if they agree,
/// those of the first operand before those of the second. So what stays loose in a letter cut
/// through a plate has the letter's name.
///
/// Marks are scored, not material: they are taken as a set of contours, of which equal ones are
/// one.
///
/// All throw GeometryError: invalid_argument for datums that are not parallel or face each other,
/// contour_not_closed with the place for outlines that can't be told apart.

#include <span>

#include "planform/profile.hpp"

namespace planform {

/// Material of either (in Python: |, union).
ProfileSet united(const ProfileSet& first, const ProfileSet& second);
/// Material of both (&, intersection).
ProfileSet intersection(const ProfileSet& first, const ProfileSet& second);
/// Material of the first without that of the second (-, difference).
ProfileSet difference(const ProfileSet& first, const ProfileSet& second);
/// Material of one only: how a changed outline differs from the old one (^, symmetric_difference).
ProfileSet symmetric_difference(const ProfileSet& first, const ProfileSet& second);

/// Material of any of the sets, in one step; the same bytes whatever their order, but for names and
/// notes. No sets: an empty set. One set: its own profiles united.
ProfileSet united(std::span<const ProfileSet> sets);

/// The profiles of all sets side by side, each under its own name or, without one, that of its set;
/// the same bytes whatever their order, but for notes. A profile that lies on the material of
/// another set's (on top of it, in a pocket, or twice the same) becomes marks under its name, an
/// outer contour and its holes each: raised or sunk text on a plate. Of two that lie on each other
/// the first by name is cut. A profile that lies on others in part only stays whole, and a note
/// says so. A profile in a hole of another is an island with that one as parent, at any depth.
ProfileSet kept_apart(std::span<const ProfileSet> sets);

}  // namespace planform
