#include "plan/curve_distance.hpp"

#include <algorithm>
#include <cmath>

#include "planform/error.hpp"

namespace planform::planning {
namespace {

/// Halvings of both pieces together: a sagitta falls to a quarter each time.
constexpr int deepest = 80;

/// Branch and bound: the distance lies within the heights of that of the segments.
void lower(const Atom& a, const Atom& b, double enough, double& best, int depth) {
    const double slack = a.height + b.height;
    const double chords = segment_distance(a, b);
    best = std::min(best, chords + slack);
    if (chords - slack >= best - distance_precision || best <= enough) return;
    if (depth == 0 || slack <= distance_precision) {
        best = std::min(best, std::max(0.0, chords - slack));
        return;
    }
    const bool first_is_larger = a.height >= b.height;
    const auto [first, second] = (first_is_larger ? a : b).halves();
    const Atom& other = first_is_larger ? b : a;
    const bool swap = segment_distance(second, other) < segment_distance(first, other);
    lower(swap ? second : first, other, enough, best, depth - 1);
    lower(swap ? first : second, other, enough, best, depth - 1);
}

void lower(const Point2& point, const Atom& atom, double& best, int depth) {
    const double chord = point_to_segment(point, atom);
    best = std::min({best, chord + atom.height});
    if (chord - atom.height >= best - distance_precision) return;
    if (depth == 0 || atom.height <= distance_precision) {
        best = std::min(best, std::max(0.0, chord - atom.height));
        return;
    }
    const auto [first, second] = atom.halves();
    const bool swap = point_to_segment(point, second) < point_to_segment(point, first);
    lower(point, swap ? second : first, best, depth - 1);
    lower(point, swap ? first : second, best, depth - 1);
}

}  // namespace

std::vector<Atom> atoms_of(const Curve& curve) {
    std::vector<Atom> atoms;
    if (!offset_detail::append_atoms(curve, atoms))
        throw GeometryError(ErrorKind::invalid_argument,
                            "a curve without length, or a spline that turns back on the spot, "
                            "can't be planned; mend the outline first");
    return atoms;
}

void lower_to_distance(const Atom& a, const Atom& b, double enough, double& best) {
    lower(a, b, enough, best, deepest);
}

void lower_to_distance(const Point2& point, const Atom& atom, double& best) {
    lower(point, atom, best, deepest);
}

}  // namespace planform::planning
