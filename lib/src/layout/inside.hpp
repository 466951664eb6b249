#pragma once

/// Does a point lie in the material of a set? For points that keep a distance from its contours.

#include "planform/profile.hpp"

namespace planform::layout {

/// How often a contour turns about a point that is at least `distance` mm (above 0) away from it.
int winding(const Contour& contour, const Point2& point, double distance);

/// Is there material at a point that is at least `distance` mm away from all contours?
bool is_material(const Profile& profile, const Point2& point, double distance);
bool is_material(const ProfileSet& set, const Point2& point, double distance);

}  // namespace planform::layout
