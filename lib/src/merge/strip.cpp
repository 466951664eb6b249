#include "merge/strip.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "curve/ray_parity.hpp"
#include "merge/containment.hpp"
#include "merge/operands.hpp"

namespace planform::merge {
namespace {

/// How far the first look reaches into the material, in widths: a strip that starts at a corner of
/// 30 degrees has its full width after 1.9, and may have to hold for another width.
constexpr double look = 3.0;
/// A sixteenth of the gap is fine enough to find its middle.
constexpr double gap_chords = 1.0 / 16.0;

/// The coordinates along and across a strip, from where it leaves the island.
class Axis {
  public:
    explicit Axis(const Gap& gap) : origin_(gap.from), along_((gap.to - gap.from) / gap.size) {}

    Contour rectangle(double from, double to, double width) const {
        const Vector2 across = 0.5 * width * Vector2(-along_.y(), along_.x());
        const Point2 a = origin_ + from * along_, b = origin_ + to * along_;
        const Point2 corners[] = {a - across, b - across, b + across, a + across};
        std::vector<Curve> curves;
        for (std::size_t i = 0; i < 4; ++i)
            curves.emplace_back(Line{corners[i], corners[(i + 1) % 4]});
        return Contour(std::move(curves), {}, Validate::no);
    }

    /// Least and greatest distance along the strip.
    Interval extent(const Contour& contour) const {
        Transform2 turn;
        turn.linear() << along_.x(), along_.y(), -along_.y(), along_.x();
        turn.translation() = -(turn.linear() * origin_);
        const Box2 box = contour.transformed(turn).bounds();
        return {box.min().x(), box.max().x()};
    }

  private:
    Point2 origin_;
    Vector2 along_;
};

/// On chords.
bool encloses(const Contour& contour, const Point2& point, double chord) {
    return detail::ray_crossings(point, contour.points(chord)) % 2 != 0;
}

/// What of a rectangle is gap.
std::vector<Profile> gap_in(const Contour& rectangle, const Surroundings& surroundings) {
    const Box2 box = rectangle.bounds();
    Operands operands;
    operands.add_filled(rectangle, 0);
    for (const Profile* profile : surroundings.material)
        if (profile->bounds().intersects(box)) add_near(operands, *profile, 1, box);
    return operands.arranged(in_first_only, surroundings.tolerance);
}

bool meets_obstacle(const Contour& rectangle, const Surroundings& surroundings) {
    const Box2 box = rectangle.bounds();
    Operands operands;
    for (const Profile* profile : surroundings.obstacles)
        if (profile->bounds().intersects(box)) add_near(operands, *profile, 1, box);
    if (operands.empty()) return false;
    operands.add_filled(rectangle, 0);
    return !operands.arranged(in_both, surroundings.tolerance).empty();
}

}  // namespace

std::optional<Strip> strip_across(const Gap& gap, const Surroundings& surroundings, double hold) {
    const double width = surroundings.width;
    if (!(gap.size > surroundings.tolerance)) return std::nullopt;
    const Axis axis(gap);
    const Interval whole{-look * width, gap.size + look * width};
    const std::vector<Profile> seen =
        gap_in(axis.rectangle(whole.first, whole.last, width), surroundings);
    const Point2 middle = 0.5 * (gap.from + gap.to);
    const auto here = std::find_if(seen.begin(), seen.end(), [&](const Profile& profile) {
        return encloses(profile.outer(), middle,
                        std::min(surroundings.tolerance, gap_chords * gap.size));
    });
    if (here == seen.end() || !here->holes().empty()) return std::nullopt;
    const Interval reach = axis.extent(here->outer());
    if (reach.first < whole.first + hold || reach.last > whole.last - hold) return std::nullopt;

    Contour rectangle = axis.rectangle(reach.first - hold, reach.last + hold, width);
    const std::vector<Profile> filled = gap_in(rectangle, surroundings);
    if (filled.size() != 1 || !filled.front().holes().empty()) return std::nullopt;
    if (meets_obstacle(rectangle, surroundings)) return std::nullopt;
    return Strip{Profile(std::move(rectangle)), filled.front().area()};
}

bool crowd(const Strip& a, const Strip& b, double width) {
    // Two convex shapes are apart if they are along a normal of one of their sides: separating
    // axes.
    const auto apart = [width](const Strip& from, const Strip& other) {
        const std::vector<Curve>& sides = from.rectangle.outer().curves();
        for (std::size_t i = 0; i < 2; ++i) {
            const Line& side = std::get<Line>(sides[i]);
            const Vector2 direction = (side.end - side.start).normalized();
            double low = 0.0, high = 0.0, least = INFINITY, most = -INFINITY;
            for (const Curve& c : sides) {
                const double at = direction.dot(start_point(c) - side.start);
                low = std::min(low, at);
                high = std::max(high, at);
            }
            for (const Curve& c : other.rectangle.outer().curves()) {
                const double at = direction.dot(start_point(c) - side.start);
                least = std::min(least, at);
                most = std::max(most, at);
            }
            if (least - high >= 0.5 * width || low - most >= 0.5 * width) return true;
        }
        return false;
    };
    return !apart(a, b) && !apart(b, a);
}

}  // namespace planform::merge
