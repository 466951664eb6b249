#include "write/outline.hpp"

#include <algorithm>
#include <cmath>

#include "curve/angles.hpp"

namespace planform::write {

namespace {

/// How many profiles lie around each one; a chain of parents is no longer than the set.
std::vector<std::size_t> depths(const std::vector<Profile>& profiles) {
    std::vector<std::size_t> result(profiles.size(), 0);
    for (std::size_t i = 0; i < profiles.size(); ++i) {
        int parent = profiles[i].parent();
        while (parent >= 0 && static_cast<std::size_t>(parent) < profiles.size() &&
               result[i] < profiles.size()) {
            ++result[i];
            parent = profiles[static_cast<std::size_t>(parent)].parent();
        }
    }
    return result;
}

/// Marks of these names are bend lines (planform/unfold.hpp has the names).
Role role_of(std::string_view mark) {
    return mark == "bend up" || mark == "bend down" || mark == "bend limit" ? Role::bend
                                                                            : Role::mark;
}

/// A rounding of the sweep must not cost one more piece.
constexpr double piece_slack = 1e-9;

}  // namespace

std::vector<Task> tasks_of(const ProfileSet& profiles) {
    std::vector<Task> tasks;
    for (const Mark& mark : profiles.marks())
        tasks.push_back({role_of(mark.name()), &mark.curves(),
                         mark.is_closed() ? &mark.contour() : nullptr, mark.name(), mark.depth()});

    const auto& all = profiles.profiles();
    const std::vector<std::size_t> depth = depths(all);
    std::vector<std::size_t> order(all.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return depth[a] > depth[b]; });
    for (const std::size_t i : order) {
        for (const Contour& hole : all[i].holes()) {
            tasks.push_back({Role::inner, &hole.curves(), &hole, all[i].name()});
        }
        tasks.push_back({Role::outer, &all[i].outer().curves(), &all[i].outer(), all[i].name()});
    }
    return tasks;
}

std::optional<Arc> circle_of(const Task& task) {
    const auto* arc = std::get_if<Arc>(&task.curves->front());
    if (arc == nullptr || !task.is_closed() || !task.contour->is_circle()) return std::nullopt;
    return Arc{arc->center, arc->radius, arc->start_angle, std::copysign(full_turn, arc->sweep)};
}

template <class ArcKind>
void append_pieces(std::vector<Curve>& pieces, const ArcKind& arc, double largest_sweep) {
    const double parts = std::abs(arc.sweep) / largest_sweep;
    const int count = std::max(1, static_cast<int>(std::ceil(parts - piece_slack)));
    for (int i = 0; i < count; ++i) {
        ArcKind piece = arc;
        piece.start_angle = arc.start_angle + arc.sweep * i / count;
        piece.sweep = arc.sweep / count;
        pieces.push_back(piece);
    }
}

template void append_pieces(std::vector<Curve>&, const Arc&, double);
template void append_pieces(std::vector<Curve>&, const EllipticalArc&, double);

std::vector<Curve> lines_and_arcs(const Curve& curve, double tolerance) {
    if (std::holds_alternative<EllipticalArc>(curve) || std::holds_alternative<Spline>(curve)) {
        return fit_arcs(curve, tolerance);
    }
    // One element by constructor: from a list in braces, g++ 12 warns of numbers without value.
    return std::vector<Curve>(1, curve);
}

bool is_degenerate(const Curve& curve) {
    const auto* line = std::get_if<Line>(&curve);
    return line != nullptr && line->start == line->end;
}

}  // namespace planform::write
