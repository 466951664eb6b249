/// The convex hull of an outline: that of places along its curves, and between neighbouring places
/// of one curve that are both on the hull the curve itself.

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "planform/query.hpp"
#include "planform/turning.hpp"

namespace planform {

namespace {

/// Places are this much closer than the set's tolerance asks for.
constexpr double place_share = 0.1;

/// A place of a contour, and the piece of a curve from there to the next place.
struct Place {
    Point2 point;
    std::size_t next;  ///< index of the next place of the contour
    const Curve* curve;
    double from, to;
};

void add_places(const Contour& contour, double tolerance, std::vector<Place>& places) {
    const std::size_t first = places.size();
    for (const Curve& curve : contour.curves()) {
        const std::vector<double> parameters = chord_parameters(curve, tolerance);
        for (std::size_t i = 0; i + 1 < parameters.size(); ++i)
            places.push_back({point_at(curve, parameters[i]), places.size() + 1, &curve,
                              parameters[i], parameters[i + 1]});
    }
    places.back().next = first;
}

/// Indices of the corners of the hull, counter-clockwise. A. M. Andrew, "Another efficient
/// algorithm for convex hulls in two dimensions", Information Processing Letters 9 (1979).
std::vector<std::size_t> corners_of(const std::vector<Place>& places) {
    std::vector<std::size_t> order(places.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    const auto at = [&](std::size_t index) -> const Point2& { return places[index].point; };
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return at(a).x() != at(b).x() ? at(a).x() < at(b).x() : at(a).y() < at(b).y();
    });
    std::vector<std::size_t> hull;
    for (int pass = 0; pass < 2; ++pass) {
        const std::size_t base = hull.size();
        for (const std::size_t place : order) {
            while (hull.size() >= base + 2 && cross(at(hull.back()) - at(hull[hull.size() - 2]),
                                                    at(place) - at(hull.back())) <= 0.0)
                hull.pop_back();
            hull.push_back(place);
        }
        hull.pop_back();
        std::reverse(order.begin(), order.end());
    }
    return hull;
}

/// A side of the hull: a piece of a curve, or a straight line where there is none.
struct HullSide {
    const Curve* curve;
    double from, to;
    Point2 start, end;
};

bool bulges(const Place& place, const Point2& end) {
    const Point2 middle = point_at(*place.curve, 0.5 * (place.from + place.to));
    return cross(end - place.point, middle - place.point) <= 0.0;
}

std::vector<HullSide> sides_of(const std::vector<Place>& places) {
    const std::vector<std::size_t> corners = corners_of(places);
    std::vector<HullSide> sides;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Place& place = places[corners[i]];
        const std::size_t next = corners[(i + 1) % corners.size()];
        const Point2& end = places[next].point;
        const bool follows = place.next == next && !std::holds_alternative<Line>(*place.curve);
        if (follows && bulges(place, end))
            sides.push_back({place.curve, place.from, place.to, place.point, end});
        else
            sides.push_back({nullptr, 0.0, 0.0, place.point, end});
    }
    return sides;
}

bool goes_on(const HullSide& before, const HullSide& side) {
    return side.curve && before.curve == side.curve && before.to == side.from;
}

Curve curve_of(const HullSide& side) {
    if (!side.curve) return Line{side.start, side.end};
    const Interval all = domain(*side.curve);
    if (side.from <= all.first && side.to >= all.last) return *side.curve;
    return trimmed(*side.curve, side.from, side.to);
}

std::vector<Curve> curves_of(std::vector<HullSide> sides) {
    for (std::size_t i = 0; i < sides.size(); ++i) {
        const HullSide& before = sides[(i + sides.size() - 1) % sides.size()];
        if (goes_on(before, sides[i])) continue;
        std::rotate(sides.begin(), sides.begin() + static_cast<std::ptrdiff_t>(i), sides.end());
        break;
    }
    std::vector<HullSide> merged;
    for (const HullSide& side : sides) {
        if (!merged.empty() && goes_on(merged.back(), side)) {
            merged.back().to = side.to;
            merged.back().end = side.end;
        } else {
            merged.push_back(side);
        }
    }
    std::vector<Curve> curves;
    for (const HullSide& side : merged) curves.push_back(curve_of(side));
    return curves;
}

Box2 box_of(const ProfileSet& set) {
    Box2 box;
    for (const Profile& profile : set.profiles()) box.extend(profile.bounds());
    return box;
}

}  // namespace

ProfileSet convex_hull(const ProfileSet& set) {
    std::vector<Profile> profiles;
    if (!set.profiles().empty()) {
        std::vector<Place> places;
        for (const Profile& profile : set.profiles())
            add_places(profile.outer(), place_share * set.tolerance(), places);
        profiles.emplace_back(Contour(curves_of(sides_of(places)), {}, Validate::no),
                              std::vector<Contour>(), set.name(), -1, Validate::no);
    }
    return ProfileSet(std::move(profiles), {}, set.datum(), set.tolerance(), set.name(), {},
                      Validate::no)
        .with_data(set.data());
}

std::array<Point2, 4> smallest_rectangle(const ProfileSet& set) {
    std::array<Point2, 4> corners;
    corners.fill(Point2::Constant(std::numeric_limits<double>::quiet_NaN()));
    if (set.profiles().empty()) return corners;
    const ProfileSet turned = turned_to_smallest_rectangle(set);
    const Box2 box = box_of(turned);
    const auto back = [&](const Point2& corner) -> Point2 {
        return set.datum().to_datum(turned.datum().to_model(corner)).head<2>();
    };
    const Point2 &low = box.min(), &high = box.max();
    corners = {back(low), back({high.x(), low.y()}), back(high), back({low.x(), high.y()})};
    if (box.sizes().y() > box.sizes().x())
        std::rotate(corners.begin(), corners.begin() + 1, corners.end());
    return corners;
}

}  // namespace planform
