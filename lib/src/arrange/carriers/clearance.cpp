#include "arrange/carriers/clearance.hpp"

#include <algorithm>
#include <cmath>

namespace planform::arrange {
namespace {

/// Along a chord the distance to another curve is all but a parabola of a height of a few chord
/// tolerances: between so many samples it changes by less than a hundredth of that.
constexpr int samples = 8;
/// Chords and their curves differ in direction by less than this sine.
constexpr double clear_sine = 0.15;

/// Signed distances of points of one stretch from the other's curve, where the foot lies in it.
class Distances {
  public:
    Distances(const CarrierStretch& along, const CarrierStretch& from) {
        double guess = 0.5 * (from.from + from.to);
        for (int i = 0; i <= samples; ++i) {
            const double t = along.from + (along.to - along.from) * i / samples;
            const Point2 point = along.carrier.position(t);
            guess = from.carrier.parameter_near(point, guess);
            const double reach = 0.25 * (from.to - from.from);
            if (guess < from.from - reach || guess > from.to + reach) continue;
            const Vector2 tangent = from.carrier.direction(guess).normalized();
            add(cross(tangent, point - from.carrier.position(guess)));
            const Vector2 own = along.carrier.direction(t).normalized();
            if (std::abs(cross(tangent, own)) < clear_sine) is_shallow_ = true;
        }
    }

    bool stay_beyond(double apart) const { return !changes_sign_ && least_ > apart; }
    bool is_shallow() const { return is_shallow_; }

  private:
    void add(double distance) {
        if (known_ && (distance > 0.0) != (last_ > 0.0)) changes_sign_ = true;
        least_ = known_ ? std::min(least_, std::abs(distance)) : std::abs(distance);
        last_ = distance;
        known_ = true;
    }

    bool known_ = false;
    bool changes_sign_ = false;
    bool is_shallow_ = false;
    double last_ = 0.0;
    double least_ = INFINITY;
};

}  // namespace

bool keep_apart(const CarrierStretch& a, const CarrierStretch& b, double apart) {
    const Distances of_a(a, b);
    if (of_a.stay_beyond(apart)) return true;
    return !of_a.is_shallow() && !a.ends_piece && !b.ends_piece;
}

}  // namespace planform::arrange
