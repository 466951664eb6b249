#include "offset/restored.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "grid/box_tree.hpp"
#include "offset/integer_frame.hpp"

namespace planform::offset_detail {
namespace {

/// Places along a curve that have to lie on the other one.
constexpr int samples = 16;

bool may_be_restored(const Curve& curve) { return curve.index() > 1; }

template <class Visit>
void for_each_contour(const ProfileSet& set, const Visit& visit) {
    for (const Profile& profile : set.profiles()) {
        visit(profile.outer());
        for (const Contour& hole : profile.holes()) visit(hole);
    }
}

class Restorer {
  public:
    Restorer(const ProfileSet& original, double bound) : bound_(bound), frame_(original.bounds()) {
        std::vector<grid::GridBox> boxes;
        for_each_contour(original, [&](const Contour& contour) {
            for (const Curve& curve : contour.curves()) {
                if (!may_be_restored(curve)) continue;
                known_.push_back(curve);
                boxes.push_back(frame_(bounds(curve), bound));
            }
        });
        tree_.emplace(boxes);
    }

    Contour operator()(const Contour& contour) const {
        std::vector<Curve> curves = contour.curves();
        const double widest = 0.25 * Contour::closure * contour.bounds().diagonal().norm();
        for (Curve& curve : curves)
            if (may_be_restored(curve))
                if (std::optional<Curve> same = known_as(curve, widest)) curve = std::move(*same);
        return Contour(std::move(curves), contour.provenance(), Validate::no);
    }

  private:
    std::optional<Curve> known_as(const Curve& curve, double widest) const {
        const Interval range = domain(curve);
        const Point2 middle = point_at(curve, 0.5 * (range.first + range.last));
        std::vector<std::int32_t> near;
        tree_->for_each_overlap(frame_(Box2(middle, middle), 0.0),
                                [&](std::int32_t index) { near.push_back(index); });
        std::sort(near.begin(), near.end());
        for (const std::int32_t index : near)
            if (std::optional<Curve> piece =
                    piece_along(known_[static_cast<std::size_t>(index)], curve, widest))
                return piece;
        return std::nullopt;
    }

    /// The piece of a known curve along which `curve` runs, whose ends are its ends.
    std::optional<Curve> piece_along(const Curve& known, const Curve& curve, double widest) const {
        const Interval range = domain(curve), whole = domain(known);
        std::vector<double> places;
        for (int i = 0; i <= samples; ++i) {
            const Point2 point =
                point_at(curve, range.first + (range.last - range.first) * i / samples);
            const double t = nearest_parameter(known, point);
            if ((point_at(known, t) - point).norm() > bound_) return std::nullopt;
            places.push_back(t);
        }
        const bool is_forward = places[samples / 2 + 1] > places[samples / 2];
        // Where a closed curve begins and ends, both parameters are the same place.
        const Point2 seam = point_at(known, whole.first);
        if ((seam - point_at(known, whole.last)).norm() <= bound_) {
            const double middle = places[samples / 2];
            const auto settle = [&](double& t, bool is_before) {
                if ((t > middle) == is_before && (point_at(known, t) - seam).norm() <= bound_)
                    t = is_before ? whole.first : whole.last;
            };
            settle(places.front(), is_forward);
            settle(places.back(), !is_forward);
        }
        for (int i = 1; i <= samples; ++i) {
            const auto k = static_cast<std::size_t>(i);
            if (places[k] == places[k - 1] || (places[k] > places[k - 1]) != is_forward)
                return std::nullopt;
        }
        const Curve piece = is_forward ? trimmed(known, places.front(), places.back())
                                       : reversed(trimmed(known, places.back(), places.front()));
        const Curve led = with_ends(piece, start_point(curve), end_point(curve));
        if ((start_point(led) - start_point(curve)).norm() > widest ||
            (end_point(led) - end_point(curve)).norm() > widest)
            return std::nullopt;
        return led;
    }

    double bound_;
    IntegerFrame frame_;
    std::vector<Curve> known_;
    std::optional<grid::BoxTree> tree_;
};

}  // namespace

ProfileSet restored(const ProfileSet& moved, const ProfileSet& original, double bound) {
    if (moved.empty()) return moved;
    const Restorer restore(original, bound);
    std::vector<Profile> profiles;
    for (const Profile& profile : moved.profiles()) {
        std::vector<Contour> holes;
        for (const Contour& hole : profile.holes()) holes.push_back(restore(hole));
        profiles.emplace_back(restore(profile.outer()), std::move(holes), profile.name(),
                              profile.parent(), Validate::no);
    }
    return ProfileSet(std::move(profiles), moved.marks(), moved.datum(), moved.tolerance(),
                      moved.name(), moved.notes(), Validate::no);
}

}  // namespace planform::offset_detail
