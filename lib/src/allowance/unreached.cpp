#include "allowance/unreached.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "planform/query.hpp"

namespace planform::allowance {
namespace {

/// What the tool may leave, as a share of its radius: a corner of a right angle keeps 0.41.
constexpr double usual_depth = 0.5;
/// Tighter curves than the tool are followed by chords within this share of its radius.
constexpr double followed_per_radius = 0.125;
/// Curves meet straight on if they turn by less (rad).
constexpr double straight_on = 1e-2;
/// What is cut of a curve is looked for at this many places on it.
constexpr int places_on_curve = 15;

/// One contour of the part, its material on the left.
class Walls {
  public:
    Walls(const Contour& contour, const OutlineIndex& way, double radius, double near)
        : curves_(contour.curves()),
          count_(curves_.size()),
          way_(way),
          radius_(radius),
          near_(near),
          is_lost_(count_) {}

    void collect(std::vector<Unreached>& found) const {
        std::vector<Unreached> own;
        for (std::size_t i = 0; i < count_; ++i) {
            if (is_inner_corner(i)) look(start_point(curves_[i]), before(i), i, own);
            for (const Point2& place : tight_places(curves_[i])) look(place, i, i, own);
        }
        found.insert(found.end(), own.begin(), own.end());
    }

  private:
    std::size_t before(std::size_t i) const { return (i + count_ - 1) % count_; }
    std::size_t after(std::size_t i) const { return (i + 1) % count_; }

    double depth(const Point2& place) const { return way_.distance(place) - radius_; }
    bool is_cut(const Point2& place) const { return depth(place) <= near_; }

    /// Does the material turn by more than a half turn about the start of a curve?
    bool is_inner_corner(std::size_t i) const {
        const Curve& last = curves_[before(i)];
        const Vector2 in = derivative_at(last, domain(last).last);
        const Vector2 out = derivative_at(curves_[i], domain(curves_[i]).first);
        return std::atan2(cross(in, out), in.dot(out)) < -straight_on;
    }

    /// Places on a curve into which the tool may not get: bends hardly wider than it, too, as their
    /// parallels are shorter than what a drawing holds.
    std::vector<Point2> tight_places(const Curve& curve) const {
        if (std::holds_alternative<Line>(curve)) return {};
        if (const Arc* arc = std::get_if<Arc>(&curve);
            arc && (arc->sweep > 0.0 || arc->radius >= 2.0 * radius_))
            return {};
        std::vector<Point2> places;
        for (const double t : chord_parameters(curve, followed_per_radius * radius_))
            places.push_back(point_at(curve, t));
        const Interval range = domain(curve);
        places.push_back(point_at(curve, 0.5 * (range.first + range.last)));
        return places;
    }

    /// Is nothing of the curve cut but, perhaps, its ends?
    bool is_lost(std::size_t i) const {
        if (!is_lost_[i]) {
            is_lost_[i] = true;
            const Interval range = domain(curves_[i]);
            for (int k = 0; k < places_on_curve && *is_lost_[i]; ++k) {
                const double share = (k + 0.5) / places_on_curve;
                const double t = range.first + (range.last - range.first) * share;
                if (is_cut(point_at(curves_[i], t))) is_lost_[i] = false;
            }
        }
        return *is_lost_[i];
    }

    void look(const Point2& place, std::size_t first, std::size_t last,
              std::vector<Unreached>& found) const {
        Unreached one{place, depth(place)};
        if (one.depth <= std::max(usual_depth * radius_, near_)) return;
        if (is_lost(first) && is_lost(last)) {
            std::size_t steps = 0;
            for (; !is_cut(start_point(curves_[first])) && is_lost(before(first)) && steps < count_;
                 ++steps)
                first = before(first);
            for (; !is_cut(end_point(curves_[last])) && is_lost(after(last)) && steps < count_;
                 ++steps)
                last = after(last);
            one.first_lip = start_point(curves_[first]);
            one.second_lip = end_point(curves_[last]);
            one.is_lost = is_cut(one.first_lip) && is_cut(one.second_lip);
        }
        // Of one notch the deepest place.
        const auto same = std::find_if(found.begin(), found.end(), [&](const Unreached& other) {
            return one.is_lost && other.is_lost && other.first_lip == one.first_lip;
        });
        if (same == found.end())
            found.push_back(one);
        else if (same->depth < one.depth)
            *same = one;
    }

    const std::vector<Curve>& curves_;
    std::size_t count_;
    const OutlineIndex& way_;
    double radius_;
    double near_;
    mutable std::vector<std::optional<bool>> is_lost_;
};

}  // namespace

std::vector<Unreached> unreached(const ProfileSet& part, const ProfileSet& way, double radius,
                                 double near) {
    const OutlineIndex index(way);
    std::vector<Unreached> found;
    for (const Profile& profile : part.profiles()) {
        Walls(profile.outer(), index, radius, near).collect(found);
        for (const Contour& hole : profile.holes()) Walls(hole, index, radius, near).collect(found);
    }
    return found;
}

}  // namespace planform::allowance
