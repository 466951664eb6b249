/// Reliefs of inner corners.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "offset/changes.hpp"
#include "offset/inner_corners.hpp"
#include "offset/inside.hpp"
#include "offset/source.hpp"
#include "planform/boolean.hpp"
#include "planform/error.hpp"
#include "planform/offset.hpp"

namespace planform {
namespace {

using namespace offset_detail;

/// Curves may come this much (mm) into a relief without being cut: rounding.
constexpr double touching = 1e-7;
/// Sine of the angle at which the way to the far side of a web meets it, at least.
constexpr double least_rise = 0.05;
/// Places along a curve at which its distance is looked at, in the least web.
constexpr double places_per_web = 8.0;
/// More than so many places along one curve are not looked at.
constexpr double most_places = 4096.0;

/// What the tool cuts: all within its radius of the straight way that its centre goes.
struct Cut {
    Point2 from;  ///< the place in the corner
    Point2 to;    ///< where the tool touches both walls, or `from`

    Point2 nearest(const Point2& point) const {
        const Vector2 way = to - from;
        const double square = way.squaredNorm();
        if (square == 0.0) return from;
        return from + std::clamp((point - from).dot(way) / square, 0.0, 1.0) * way;
    }
};

/// The tool's centre with a circle through the corner, and its way there from where it touches
/// both walls. Beyond a right angle the circle holds all that the tool cuts on the way.
Cut cut_for(const InnerCorner& corner, double radius, ReliefStyle style) {
    const double half = 0.5 * corner.angle();
    const Point2 both_walls = corner.point + radius / std::sin(half) * corner.bisector();
    if (style == ReliefStyle::corner) {
        const Point2 center = corner.point + radius * corner.bisector();
        return {center, half < 0.25 * pi - 1e-9 ? both_walls : center};
    }
    const Vector2& shorter =
        corner.first_length < corner.second_length ? corner.first_wall : corner.second_wall;
    const Vector2 bisector = corner.bisector();
    const Vector2 across = (bisector - bisector.dot(shorter) * shorter).normalized();
    return {corner.point + radius * across, both_walls};
}

Profile shape_of(const Cut& cut, double radius) {
    const Vector2 way = cut.to - cut.from;
    if (way.norm() <= touching) return Profile(Contour({Arc{cut.from, radius, 0.0, 2.0 * pi}}));
    const double angle = std::atan2(way.y(), way.x());
    const Vector2 side = radius * Vector2(-way.y(), way.x()).normalized();
    return Profile(Contour(
        {Line{cut.from - side, cut.to - side}, Arc{cut.to, radius, angle - 0.5 * pi, pi},
         Line{cut.to + side, cut.from + side}, Arc{cut.from, radius, angle + 0.5 * pi, pi}}));
}

class Reliever {
  public:
    Reliever(const ProfileSet& set, double radius, const ReliefOptions& options)
        : set_(set), radius_(radius), options_(options), inside_(set) {
        for (const CurvePlace& place : curve_places(set)) {
            const Curve& curve = contour_at(set, place.profile, place.contour)
                                     .curves()[static_cast<std::size_t>(place.curve)];
            curves_.push_back({place, &curve, bounds(curve)});
        }
    }

    Allowed run() {
        for (const InnerCorner& corner : inner_corners(set_, radius_, set_.tolerance()))
            try_corner(corner);
        std::vector<Profile> shapes;
        for (const Cut& cut : cuts_) shapes.push_back(shape_of(cut, radius_));
        ProfileSet result = set_;
        if (!shapes.empty())
            result =
                difference(set_, ProfileSet(std::move(shapes), {}, set_.datum(), set_.tolerance()));
        return with_findings(std::move(result), std::move(findings_));
    }

  private:
    struct Known {
        CurvePlace place;
        const Curve* curve;
        Box2 box;
    };

    void try_corner(const InnerCorner& corner) {
        const Cut cut = cut_for(corner, radius_, options_.style);
        const double along = 2.0 * radius_ * std::cos(0.5 * corner.angle());
        const double longer = std::max(corner.first_length, corner.second_length);
        const double shorter = std::min(corner.first_length, corner.second_length);
        const bool fits = options_.style == ReliefStyle::corner ? shorter > along : longer > along;
        if (!fits) {
            refuse(corner, std::nullopt,
                   "the walls of the inner corner are too short for a relief of this radius");
            return;
        }
        const double web = least_web(corner, cut);
        if (web < options_.least_web - touching) {
            refuse(corner, std::max(web, 0.0),
                   "a relief would leave " + millimetres(std::max(web, 0.0)) +
                       " of material beside it; the inner corner stays as it is");
            return;
        }
        cuts_.push_back(cut);
    }

    void refuse(const InnerCorner& corner, std::optional<double> web, std::string text) {
        Finding finding = finding_of(RuleKind::relief, corner.point, std::move(text));
        if (web) {
            finding.measured = web;
            finding.limit = options_.least_web;
            finding.unit = "mm";
        }
        finding.profile = corner.profile;
        finding.contour = corner.contour;
        findings_.push_back(std::move(finding));
    }

    bool is_wall(const InnerCorner& corner, const CurvePlace& place) const {
        return place.profile == corner.profile && place.contour == corner.contour &&
               std::find(corner.curves.begin(), corner.curves.end(), place.curve) !=
                   corner.curves.end();
    }

    /// mm of material between the cut and what lies beyond, as far as it is less than the least
    /// web; infinite if there is more. Negative: the cut reaches a curve that is no wall of the
    /// corner.
    double least_web(const InnerCorner& corner, const Cut& cut) const {
        double least = std::numeric_limits<double>::infinity();
        const double reach = radius_ + options_.least_web;
        Box2 box(cut.from);
        box.extend(cut.to);
        box = Box2(box.min() - Vector2(reach, reach), box.max() + Vector2(reach, reach));
        for (const Known& known : curves_) {
            if (!known.box.intersects(box)) continue;
            const bool wall = is_wall(corner, known.place);
            for (const double t : looked_at(*known.curve, cut))
                least = std::min(least, web_to(*known.curve, t, cut, wall));
        }
        for (const Cut& other : cuts_) {
            for (const Point2& end : {other.from, other.to}) {
                const Point2 own = cut.nearest(end);
                const Point2 far = other.nearest(own);
                const double gap = (far - own).norm() - 2.0 * radius_;
                if (gap >= options_.least_web || gap >= least) continue;
                const Vector2 way = (far - own).normalized();
                if (gap > 0.0 && is_material(own + radius_ * way, far - radius_ * way)) least = gap;
            }
        }
        return least;
    }

    /// Places on a curve, the nearest to the cut's ends among them.
    std::vector<double> looked_at(const Curve& curve, const Cut& cut) const {
        const Interval range = domain(curve);
        const double step = std::max(options_.least_web, 0.1 * radius_) / places_per_web;
        const double count = std::clamp(std::ceil(length(curve) / step), 1.0, most_places);
        std::vector<double> places{nearest_parameter(curve, cut.from),
                                   nearest_parameter(curve, cut.to)};
        for (double i = 0.0; i <= count; i += 1.0)
            places.push_back(range.first + (range.last - range.first) * i / count);
        return places;
    }

    double web_to(const Curve& curve, double t, const Cut& cut, bool wall) const {
        const Point2 point = point_at(curve, t);
        const Point2 own = cut.nearest(point);
        const double distance = (point - own).norm(), gap = distance - radius_;
        if (gap < -touching && !wall) return gap;
        if (gap <= touching || gap >= options_.least_web) return infinite;
        // A web ends where the way leaves the material; along a wall it leaves nothing.
        const Vector2 way = (point - own) / distance, along = derivative_at(curve, t);
        if (cross(way, along) < least_rise * along.norm()) return infinite;
        return is_material(own + radius_ * way, point) ? gap : infinite;
    }

    bool is_material(const Point2& from, const Point2& to) const {
        for (const double share : {0.1, 0.5, 0.9})
            if (!inside_.holds(from + share * (to - from))) return false;
        return true;
    }

    static constexpr double infinite = std::numeric_limits<double>::infinity();

    const ProfileSet& set_;
    double radius_;
    ReliefOptions options_;
    Inside inside_;
    std::vector<Known> curves_;
    std::vector<Cut> cuts_;
    std::vector<Finding> findings_;
};

}  // namespace

Allowed relieved(const ProfileSet& set, double radius, const ReliefOptions& options) {
    if (!std::isfinite(radius) || !(radius > 0.0))
        throw GeometryError(ErrorKind::invalid_argument,
                            "a tool's radius must be a positive, finite number of millimetres");
    if (!std::isfinite(options.least_web) || options.least_web < 0.0)
        throw GeometryError(ErrorKind::invalid_argument,
                            "the least web must be a finite number of millimetres, not negative");
    return Reliever(set, radius, options).run();
}

}  // namespace planform
