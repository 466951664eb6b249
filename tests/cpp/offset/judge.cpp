#include "offset/judge.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "planform/write.hpp"

namespace judge {

using namespace planform;

Outlines::Outlines(const ProfileSet& set) : box_(set.bounds()) {
    const auto add = [&](const Contour& contour) {
        for (const Curve& curve : contour.curves()) curves_.push_back({curve, bounds(curve)});
        polylines_.push_back({contour.points(chord), contour.bounds()});
    };
    for (const Profile& profile : set.profiles()) {
        add(profile.outer());
        for (const Contour& hole : profile.holes()) add(hole);
    }
    fill_cells();
}

void Outlines::fill_cells() {
    if (curves_.empty()) return;
    side_ = std::clamp(static_cast<int>(std::sqrt(static_cast<double>(curves_.size()))), 1, 200);
    width_ = std::max(box_.sizes().maxCoeff(), 1e-300) / side_;
    cells_.resize(static_cast<std::size_t>(side_) * static_cast<std::size_t>(side_));
    for (std::size_t i = 0; i < curves_.size(); ++i)
        for (int x = column(curves_[i].box.min(), 0); x <= column(curves_[i].box.max(), 0); ++x)
            for (int y = column(curves_[i].box.min(), 1); y <= column(curves_[i].box.max(), 1); ++y)
                cells_[static_cast<std::size_t>(x * side_ + y)].push_back(i);
}

int Outlines::column(const Point2& point, int axis) const {
    return std::clamp(static_cast<int>((point[axis] - box_.min()[axis]) / width_), 0, side_ - 1);
}

Foot Outlines::foot(const Point2& point) const {
    Foot foot{std::numeric_limits<double>::infinity(), true, Point2::Zero()};
    const int x = column(point, 0), y = column(point, 1);
    const auto look_at = [&](const Known& known) {
        if (known.box.squaredExteriorDistance(point) >= foot.distance * foot.distance) return;
        const double t = nearest_parameter(known.curve, point);
        const double distance = (point_at(known.curve, t) - point).norm();
        if (distance >= foot.distance) return;
        foot = {distance, known.curve.index() < 2, point_at(known.curve, t)};
    };
    // Ring by ring about the point's cell: those of a ring are at least one cell less away.
    for (int ring = 0; ring < side_ && (ring - 1) * width_ < foot.distance; ++ring)
        for (int i = std::max(0, x - ring); i <= std::min(side_ - 1, x + ring); ++i) {
            const bool whole = std::abs(i - x) == ring;
            for (int j = y - ring; j <= y + ring; j += whole ? 1 : 2 * ring)
                if (j >= 0 && j < side_)
                    for (const std::size_t k : cells_[static_cast<std::size_t>(i * side_ + j)])
                        look_at(curves_[k]);
        }
    return foot;
}

int Outlines::winding(const Point2& point) const {
    int winding = 0;
    for (const Polyline& polyline : polylines_) {
        if (!polyline.box.contains(point)) continue;
        Point2 a = polyline.points.back();
        for (const Point2& b : polyline.points) {
            const double side = cross(b - a, point - a);
            if (a.y() <= point.y() && b.y() > point.y() && side > 0) ++winding;
            if (a.y() > point.y() && b.y() <= point.y() && side < 0) --winding;
            a = b;
        }
    }
    return winding;
}

bool Outlines::has_fitted_at(const Point2& point, double wanted, double near) const {
    const Box2 reach(point - Vector2::Constant(wanted + near),
                     point + Vector2::Constant(wanted + near));
    return std::any_of(curves_.begin(), curves_.end(), [&](const Known& known) {
        if (known.curve.index() < 2 || !known.box.intersects(reach)) return false;
        const double t = nearest_parameter(known.curve, point);
        return std::abs((point_at(known.curve, t) - point).norm() - wanted) <= near;
    });
}

Verdict examine(const ProfileSet& set, double distance, const ProfileSet& result, int per_curve,
                int grid) {
    const Outlines before(set), after(result);
    const double wanted = std::abs(distance);
    Verdict verdict;
    const double fitted = 0.1 * set.tolerance();
    const auto is_near_fitted = [&](const std::vector<Curve>& curves, const Point2& point) {
        if (before.has_fitted_at(point, wanted, fitted)) return true;
        for (const Curve& curve : curves)
            if (curve.index() > 1 &&
                (point_at(curve, nearest_parameter(curve, point)) - point).norm() <
                    2.0 * set.tolerance())
                return true;
        return false;
    };
    const auto look_at = [&](const Contour& contour) {
        const std::vector<Curve>& curves = contour.curves();
        for (const Curve& curve : curves) {
            const Interval range = domain(curve);
            for (int i = 0; i <= per_curve; ++i) {
                const Point2 point =
                    point_at(curve, range.first + (range.last - range.first) * i / per_curve);
                const Foot foot = before.foot(point);
                const double off = std::abs(foot.distance - wanted);
                // A curve that looks exact may be the fit of a spline, which then lies at the
                // distance to its bound; and the corner with a fitted curve is where that one is,
                // not the true one.
                const Arc* arc = std::get_if<Arc>(&curve);
                const bool about_corner = arc && (arc->center - foot.point).norm() < 1e-9;
                const bool exact = curve.index() < 2 && (foot.on_exact || about_corner) &&
                                   (off <= 1e-12 || !is_near_fitted(curves, point));
                const bool corner = i == 0 || i == per_curve;
                double& worst = !exact   ? verdict.worst_fitted
                                : corner ? verdict.worst_corner
                                         : verdict.worst_exact;
                ++verdict.samples;
                if (off <= worst) continue;
                worst = off;
                verdict.where = point;
                if (&worst == &verdict.worst_exact) verdict.where_exact = point;
            }
        }
    };
    for (const Profile& profile : result.profiles()) {
        look_at(profile.outer());
        for (const Contour& hole : profile.holes()) look_at(hole);
    }
    const double margin = 0.1 * set.tolerance() + 4 * Outlines::chord;
    const Vector2 reach = Vector2::Constant(std::max(distance, 0.0) * 1.1 + 1.0);
    const Point2 low = set.bounds().min() - reach;
    const Vector2 size = set.bounds().sizes() + 2 * reach;
    for (int x = 0; x < grid; ++x)
        for (int y = 0; y < grid; ++y) {
            const Point2 point =
                low + Vector2((x + 0.37) / grid * size.x(), (y + 0.61) / grid * size.y());
            const double away = before.distance(point);
            if (std::abs(away - wanted) < margin || away < margin) continue;
            const bool material = before.winding(point) > 0;
            const bool expected =
                distance > 0 ? material || away < wanted : material && away > wanted;
            ++verdict.grid;
            if ((after.winding(point) > 0) == expected) continue;
            if (verdict.wrong++ == 0) verdict.where = point;
        }
    return verdict;
}

std::string as_code(const ProfileSet& set) { return json_text(set); }

}  // namespace judge
