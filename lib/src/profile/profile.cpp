#include "planform/profile.hpp"

#include "profile/validity.hpp"

namespace planform {
namespace {

/// The contour, run so that its area has the wanted sign.
Contour oriented(Contour contour, bool counter_clockwise) {
    if ((contour.area() < 0.0) == counter_clockwise) return contour.reversed();
    return contour;
}

std::vector<Contour> holes_oriented(std::vector<Contour> holes) {
    for (Contour& hole : holes) hole = oriented(std::move(hole), false);
    return holes;
}

}  // namespace

Profile::Profile(Contour outer, std::vector<Contour> holes, std::string name, int parent,
                 Validate validate)
    : outer_(oriented(std::move(outer), true)),
      holes_(holes_oriented(std::move(holes))),
      name_(std::move(name)),
      parent_(parent) {
    if (validate == Validate::yes) detail::require_holes_inside(outer_, holes_);
}

double Profile::area() const {
    double sum = outer_.area();
    for (const Contour& hole : holes_) sum += hole.area();
    return sum;
}

double Profile::length() const {
    double sum = outer_.length();
    for (const Contour& hole : holes_) sum += hole.length();
    return sum;
}

Box2 Profile::bounds() const { return outer_.bounds(); }

Profile Profile::transformed(const Transform2& transform) const {
    std::vector<Contour> holes;
    holes.reserve(holes_.size());
    for (const Contour& hole : holes_) holes.push_back(hole.transformed(transform));
    return Profile(outer_.transformed(transform), std::move(holes), name_, parent_, Validate::no);
}

}  // namespace planform
