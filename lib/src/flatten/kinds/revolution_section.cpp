#include "flatten/kinds/revolution_section.hpp"

#include <BRep_Tool.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_RectangularTrimmedSurface.hxx>
#include <Geom_SurfaceOfRevolution.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <memory>

#include "flatten/collect/plane_moves.hpp"
#include "flatten/curves/height_roots.hpp"
#include "flatten/curves/projected_curve.hpp"
#include "flatten/curves/sign_scan.hpp"
#include "flatten/kinds/branch_parts.hpp"
#include "model/kernel/points.hpp"

namespace planform::flatten {
namespace {

// Notation: c(v) the profile, rho(v) its distance from the axis, a(v) its height along the axis,
// phi(v) its angle about the axis; Z the axis, S = |Z x n| with n the plane's normal (the z axis).
// The point (u, v) has the height
//   N(v) + D(v) cos(u + phi(v) - m),   N = h + a Z_z,   D = rho S,
// m the angle of n about the axis.

/// Samples of the profile between two of its knots, where ranges of v are looked for.
constexpr int samples_a_span = 32;

Handle(Geom_SurfaceOfRevolution) revolution_of(const solid::FaceSurface& surface) {
    TopLoc_Location location;
    Handle(Geom_Surface) s = BRep_Tool::Surface(surface.face(), location);
    while (s->IsKind(STANDARD_TYPE(Geom_RectangularTrimmedSurface)))
        s = Handle(Geom_RectangularTrimmedSurface)::DownCast(s)->BasisSurface();
    return Handle(Geom_SurfaceOfRevolution)::DownCast(s);
}

class CutRevolution {
  public:
    CutRevolution(const Handle(Geom_SurfaceOfRevolution) & turned,
                  const solid::FaceSurface& surface, double level)
        : profile_(turned->BasisCurve()),
          axis_(turned->Axis()),
          placement_(surface.placement()),
          low_(surface.low()),
          high_(surface.high()),
          level_(level) {
        const gp_Ax1 placed = axis_.Transformed(placement_);
        foot_ = model::from_kernel(placed.Location());
        z_ = model::from_kernel(placed.Direction());
        handed_ = placement_.IsNegative() ? -1.0 : 1.0;
        while (profile_->IsKind(STANDARD_TYPE(Geom_TrimmedCurve)))
            profile_ = Handle(Geom_TrimmedCurve)::DownCast(profile_)->BasisCurve();
        sample();
    }

    /// A direction square to the axis in whose plane with the axis the profile lies; nothing if it
    /// leaves that plane by more than rounding.
    std::optional<Vector3> plane_direction() const {
        Vector3 farthest = Vector3::Zero();
        for (const Vector3& out : outward_)
            if (out.norm() > farthest.norm()) farthest = out;
        if (farthest.norm() < 1e-9) return std::nullopt;
        const Vector3 x = farthest.normalized(), y = turned(x);
        for (const Vector3& out : outward_)
            if (std::abs(out.dot(y)) > 1e-9 * farthest.norm()) return std::nullopt;
        return x;
    }

    /// The plane holds the axis within `in_plane` over the whole profile.
    bool holds_axis() const {
        return std::all_of(along_.begin(), along_.end(), [&](double a) {
            return std::abs(foot_.z() + a * z_.z() - level_) <= in_plane;
        });
    }
    bool is_square() const { return z_.head<2>().norm() < perpendicular; }

    std::vector<Branch> meridians(const Vector3& x) const {
        const Vector3 y = turned(x);
        const double m = std::atan2(y.z(), x.z());
        std::vector<Branch> result;
        for (const double u : {m - 0.5 * pi, m + 0.5 * pi}) result.push_back(meridian(u));
        return result;
    }

    std::vector<Branch> parallels(const Vector3& x) const {
        const auto edge = std::make_shared<PlacedProfile>(*this, 0.0);
        const std::vector<double> roots = height_roots(edge->edge, level_);
        std::vector<Branch> result;
        for (std::size_t i = 0; i < roots.size(); ++i) {
            // What only touches the plane is not cut, as PlaneCut takes it.
            if (i + 1 < roots.size() && stays_in_plane(roots[i], roots[i + 1])) {
                ++i;
                continue;
            }
            result.push_back(parallel(roots[i], x));
        }
        return result;
    }

    std::vector<Point2> seeds() const {
        const auto meets = [&](double v) {
            const Vector3 out = outward(v);
            const double n = foot_.z() + along(v) * z_.z() - level_;
            const double d = out.norm() * across();
            return d - std::abs(n);
        };
        std::vector<double> stops = {at_.front()};
        const SignScan scan = scan_sign(meets, ScanPlaces{at_, {}});
        stops.insert(stops.end(), scan.roots.begin(), scan.roots.end());
        stops.push_back(at_.back());
        std::vector<Point2> result;
        for (std::size_t i = 0; i + 1 < stops.size(); ++i)
            for (const double share : {0.5, 0.25, 0.75, 0.05, 0.95}) {
                const double v = stops[i] + share * (stops[i + 1] - stops[i]);
                if (meets(v) > 0.0) add_seeds(v, result);
            }
        return result;
    }

  private:
    /// The profile turned by u as an edge, from the lower to the upper end of the face.
    struct PlacedProfile {
        gp_Trsf placed;
        solid::GraphEdge edge;
        PlacedProfile(const CutRevolution& of, double u) {
            gp_Trsf turn;
            turn.SetRotation(of.axis_, u);
            placed = of.placement_.Multiplied(turn);
            edge.curve = of.profile_;
            edge.placed_by = &placed;
            edge.is_placed = true;
            edge.first = of.low_.y();
            edge.last = of.high_.y();
        }
        PlacedProfile(const PlacedProfile&) = delete;
        PlacedProfile& operator=(const PlacedProfile&) = delete;
    };

    void sample() {
        std::vector<double> knots = {low_.y()};
        if (const auto spline = Handle(Geom_BSplineCurve)::DownCast(profile_); !spline.IsNull()) {
            const double period = spline->IsPeriodic() ? spline->Period() : 0.0;
            for (int turn = (period > 0.0 ? -1 : 0); turn <= (period > 0.0 ? 1 : 0); ++turn)
                for (int i = 1; i <= spline->NbKnots(); ++i) {
                    const double knot = spline->Knot(i) + turn * period;
                    if (knot > knots.back() && knot < high_.y()) knots.push_back(knot);
                }
        }
        knots.push_back(high_.y());
        const int samples = knots.size() > 2 ? samples_a_span / 2 : 4 * samples_a_span;
        for (std::size_t i = 0; i + 1 < knots.size(); ++i)
            for (int k = 0; k < samples; ++k)
                at_.push_back(knots[i] + (knots[i + 1] - knots[i]) * k / samples);
        at_.push_back(high_.y());
        for (const double v : at_) {
            outward_.push_back(outward(v));
            along_.push_back(along(v));
        }
    }

    Vector3 from_foot(double v) const {
        return model::from_kernel(profile_->Value(v).Transformed(placement_)) - foot_;
    }
    double along(double v) const { return from_foot(v).dot(z_); }
    Vector3 outward(double v) const {
        const Vector3 p = from_foot(v);
        return p - p.dot(z_) * z_;
    }
    /// By a right angle about the axis, the way u grows.
    Vector3 turned(const Vector3& out) const { return handed_ * z_.cross(out); }
    double across() const { return z_.head<2>().norm(); }

    bool stays_in_plane(double from, double to) const {
        for (int i = 1; i < 8; ++i) {
            const double v = from + (to - from) * i / 8;
            if (std::abs(foot_.z() + along(v) * z_.z() - level_) > in_plane) return false;
        }
        return true;
    }

    Branch meridian(double u) const {
        const auto edge = std::make_shared<PlacedProfile>(*this, u);
        Branch branch;
        branch.uv = [u](double v) { return Point2(u, v); };
        branch.parameter = [](const Point2& uv) { return uv.y(); };
        branch.distance = [u](const Point2& uv) { return std::abs(wrapped(uv.x() - u)); };
        branch.project = [edge](double from, double to) {
            std::vector<Curve> pieces =
                project_edge(edge->edge, std::min(from, to), std::max(from, to), offset_tolerance);
            if (from <= to) return pieces;
            std::reverse(pieces.begin(), pieces.end());
            for (Curve& piece : pieces) piece = reversed(piece);
            return pieces;
        };
        return branch;
    }

    Branch parallel(double v, const Vector3& x) const {
        const Point3 center = foot_ + along(v) * z_;
        const double radius = outward(v).dot(x);
        const Vector3 y = turned(x);
        Branch branch;
        branch.uv = [v](double u) { return Point2(u, v); };
        branch.parameter = [](const Point2& uv) { return uv.x(); };
        branch.distance = [v](const Point2& uv) { return std::abs(uv.y() - v); };
        branch.project = [center, radius, x, y](double from, double to) {
            return project_conjugate_arc(center.head<2>(), radius * x.head<2>(),
                                         radius * y.head<2>(), from, to);
        };
        branch.period = full_turn;
        return branch;
    }

    void add_seeds(double v, std::vector<Point2>& result) const {
        const Vector3 out = outward(v), side = turned(out);
        const double n = foot_.z() + along(v) * z_.z() - level_;
        // The angle u turns `out` about the axis: heights n + out_z cos u + side_z sin u.
        for (const double root : solve_cosine(out.z(), side.z(), -n)) {
            double u = turn_from(low_.x(), root);
            if (u > high_.x() && u - full_turn > low_.x() - 1e-9) u -= full_turn;
            if (u <= high_.x()) result.emplace_back(u, v);
        }
    }

    /// Of profiles that are offset curves, which have no exact spline, mm.
    static constexpr double offset_tolerance = 1e-6;

    Handle(Geom_Curve) profile_;
    gp_Ax1 axis_;
    gp_Trsf placement_;
    Point2 low_, high_;
    double level_;
    Point3 foot_;
    Vector3 z_;
    double handed_;                 ///< -1: placed by a mirror
    std::vector<double> at_;        ///< ascending values of v
    std::vector<Vector3> outward_;  ///< there: from the axis to the profile
    std::vector<double> along_;     ///< there: height along the axis
};

}  // namespace

std::optional<std::vector<Branch>> revolution_section(const solid::FaceSurface& surface,
                                                      double level) {
    const Handle(Geom_SurfaceOfRevolution) turned = revolution_of(surface);
    if (turned.IsNull()) return std::nullopt;
    const CutRevolution revolution(turned, surface, level);
    const bool is_square = revolution.is_square();
    if (!is_square && !revolution.holds_axis()) return std::nullopt;
    const auto x = revolution.plane_direction();
    if (!x) return std::nullopt;
    return is_square ? revolution.parallels(*x) : revolution.meridians(*x);
}

std::optional<std::vector<Point2>> revolution_seeds(const solid::FaceSurface& surface,
                                                    double level) {
    const Handle(Geom_SurfaceOfRevolution) turned = revolution_of(surface);
    if (turned.IsNull()) return std::nullopt;
    return CutRevolution(turned, surface, level).seeds();
}

}  // namespace planform::flatten
