#include <algorithm>
#include <cmath>

#include "inspect/checks.hpp"

namespace planform::inspection {
namespace {

/// All places of one contour that break one rule; they make one finding, at the worst.
class Places {
  public:
    explicit Places(bool more_is_worse) : more_is_worse_(more_is_worse) {}

    void add(const Point2& place, double measured) {
        if (places_.empty() || (more_is_worse_ ? measured > worst_ : measured < worst_)) {
            worst_ = measured;
            worst_place_ = place;
        }
        places_.push_back(place);
    }

    bool empty() const { return places_.empty(); }
    std::size_t count() const { return places_.size(); }
    double worst() const { return worst_; }

    Finding finding(const Job& job, RuleKind kind, int profile, int contour,
                    std::string text) const {
        Finding finding = finding_of(job, kind, worst_place_, std::move(text));
        finding.points = places_;
        finding.measured = worst_;
        finding.limit = job.limit(kind);
        finding.unit = kind == RuleKind::sharp_corner ? "degrees" : "mm";
        finding.profile = profile;
        finding.contour = contour;
        return finding;
    }

  private:
    bool more_is_worse_;
    double worst_ = 0.0;
    Point2 worst_place_ = Point2::Zero();
    std::vector<Point2> places_;
};

std::string counted(std::size_t count, const std::string& word) {
    return std::to_string(count) + " " + word + (count == 1 ? "" : "s");
}

/// Material is on the left, so a turn to the right is an inner corner.
Places sharp_corners(const Contour& contour, double limit) {
    Places places(true);
    const std::vector<Curve>& curves = contour.curves();
    for (std::size_t i = 0; i < curves.size(); ++i) {
        const Curve& before = curves[(i + curves.size() - 1) % curves.size()];
        const Vector2 arriving = derivative_at(before, domain(before).last);
        const Vector2 leaving = derivative_at(curves[i], domain(curves[i]).first);
        const double turn = std::atan2(cross(arriving, leaving), arriving.dot(leaving));
        const double degrees = -turn * 180.0 / pi;
        if (degrees > limit + 1e-6) places.add(start_point(curves[i]), degrees);
    }
    return places;
}

Places small_arcs(const Contour& contour, double limit) {
    Places places(false);
    for (const Curve& curve : contour.curves())
        if (const Arc* arc = std::get_if<Arc>(&curve); arc && arc->radius < limit - at_limit)
            places.add(point_at(curve, 0.5), arc->radius);
    return places;
}

Places short_segments(const Contour& contour, double limit) {
    Places places(false);
    for (const Curve& curve : contour.curves()) {
        // The chord is cheap, and short where the curve is.
        const bool closed = contour.curves().size() == 1;
        if (!closed && (end_point(curve) - start_point(curve)).norm() > limit) continue;
        const double size = length(curve);
        const Interval range = domain(curve);
        if (size < limit - at_limit)
            places.add(point_at(curve, 0.5 * (range.first + range.last)), size);
    }
    return places;
}

/// Points of the contour as lines and arcs.
std::size_t point_count(const Contour& contour, double tolerance) {
    std::size_t count = 0;
    for (const Curve& curve : contour.curves()) count += fit_arcs(curve, tolerance).size();
    return count;
}

void check_contour(const Job& job, const Contour& contour, int profile, int number_in_profile,
                   std::vector<Finding>& findings) {
    const auto name = [&] { return contour_name(job, profile, number_in_profile); };
    const auto add = [&](const Places& places, RuleKind kind, const std::string& text) {
        findings.push_back(places.finding(job, kind, profile, number_in_profile, text));
    };
    if (job.applies(RuleKind::sharp_corner)) {
        const double limit = job.limit(RuleKind::sharp_corner);
        if (const Places places = sharp_corners(contour, limit); !places.empty())
            add(places, RuleKind::sharp_corner,
                counted(places.count(), "inner corner") + " of " + name() +
                    " without a radius: give them one if the tool is round or the part is "
                    "loaded.");
    }
    if (job.applies(RuleKind::small_arc)) {
        const double limit = job.limit(RuleKind::small_arc);
        if (const Places places = small_arcs(contour, limit); !places.empty())
            add(places, RuleKind::small_arc,
                counted(places.count(), "arc") + " of " + name() + " with a radius below " +
                    number(limit) + " mm, the least " + number(places.worst()) +
                    " mm: enlarge them, or make them corners.");
    }
    if (job.applies(RuleKind::short_segment)) {
        const double limit = job.limit(RuleKind::short_segment);
        if (const Places places = short_segments(contour, limit); !places.empty())
            add(places, RuleKind::short_segment,
                counted(places.count(), "curve") + " of " + name() + " shorter than " +
                    number(limit) + " mm, the shortest " + number(places.worst()) +
                    " mm: the machine may slow down there; simplify the outline.");
    }
    if (job.applies(RuleKind::short_contour)) {
        const double limit = job.limit(RuleKind::short_contour);
        if (const double size = contour.length(); size < limit - at_limit) {
            Places places(false);
            places.add(start_point(contour.curves().front()), size);
            add(places, RuleKind::short_contour,
                "The cut along " + name() + " is " + number(size) + " mm long, less than " +
                    number(limit) + " mm, with no room for a pierce: drill it, or enlarge it.");
        }
    }
    if (job.applies(RuleKind::many_points)) {
        const double limit = job.limit(RuleKind::many_points);
        const std::size_t count = point_count(contour, job.profiles.tolerance());
        if (static_cast<double>(count) > limit) {
            Finding finding = finding_of(
                job, RuleKind::many_points, start_point(contour.curves().front()),
                counted(count, "point") + " along " + name() + " as lines and arcs, more than " +
                    number(limit) + ": simplify the outline, or allow a larger tolerance.");
            finding.measured = static_cast<double>(count);
            finding.limit = limit;
            finding.unit = "points";
            finding.profile = profile;
            finding.contour = number_in_profile;
            findings.push_back(std::move(finding));
        }
    }
}

}  // namespace

void check_contours(const Job& job, std::vector<Finding>& findings) {
    for (std::size_t i = 0; i < job.profiles.profiles().size(); ++i) {
        const Profile& profile = job.profiles.profiles()[i];
        check_contour(job, profile.outer(), static_cast<int>(i), 0, findings);
        for (std::size_t hole = 0; hole < profile.holes().size(); ++hole)
            check_contour(job, profile.holes()[hole], static_cast<int>(i),
                          static_cast<int>(hole) + 1, findings);
    }
}

}  // namespace planform::inspection
