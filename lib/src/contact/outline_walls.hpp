#pragma once

/// The curves of an outline as walls: which of them a contact lies on.

#include <optional>
#include <span>
#include <vector>

#include "planform/contact.hpp"
#include "planform/profile.hpp"

namespace planform::contact {

class OutlineWalls {
  public:
    explicit OutlineWalls(const ProfileSet& outline, double within = touching_within);

    int count() const { return static_cast<int>(curves_.size()); }
    const CurveAddress& address(int curve) const {
        return curves_[static_cast<std::size_t>(curve)].address;
    }
    bool is_inner(int curve) const { return address(curve).contour > 0; }
    /// The first of the curves that go on from each other along one line or circle.
    int run(int curve) const { return curves_[static_cast<std::size_t>(curve)].run; }

    /// Runs that the contact touches, seen from the solid with this side (0: first, 1: second),
    /// after `motion` in model coordinates; ascending. None if its wall does not stand upright on
    /// the outline's datum.
    std::vector<int> touched(const Contact& contact, int side, const Transform3& motion) const;

  private:
    struct Wall {
        Curve curve;
        CurveAddress address;
        Box2 box;
        int run;
    };
    struct Place {
        Point2 at;
        Vector2 outward;
    };

    void add(const Contour& contour, int profile, int number);
    void join_runs(std::size_t first);
    std::optional<Vector2> outward(const Vector3& normal) const;
    void touched_by_border(const std::vector<Point2>& border, const Vector2& outward,
                           std::vector<int>& found) const;
    void touched_at(const Place& place, std::vector<int>& found) const;

    Datum datum_;
    double near_;  ///< mm: a wall stands on a curve that is no further away
    double within_;
    std::vector<Wall> curves_;
};

}  // namespace planform::contact
