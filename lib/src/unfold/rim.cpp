#include "unfold/rim.hpp"

#include <algorithm>
#include <cmath>

namespace planform::unfolding {

namespace {

/// Newton's method stops here, of the body's size, and gives up after so many steps.
constexpr double newton_share = 1e-14;
constexpr int most_steps = 50;
/// What has not settled to rounding after them counts within this share of the size.
constexpr double settled_share = 1e-9;
/// A found place lies no further from where it was looked for than so many thicknesses.
constexpr double farthest = 4.0;
/// A plane cuts rulings at an angle of more than this sine, else their crossings are ill-defined.
constexpr double least_crossing = 0.1;
/// The cut's surface runs through the sheet along q at more than this sine.
constexpr double least_through = 0.05;
/// A corner lies on the surface of its cut within this share of the size: that of the model's own
/// edges.
constexpr double corner_share = 1e-5;
/// Places of the edge that are looked at.
constexpr int stop_count = 16;

bool has_settled(double step, double at) {
    return std::abs(step) <= 4e-16 * std::max(1.0, std::abs(at));
}

}  // namespace

std::optional<Point3> on_rim(const Development& development, const Panel& panel, const FaceUse& rim,
                             double t, const Point3& near, const Vector3& across) {
    const SheetBody& body = development.body;
    const solid::FaceSurface& surface = body.surface(rim.face);
    Point2 uv;
    if (surface.kind() == GeomAbs_Plane) {
        const int edge = body.face(rim.face).uses[static_cast<std::size_t>(rim.use)].edge;
        const Vector3 d = body.form(edge).point(t) - surface.origin();
        uv = {d.dot(surface.x()), d.dot(surface.y())};
    } else {
        const solid::ParameterCurve& side = surface.boundary()[static_cast<std::size_t>(rim.use)];
        if (side.curve.IsNull()) return std::nullopt;
        const gp_Pnt2d at = side.curve->Value(t);
        uv = {at.X(), at.Y()};
    }
    for (int step = 0; step < most_steps; ++step) {
        const solid::SurfacePoint at = surface.first_order(uv);
        const Vector2 off(panel.height(at.position), (at.position - near).dot(across));
        if (off.norm() <= newton_share * body.size) {
            if ((at.position - near).norm() > farthest * development.skin.thickness)
                return std::nullopt;
            return at.position;
        }
        const Vector3 up = panel.up_at(at.position);
        const Vector2 by_u(at.du.dot(up), at.du.dot(across));
        const Vector2 by_v(at.dv.dot(up), at.dv.dot(across));
        const double determinant = cross(by_u, by_v);
        if (std::abs(determinant) <= 4e-16 * std::max(by_u.squaredNorm(), by_v.squaredNorm()))
            return std::nullopt;
        const Point2 next =
            uv - Vector2(cross(off, by_v) / determinant, cross(by_u, off) / determinant);
        if (!next.allFinite()) return std::nullopt;
        if ((next - uv).norm() <= 4e-16 * std::max(1.0, uv.norm()))
            return surface.first_order(next).position;
        uv = next;
    }
    const Point3 last = surface.first_order(uv).position;
    if (std::abs(panel.height(last)) > settled_share * body.size) return std::nullopt;
    return last;
}

std::optional<RimRun> RimRun::along(const Development& development, const Side& side) {
    RimRun run(development, side);
    const bool is_plane = run.surface_.kind() == GeomAbs_Plane;
    if (is_plane && !run.panel_.is_curved()) return std::nullopt;
    if (!(is_plane ? run.run_by_rulings(side) : run.run_by_parameter(side))) return std::nullopt;
    return run;
}

std::optional<Point3> RimRun::at(double share) const {
    const double p = first_ + share * (last_ - first_);
    if (by_rulings_) return on_ruling(p);
    Stop stop{p, guess(p) + (1.0 - share) * first_off_ + share * last_off_};
    std::optional<Point3> looked_for;
    for (int step = 0; step < most_steps; ++step) {
        const solid::SurfacePoint at = surface_.first_order(uv(stop));
        if (!looked_for) looked_for = at.position;
        const double height = panel_.height(at.position);
        const double slope = (p_is_u_ ? at.dv : at.du).dot(panel_.up_at(at.position));
        const double change = height / slope;
        if (std::abs(height) <= newton_share * d_.body.size || has_settled(change, stop.q)) {
            if ((at.position - *looked_for).norm() > farthest * d_.skin.thickness)
                return std::nullopt;
            return at.position;
        }
        if (!std::isfinite(change)) return std::nullopt;
        stop.q -= change;
    }
    const Point3 last = surface_.first_order(uv(stop)).position;
    if (std::abs(panel_.height(last)) > settled_share * d_.body.size) return std::nullopt;
    return last;
}

/// Each ruling of a bend crosses the plane once.
std::optional<Point3> RimRun::on_ruling(double angle) const {
    const Panel::Ruling ruling = panel_.ruling(angle);
    const double crossing = ruling.direction.dot(surface_.z());
    const double way = (surface_.origin() - ruling.place).dot(surface_.z()) / crossing;
    if (!std::isfinite(way) || (panel_.kind() == SurfaceKind::cone && !(way > 0.0)))
        return std::nullopt;
    return ruling.place + way * ruling.direction;
}

bool RimRun::run_by_rulings(const Side& side) {
    by_rulings_ = true;
    first_ = panel_.angle(side.start);
    last_ = panel_.angle(side.end);
    double sign = 0.0;
    for (int i = 0; i <= stop_count; ++i) {
        const double angle = first_ + (last_ - first_) * i / stop_count;
        const double crossing = panel_.ruling(angle).direction.dot(surface_.z());
        if (std::abs(crossing) < least_crossing || sign * crossing < 0.0) return false;
        sign = crossing;
    }
    const double near = corner_share * d_.body.size;
    const auto start = on_ruling(first_), end = on_ruling(last_);
    return first_ != last_ && start && end && (*start - side.start).norm() <= near &&
           (*end - side.end).norm() <= near;
}

bool RimRun::run_by_parameter(const Side& side) {
    const FaceUse rim = d_.body.use_of(side.edge, side.rim);
    const solid::ParameterCurve& edge = surface_.boundary()[static_cast<std::size_t>(rim.use)];
    if (edge.curve.IsNull()) return false;
    std::vector<Point2> places;
    for (int i = 0; i <= stop_count; ++i) {
        const double share = static_cast<double>(i) / stop_count;
        const gp_Pnt2d at =
            edge.curve->Value(d_.body.parameter(side.edge, side.along ? share : 1.0 - share));
        places.emplace_back(at.X(), at.Y());
    }
    // q is the one along which the surface runs through the sheet.
    const auto through = [this](const Vector3& along, const Vector3& up) {
        return std::abs(along.dot(up)) / std::max(along.norm(), 1e-300);
    };
    double by_u = INFINITY, by_v = INFINITY;
    for (const Point2& place : places) {
        const solid::SurfacePoint at = surface_.first_order(place);
        const Vector3 up = panel_.up_at(at.position);
        by_u = std::min(by_u, through(at.du, up));
        by_v = std::min(by_v, through(at.dv, up));
    }
    if (!(std::max(by_u, by_v) > least_through)) return false;
    p_is_u_ = by_v >= by_u;
    for (const Point2& place : places)
        stops_.push_back(p_is_u_ ? Stop{place.x(), place.y()} : Stop{place.y(), place.x()});
    const double way = stops_.back().p - stops_.front().p;
    for (std::size_t i = 1; i < stops_.size(); ++i)
        if (!((stops_[i].p - stops_[i - 1].p) * way > 0.0)) return false;
    const auto start = stop_at(side.start, stops_.front());
    const bool is_closed = side.next == static_cast<int>(&side - d_.sides.data());
    const auto end = stop_at(is_closed ? side.start : side.end, stops_.back());
    if (!start || !end || !((end->p - start->p) * way > 0.0)) return false;
    first_ = start->p;
    last_ = end->p;
    first_off_ = start->q - guess(first_);
    last_off_ = end->q - guess(last_);
    return true;
}

/// The parameters of a corner, by Gauss and Newton's method.
std::optional<RimRun::Stop> RimRun::stop_at(const Point3& corner, const Stop& from) const {
    Point2 at = uv(from);
    for (int step = 0; step < most_steps; ++step) {
        const solid::SurfacePoint point = surface_.first_order(at);
        const Vector3 off = point.position - corner;
        const double uu = point.du.squaredNorm(), vv = point.dv.squaredNorm();
        const double mixed = point.du.dot(point.dv);
        const double determinant = uu * vv - mixed * mixed;
        const double u = point.du.dot(off), v = point.dv.dot(off);
        const Vector2 change((vv * u - mixed * v) / determinant,
                             (uu * v - mixed * u) / determinant);
        if (!change.allFinite()) return std::nullopt;
        at -= change;
        if (has_settled(change.x(), at.x()) && has_settled(change.y(), at.y())) break;
        if (off.norm() <= newton_share * d_.body.size) break;
    }
    if ((surface_.first_order(at).position - corner).norm() > corner_share * d_.body.size)
        return std::nullopt;
    return p_is_u_ ? Stop{at.x(), at.y()} : Stop{at.y(), at.x()};
}

/// q of the edge where p is so much.
double RimRun::guess(double p) const {
    const bool rises = stops_.back().p > stops_.front().p;
    auto after = std::lower_bound(stops_.begin() + 1, stops_.end() - 1, p,
                                  [rises](const Stop& stop, double value) {
                                      return rises ? stop.p < value : stop.p > value;
                                  });
    const Stop& one = *(after - 1);
    const Stop& other = *after;
    return one.q + (p - one.p) / (other.p - one.p) * (other.q - one.q);
}

}  // namespace planform::unfolding
