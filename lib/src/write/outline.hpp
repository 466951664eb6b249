#pragma once

/// What the writers share: contours with their roles, and curves cut to what a format can hold.

#include <optional>
#include <string_view>
#include <vector>

#include "planform/profile.hpp"

namespace planform::write {

enum class Role { mark, inner, outer };

/// A contour or open mark of a profile set and what the machine does with it. Points into the
/// profile set.
struct Task {
    Role role;
    const std::vector<Curve>* curves;
    const Contour* contour;  ///< null for an open mark
    std::string_view name;   ///< of the profile or mark
    double depth = 0.0;      ///< of a mark, mm

    bool is_closed() const { return contour != nullptr; }
};

/// All contours in an order in which nothing is cut loose before what lies on it has been made:
/// marks, then islands before the profiles around them, and holes before the outer contour.
std::vector<Task> tasks_of(const ProfileSet& profiles);

/// The circle that the contour is, direction and all.
std::optional<Arc> circle_of(const Task& task);

/// Appends the arc in equal pieces of at most `largest_sweep` radians each.
template <class ArcKind>
void append_pieces(std::vector<Curve>& pieces, const ArcKind& arc, double largest_sweep);

/// The curve as lines and circular arcs only, within `tolerance` (mm).
std::vector<Curve> lines_and_arcs(const Curve& curve, double tolerance);

/// True for a line without length: it adds nothing to a drawing.
bool is_degenerate(const Curve& curve);

}  // namespace planform::write
