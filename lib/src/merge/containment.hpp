#pragma once

/// Does one outline lie within another?

#include <vector>

#include "merge/operands.hpp"
#include "planform/profile.hpp"

namespace planform::merge {

/// Adds a profile to an operand, but of its holes only those that reach into `box`: the material in
/// the box is the same, and a plate with many holes costs no more than is looked at.
void add_near(Operands& operands, const Profile& profile, int operand, const Box2& box);

/// True if what a contour encloses lies within what another encloses, as far as the grid tells;
/// contours that touch or are the same count as within.
bool lies_within(const Contour& inner, const Contour& outer, double tolerance);

/// The hole of `around` in which a contour lies: an index, -1 if in none.
int hole_around(const Contour& inner, const Profile& around, double tolerance);

/// By profile: the index of the one in whose hole it lies, the smallest such hole if there are
/// several; -1 for none.
std::vector<int> parents_of(const std::vector<Profile>& profiles, double tolerance);

}  // namespace planform::merge
