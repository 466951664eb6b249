#include "inspect/near_curves.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace planform::inspection {
namespace {

/// Pairs of rounds a round, beyond which the diagram is cheaper than looking at all of them.
constexpr int most_pairs_a_round = 12;

double segment_distance(const Stretch& a, const Stretch& b) {
    const double d = std::min(
        {distance_to_segment(a.start, b.start, b.end), distance_to_segment(a.end, b.start, b.end),
         distance_to_segment(b.start, a.start, a.end), distance_to_segment(b.end, a.start, a.end)});
    const Vector2 u = a.end - a.start, v = b.end - b.start, w = b.start - a.start;
    const double denominator = cross(u, v);
    if (denominator == 0.0) return d;
    const double s = cross(w, v) / denominator, t = cross(w, u) / denominator;
    return s >= 0.0 && s <= 1.0 && t >= 0.0 && t <= 1.0 ? 0.0 : d;
}

/// Gap between a circle and a chord.
double round_distance(const Round& round, const Stretch& chord) {
    const double nearest = distance_to_segment(round.center, chord.start, chord.end);
    const double furthest =
        std::max((chord.start - round.center).norm(), (chord.end - round.center).norm());
    return std::max({nearest - round.radius, round.radius - furthest, 0.0});
}

class NearFinder {
  public:
    NearFinder(const CurveIndex& index, double reach) : index_(index), reach_(reach) {
        result_.is_near.assign(index.curves().size(), 0);
        result_.round_tolerance.assign(index.rounds().size(), 0.0);
    }

    NearCurves run() {
        mark_bending_curves();
        for (const Stretch& stretch : index_.stretches())
            if (stretch.round < 0 && !near(stretch.curve)) look_around(stretch);
        std::vector<double> gaps(index_.rounds().size(), std::numeric_limits<double>::infinity());
        for (std::size_t i = 0; i < gaps.size(); ++i) look_around_round(static_cast<int>(i), gaps);
        const bool dense = result_.round_pairs.size() > most_pairs_a_round * index_.rounds().size();
        if (dense) {
            for (const auto& [a, b] : result_.round_pairs)
                for (const int round : {a, b})
                    gaps[static_cast<std::size_t>(round)] =
                        std::min(gaps[static_cast<std::size_t>(round)], pair_gap(a, b));
            result_.round_pairs.clear();
        }
        for (std::size_t i = 0; i < gaps.size(); ++i) {
            if (!std::isfinite(gaps[i])) continue;
            const Round& round = index_.rounds()[i];
            result_.round_tolerance[i] =
                std::clamp(gaps[i] / 8.0, index_.chord_error(),
                           std::max(index_.chord_error(), 0.05 * round.radius));
        }
        // The curves beside a near one decide which way a corner opens.
        std::vector<char> with_neighbours = result_.is_near;
        for (std::size_t i = 0; i < index_.curves().size(); ++i) {
            if (!result_.is_near[i]) continue;
            with_neighbours[static_cast<std::size_t>(index_.curves()[i].previous)] = 1;
            with_neighbours[static_cast<std::size_t>(index_.curves()[i].next)] = 1;
        }
        result_.is_near = with_neighbours;
        return std::move(result_);
    }

  private:
    bool near(int curve) const { return result_.is_near[static_cast<std::size_t>(curve)] != 0; }
    void mark(int curve) { result_.is_near[static_cast<std::size_t>(curve)] = 1; }

    /// Curves that may come near themselves or their neighbours, and contours of few curves, all of
    /// whose curves are neighbours.
    void mark_bending_curves() {
        for (std::size_t i = 0; i < index_.curves().size(); ++i) {
            const OutlineCurve& outline = index_.curves()[i];
            if (outline.round >= 0) continue;
            const OutlineCurve& next = index_.curves()[static_cast<std::size_t>(outline.next)];
            const bool few =
                next.next == static_cast<int>(i) || outline.next == static_cast<int>(i) ||
                index_.curves()[static_cast<std::size_t>(next.next)].next == static_cast<int>(i);
            if (few || bends(*outline.curve)) mark(static_cast<int>(i));
        }
    }

    bool bends(const Curve& curve) const {
        if (std::holds_alternative<Line>(curve)) return false;
        const Arc* arc = std::get_if<Arc>(&curve);
        if (!arc) return true;
        return std::abs(arc->sweep) > 0.75 * pi && 2.0 * arc->radius <= 1.1 * reach_;
    }

    /// Neighbours in a contour only count where an arc turns far enough to come back.
    bool leads_on(int a, int b) const {
        if (a == b) return true;
        const OutlineCurve& first = index_.curves()[static_cast<std::size_t>(a)];
        if (first.next != b && first.previous != b) return false;
        const auto is_tame = [&](int number) {
            const Curve& curve = *index_.curves()[static_cast<std::size_t>(number)].curve;
            if (std::holds_alternative<Line>(curve)) return true;
            const Arc* arc = std::get_if<Arc>(&curve);
            return arc && std::abs(arc->sweep) <= 0.5 * pi + 1e-6;
        };
        return is_tame(a) && is_tame(b);
    }

    void look_around(const Stretch& stretch) {
        const Vector2 margin = Vector2::Constant(reach_);
        Box2 box(stretch.start.cwiseMin(stretch.end) - margin,
                 stretch.start.cwiseMax(stretch.end) + margin);
        const double most = reach_ + 2.0 * index_.chord_error();
        const bool found = index_.any_near(box, [&](std::int32_t number) {
            const Stretch& other = index_.stretches()[static_cast<std::size_t>(number)];
            if (other.round >= 0)
                return round_distance(index_.rounds()[static_cast<std::size_t>(other.round)],
                                      stretch) <= most;
            return !leads_on(stretch.curve, other.curve) &&
                   segment_distance(stretch, other) <= most;
        });
        if (found) mark(stretch.curve);
    }

    double pair_gap(int a, int b) const {
        const Round& first = index_.rounds()[static_cast<std::size_t>(a)];
        const Round& second = index_.rounds()[static_cast<std::size_t>(b)];
        const double d = (first.center - second.center).norm();
        return std::max(
            {d - first.radius - second.radius, std::abs(first.radius - second.radius) - d, 0.0});
    }

    void look_around_round(int number, std::vector<double>& gaps) {
        const Round& round = index_.rounds()[static_cast<std::size_t>(number)];
        const Vector2 margin = Vector2::Constant(round.radius + reach_);
        double& gap = gaps[static_cast<std::size_t>(number)];
        index_.for_each_near(
            Box2(round.center - margin, round.center + margin), [&](std::int32_t index) {
                const Stretch& other = index_.stretches()[static_cast<std::size_t>(index)];
                if (other.round < 0) {
                    const double distance = round_distance(round, other);
                    if (distance <= reach_ + index_.chord_error()) gap = std::min(gap, distance);
                } else if (other.round > number && pair_gap(number, other.round) <= reach_) {
                    result_.round_pairs.emplace_back(number, other.round);
                }
            });
    }

    const CurveIndex& index_;
    double reach_;
    NearCurves result_;
};

}  // namespace

NearCurves find_near_curves(const CurveIndex& index, double reach) {
    return NearFinder(index, reach).run();
}

}  // namespace planform::inspection
