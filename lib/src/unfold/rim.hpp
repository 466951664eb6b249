#pragma once

/// Where the surface of a cut meets the middle layer of a panel: on both within the rounding of
/// coordinates, however well the model's edges lie on them.

#include <optional>
#include <vector>

#include "unfold/development.hpp"

namespace planform::unfolding {

/// One place of it, in the plane through `near` across the given direction; looked for from the
/// parameter of the edge on. `rim`: the edge as the cut uses it.
std::optional<Point3> on_rim(const Development& development, const Panel& panel, const FaceUse& rim,
                             double t, const Point3& near, const Vector3& across);

/// All of it along a side, by a parameter in which it is as smooth as the two surfaces are: the
/// angle about the axis of a bend where a plane cuts it, else one of the two parameters of the
/// cut's own surface. (The model's edge beside it is often a spline that a kernel laid through
/// places; by its parameter the curve would have a break at each of its knots.)
///
/// Notation: p the parameter that runs along the side, q the other one, which runs through the
/// sheet.
class RimRun {
  public:
    /// From the start of a side to its end. Nothing where no such parameter runs along it one way.
    static std::optional<RimRun> along(const Development& development, const Side& side);

    /// The place at a share of p; nothing where the search for it fails.
    std::optional<Point3> at(double share) const;

  private:
    /// A place of the edge in the cut's parameters.
    struct Stop {
        double p, q;
    };

    RimRun(const Development& development, const Side& side)
        : d_(development),
          panel_(development.panel(side.panel)),
          surface_(development.body.surface(side.rim)) {}
    bool run_by_rulings(const Side& side);
    bool run_by_parameter(const Side& side);
    std::optional<Stop> stop_at(const Point3& corner, const Stop& from) const;
    std::optional<Point3> on_ruling(double angle) const;
    Point2 uv(const Stop& stop) const {
        return p_is_u_ ? Point2(stop.p, stop.q) : Point2(stop.q, stop.p);
    }
    double guess(double p) const;

    const Development& d_;
    const Panel& panel_;
    const solid::FaceSurface& surface_;
    bool by_rulings_ = false;
    bool p_is_u_ = true;
    double first_ = 0.0, last_ = 0.0;          ///< p, or the angle
    std::vector<Stop> stops_;                  ///< along the edge, p one way
    double first_off_ = 0.0, last_off_ = 0.0;  ///< q of the corners less the edge's
};

}  // namespace planform::unfolding
