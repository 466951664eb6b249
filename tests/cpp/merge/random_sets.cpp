#include "merge/random_sets.hpp"

#include <random>
#include <vector>

#include "merge/sets.hpp"

namespace sets {
namespace {

/// Draws by its own arithmetic, so that a seed is the same everywhere.
class Dice {
  public:
    explicit Dice(std::uint32_t seed) : random_(seed) {}

    int pick(int count) { return static_cast<int>(random_() % static_cast<unsigned>(count)); }
    bool one_in(int count) { return pick(count) == 0; }
    double uniform(double low, double high) {
        return low + (high - low) * static_cast<double>(random_()) / 4294967296.0;
    }
    double lattice(int steps) { return 5.0 * pick(steps); }
    Point2 point() {
        const double x = lattice(10);
        return {x, lattice(10)};
    }

  private:
    std::mt19937 random_;
};

Contour closed_spline(Dice& dice) {
    const Point2 center = dice.point();
    std::vector<Point2> poles;
    const int count = 5 + dice.pick(4);
    for (int i = 0; i < count; ++i) {
        const double angle = 2 * pi * i / count, size = 5.0 + dice.lattice(3);
        poles.push_back(center + size * Vector2(std::cos(angle), std::sin(angle)));
    }
    poles.push_back(poles.front());
    Spline spline{3, {0, 0, 0, 0}, poles, {}};
    const auto spans = static_cast<int>(poles.size()) - 3;
    for (int i = 1; i < spans; ++i) spline.knots.push_back(i);
    spline.knots.insert(spline.knots.end(), 4, spans);
    return Contour({spline});
}

ProfileSet shape(Dice& dice) {
    const Point2 at = dice.point();
    const double size = 5.0 + dice.lattice(4), other = 5.0 + dice.lattice(4);
    switch (dice.pick(7)) {
        case 0:
            return box(at.x(), at.y(), size, other);
        case 1:
            return disc(at, size);
        case 2:
            return ring(at, size + 5.0, size);
        case 3: {
            const ProfileSet slot = of(Contour(outlines::slot(size, 5.0)));
            return turned(slot, dice.pick(4) * pi / 2, at);
        }
        case 4:
            return of(Contour({EllipticalArc{at, Vector2(size + 5.0, 0), 0.5, 0, 2 * pi}}));
        case 5:
            return of(closed_spline(dice));
        default:
            return of(Contour(
                outlines::polygon({at, at + Vector2(size, 0), at + Vector2(size + other, other),
                                   at + Vector2(0, size)})));
    }
}

}  // namespace

std::pair<ProfileSet, ProfileSet> random_pair(std::uint32_t seed) {
    Dice dice(seed);
    std::vector<ProfileSet> first, second;
    const int count = 1 + dice.pick(4);
    for (int i = 0; i < count; ++i) first.push_back(shape(dice));
    for (int i = 0; i < count; ++i) {
        const ProfileSet& old = first[static_cast<std::size_t>(dice.pick(count))];
        switch (dice.pick(4)) {
            case 0:
                second.push_back(old);
                break;
            case 1:
                second.push_back(turned(old, 0.0, dice.point() - Point2(20, 20)));
                break;
            case 2:
                second.push_back(difference(old, shape(dice)));
                break;
            default:
                second.push_back(shape(dice));
        }
    }
    ProfileSet a = united(first), b = united(second);
    if (seed % 2 == 0) return {a, b};
    const double angle = dice.uniform(0, 6);
    return {turned(a, angle), turned(b, angle)};
}

}  // namespace sets
