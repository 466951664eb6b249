#include "plan/entries.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace planform::planning {
namespace {

/// Shares of the length that are tried, after one another; the last is what the clearance needs.
constexpr std::array shorter{0.8, 0.6, 0.45, 0.3, 0.0};
/// A line keeps this much (rad) off the waste's other wall in a corner, else it halves the angle.
constexpr double corner_margin = pi / 12.0;
/// Near its end a way comes to its contour as a straight one would, or at least at this angle
/// (rad).
constexpr double least_angle = pi / 36.0;
/// Stretches before the end, as shares of the length, that are asked one after the other.
constexpr std::array stretches{1.0, 0.1, 0.01, 0.001};
/// Of what a straight wall would leave between it and the way, so much has to be there.
constexpr double wall_share = 0.3;
/// Lines at less (rad) are meant to be tangential.
constexpr double tangential = pi / 12.0;
/// mm: more than rounding, less than anything that is asked for.
constexpr double place_rounding = 1e-7;

Vector2 turned_clockwise(const Vector2& vector, double angle) {
    return Eigen::Rotation2Dd(-angle).toRotationMatrix() * vector;
}

/// The angle, clockwise from where the cut leaves, at which a line comes in.
double line_angle(const StartPlace& place, double angle) {
    const double wanted = pi - angle;
    return wanted <= place.opening - corner_margin ? wanted
           : place.opening == pi && wanted <= pi   ? wanted
                                                   : 0.5 * place.opening;
}

/// A way that arrives at the place and is `length` mm long.
Curve way_to(const StartPlace& place, EntryShape shape, double length, double angle) {
    if (shape == EntryShape::line) {
        const Vector2 outward = turned_clockwise(place.leaving, line_angle(place, angle));
        return Line{place.point + length * outward, place.point};
    }
    const double radius = length / (0.5 * pi);
    const Vector2 waste = turned_clockwise(place.leaving, 0.5 * pi);
    // Clockwise about a centre on the right of the way.
    const double end = std::atan2(-waste.y(), -waste.x());
    return Arc{place.point + radius * waste, radius, end + 0.5 * pi, -0.5 * pi};
}

/// The mirror image: a way that leaves the contour where it arrives from `place.arriving`.
Curve way_from(const StartPlace& place, EntryShape shape, double length, double angle) {
    StartPlace mirrored = place;
    mirrored.leaving = Vector2(place.arriving.x(), -place.arriving.y());
    mirrored.point = Point2(-place.point.x(), place.point.y());
    // Mirrored and run backwards, waste is on the right again.
    Transform2 mirror = Transform2::Identity();
    mirror.linear()(0, 0) = -1.0;
    return reversed(transformed(way_to(mirrored, shape, length, angle), mirror));
}

/// Sine of the angle at which a line of this place leaves the wall it is nearer to.
double steepness(const StartPlace& place, double angle) {
    const double at = line_angle(place, angle);
    const double wall = std::min(at, place.opening - at);
    return std::sin(std::clamp(wall, least_angle, 0.5 * pi));
}

/// The least length with which the outer end is off its own contour as far as asked.
double least_length(const StartPlace& place, EntryShape shape, double angle, double clearance) {
    constexpr double more = 1.001;
    return more *
           (shape == EntryShape::arc ? 0.5 * pi * clearance : clearance / steepness(place, angle));
}

}  // namespace

bool EntryFinder::keeps_off_sheet(const Curve& way, const Point2& outer) const {
    return sheet_ == nullptr ||
           (!sheet_->is_waste(outer) && sheet_->distance(way, place_rounding) >= place_rounding);
}

bool EntryFinder::keeps_off(int contour, const Curve& way, bool arrives) const {
    const Point2 outer = arrives ? start_point(way) : end_point(way);
    const double clearance = options_.clearance;
    if (field_.distance(outer, clearance) < clearance - distance_precision) return false;
    const SheetField::Among others{contour, -1}, own{-1, contour};
    if (field_.distance(way, clearance, others, clearance - place_rounding) <
        clearance - distance_precision)
        return false;
    // Its own contour it meets only where it touches it: each stretch on the way there is as far
    // off as for a straight wall, less what curves may take.
    const double reach = length(way);
    const Arc* arc = std::get_if<Arc>(&way);
    const Interval range = domain(way);
    for (std::size_t i = 0; i + 1 < stretches.size(); ++i) {
        const double from = arrives ? range.last - stretches[i] : range.first + stretches[i + 1];
        const double to = arrives ? range.last - stretches[i + 1] : range.first + stretches[i];
        const double near = stretches[i + 1] * reach;
        const double off =
            arc != nullptr ? near * near / (2.0 * arc->radius) : near * std::sin(least_angle);
        const double asked = wall_share * off;
        const Curve stretch = trimmed(way, std::max(from, range.first), std::min(to, range.last));
        if (field_.distance(stretch, asked, own, 0.0) < asked) return false;
    }
    return field_.is_waste(outer) && keeps_off_sheet(way, outer);
}

std::optional<Curve> EntryFinder::tried(int contour, const StartPlace& place, EntryShape shape,
                                        double length, bool arrives) const {
    const double least = least_length(place, shape, options_.angle, options_.clearance);
    if (length < least) {
        if (length > 0.0) return std::nullopt;
        length = least;
    }
    const Curve way = arrives ? way_to(place, shape, length, options_.angle)
                              : way_from(place, shape, length, options_.angle);
    return keeps_off(contour, way, arrives) ? std::optional<Curve>(way) : std::nullopt;
}

bool EntryFinder::fits(int contour, const std::vector<StartPlace>& places, EntryShape shape,
                       double length, Entry& found) const {
    for (const StartPlace& place : places) {
        if (const auto way = tried(contour, place, shape, length, true)) {
            found.place = place;
            found.way.assign(1, *way);
            return true;
        }
    }
    return false;
}

bool EntryFinder::from_middle(int contour, const std::vector<StartPlace>& places,
                              Entry& found) const {
    const Contour& hole = *field_.contours()[static_cast<std::size_t>(contour)].contour;
    const Disc disc = widest_disc(field_, contour);
    if (disc.radius <= place_rounding) return false;
    std::vector<StartPlace> nearest = places;
    if (!hole.is_circle()) {  // the disc touches there, so the way is square to the contour
        int best = 0;
        double best_t = 0.0, least = std::numeric_limits<double>::infinity();
        for (int i = 0; i < static_cast<int>(hole.curves().size()); ++i) {
            const Curve& curve = hole.curves()[static_cast<std::size_t>(i)];
            const double t = nearest_parameter(curve, disc.center);
            const double away = (point_at(curve, t) - disc.center).norm();
            if (away < least) {
                least = away;
                best = i;
                best_t = t;
            }
        }
        nearest.insert(nearest.begin(), start_place(hole, best, best_t));
    }
    for (const StartPlace& place : nearest) {
        const Line way{disc.center, place.point};
        EntryFinder finder = *this;
        finder.options_.clearance =
            std::min(options_.clearance, disc.radius - 2.0 * place_rounding);
        if (!finder.keeps_off(contour, way, true)) continue;
        found.place = place;
        found.way.assign(1, way);
        found.room = disc.radius < options_.clearance ? EntryRoom::tight : EntryRoom::middle;
        return true;
    }
    return false;
}

Entry EntryFinder::entry(int contour, const std::vector<int>& avoid) const {
    const SheetContour& own = field_.contours()[static_cast<std::size_t>(contour)];
    const std::vector<StartPlace> places =
        start_places(field_, contour, options_.start, avoid, options_.web);
    Entry found{places.front(), EntryRoom::none, {}, 0.0};
    if (options_.length <= 0.0) return found;
    const auto finished = [&](EntryRoom room) {
        found.room = room;
        const Point2 pierce = start_point(found.way.front());
        const double within = 2.0 * (options_.length + options_.clearance);
        found.clearance = field_.distance(pierce, within);
        return found;
    };
    const bool is_hole = own.role == CutRole::hole;
    if (is_hole && own.box.sizes().minCoeff() < 2.0 * options_.least_hole &&
        2.0 * widest_disc(field_, contour).radius < options_.least_hole &&
        from_middle(contour, places, found))
        return finished(found.room);
    const std::vector<StartPlace> first(1, places.front());
    const EntryShape shape = options_.shape;
    if (fits(contour, first, shape, options_.length, found)) return finished(EntryRoom::as_asked);
    if (fits(contour, places, shape, options_.length, found)) return finished(EntryRoom::moved);
    for (const double share : shorter)
        if (fits(contour, places, shape, share * options_.length, found))
            return finished(EntryRoom::shortened);
    // Only an arc is tangential to what is round; only a square line needs no more room than it
    // has.
    for (const EntryShape other : {EntryShape::arc, EntryShape::line}) {
        if (other == EntryShape::arc && (shape == other || options_.angle > tangential)) continue;
        EntryFinder finder = *this;
        finder.options_.angle = 0.5 * pi;
        for (const double share : {1.0, 0.6, 0.3, 0.0})
            if (finder.fits(contour, places, other, share * options_.length, found))
                return finished(EntryRoom::shortened);
    }
    if (is_hole && from_middle(contour, places, found)) return finished(found.room);
    found.place = places.front();
    found.way.clear();
    found.room = EntryRoom::left_out;
    return found;
}

std::vector<Curve> EntryFinder::exit(int contour, const StartPlace& end) const {
    if (options_.exit_length <= 0.0) return {};
    EntryFinder finder = *this;
    // A short way out needs no more room than its own length; the outer end is no pierce.
    finder.options_.clearance = std::min(options_.clearance, 0.5 * options_.exit_length);
    for (const double share : {1.0, 0.6, 0.3})
        if (const auto way =
                finder.tried(contour, end, options_.shape, share * options_.exit_length, false))
            return std::vector<Curve>(1, *way);
    return {};
}

}  // namespace planform::planning
