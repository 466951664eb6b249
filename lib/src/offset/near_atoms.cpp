#include "offset/near_atoms.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>

namespace planform::offset_detail {
namespace {

/// On average so many boxes an atom, and for one no more than these.
constexpr double boxes_per_atom = 4.0;
constexpr double most_boxes = 64.0;

}  // namespace

NearAtoms::NearAtoms(const std::vector<Atom>& atoms) : atoms_(atoms) {
    if (atoms.empty()) return;
    Box2 all;
    double length = 0.0;
    for (const Atom& atom : atoms) {
        all.extend(atom.box());
        length += (atom.end - atom.start).norm();
    }
    frame_.emplace(all);
    const double step = length / (boxes_per_atom * static_cast<double>(atoms.size()));
    std::vector<grid::GridBox> boxes;
    for (std::size_t i = 0; i < atoms.size(); ++i) {
        const Atom& atom = atoms[i];
        const Vector2 chord = atom.end - atom.start;
        const int count =
            atom.is_line() && step > 0.0
                ? static_cast<int>(std::clamp(std::ceil(chord.norm() / step), 1.0, most_boxes))
                : 1;
        for (int k = 0; k < count; ++k) {
            Box2 box(Point2(atom.start + chord * k / count));
            box.extend(Point2(atom.start + chord * (k + 1) / count));
            boxes.push_back((*frame_)(count == 1 ? atom.box() : box, 0.0));
            owners_.push_back(static_cast<int>(i));
        }
    }
    tree_.emplace(boxes);
}

int NearAtoms::nearest(const Point2& point, double radius) const {
    if (!tree_) return -1;
    const Point2 place = frame_->place(point);
    int nearest = -1;
    // Boxes are rounded outward: a cell more than all distances holds.
    double least = radius, reach = frame_->length(radius) + 1.0;
    tree_->any_within(
        place.x(), place.y(), [&] { return reach; },
        [&](std::int32_t box) {
            const int atom = owners_[static_cast<std::size_t>(box)];
            const double distance = point_to_segment(point, atoms_[static_cast<std::size_t>(atom)]);
            if (distance < least) {
                least = distance;
                reach = frame_->length(least) + 1.0;
                nearest = atom;
            }
            return false;
        });
    return nearest;
}

bool NearAtoms::is_all_within(const std::vector<Point2>& points, double radius, int atom) const {
    // The distance from a chord is convex, and an atom passes by each point of its chord within
    // its height.
    const Atom& a = atoms_[static_cast<std::size_t>(atom)];
    return std::all_of(points.begin(), points.end(), [&](const Point2& point) {
        return point_to_segment(point, a) + a.height < radius;
    });
}

}  // namespace planform::offset_detail
