#include <algorithm>
#include <cmath>
#include <vector>

#include "planform/turning.hpp"
#include "profile/convex_hull.hpp"

namespace planform {

namespace {

/// Chords this much closer than the set's tolerance.
constexpr double chord_share = 0.1;
/// A smaller gain is rounding.
constexpr double least_gain = 1e-6;

double area_of(const Box2& box) { return box.sizes().x() * box.sizes().y(); }

Box2 box_of(const ProfileSet& set) {
    Box2 box;
    for (const Profile& profile : set.profiles()) box.extend(profile.bounds());
    return box;
}

/// The turn, at most an eighth either way, that lays a direction along x or y.
double turn_of(const Vector2& direction) {
    const double angle = std::atan2(direction.y(), direction.x());
    const double quarter = pi / 2.0;
    return std::round(angle / quarter) * quarter - angle;
}

double area_when_turned(const std::vector<Point2>& points, double turn) {
    const Eigen::Rotation2Dd rotation(turn);
    Box2 box;
    for (const Point2& point : points) box.extend(rotation * point);
    return area_of(box);
}

double best_turn(const ProfileSet& set) {
    std::vector<Point2> points;
    for (const Profile& profile : set.profiles()) {
        const auto more = profile.outer().points(chord_share * set.tolerance());
        points.insert(points.end(), more.begin(), more.end());
    }
    const std::vector<Point2> hull = detail::convex_hull(std::move(points));
    double best = 0.0, least = area_when_turned(hull, 0.0);
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const double turn = turn_of(hull[(i + 1) % hull.size()] - hull[i]);
        const double area = area_when_turned(hull, turn);
        if (area >= least * (1.0 - least_gain)) continue;
        least = area;
        best = turn;
    }
    return best;
}

}  // namespace

ProfileSet turned_to_smallest_rectangle(const ProfileSet& set) {
    if (set.profiles().empty()) return set;
    Transform2 motion = Transform2::Identity();
    motion.rotate(best_turn(set));
    const ProfileSet turned = set.transformed(motion);
    const Box2 before = box_of(set), after = box_of(turned);
    if (area_of(after) >= area_of(before) * (1.0 - least_gain)) return set;
    motion.pretranslate(-after.min());
    const Datum& datum = set.datum();
    const Transform2 back = motion.inverse();
    const Vector2 x = back.linear().col(0);
    return set.transformed(motion).with_datum(Datum(
        datum.to_model(back.translation()), datum.normal(), x.x() * datum.x() + x.y() * datum.y()));
}

}  // namespace planform
