#pragma once

/// Which of two sides the top, front or right view of a part's own frame shows, and which way round
/// (side_up.hpp has the rule as a whole). The three views are those of ISO 5456-2 (from memory).

#include <optional>
#include <string_view>

#include "planform/datum.hpp"
#include "planform/geometry.hpp"

namespace planform {

/// Views of a part's own frame: from the tip of +z, -y and +x.
enum class PartView { top, front, right };

/// "top", "front", "right".
std::string_view word_for(PartView view);

/// Which of the three views shows a side with this outward normal (any length above 0): that of
/// the first of +z, -y, +x along which the normal has a component. None for the side opposite a
/// side that is shown: of two opposite sides always exactly one is. Components below 1e-4 of the
/// length count as 0: directions in files are rounded. Throws GeometryError for a normal that is
/// zero or not finite.
std::optional<PartView> view_that_shows(const Vector3& outward);

/// The datum through a point of the model from whose normal's tip `up` (model coordinates) a part
/// is seen: x is the projection of the part's x axis, of its y axis where the two leave less than
/// 1e-4 of it. `part` carries the part's own frame to the model. Throws GeometryError for a normal
/// that is zero or not finite.
Datum seen_from(const Vector3& up, const Transform3& part, const Point3& through);

}  // namespace planform
