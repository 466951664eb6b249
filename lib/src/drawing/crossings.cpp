#include "drawing/crossings.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>

#include "grid/box_grid.hpp"
#include "grid/box_tree.hpp"

namespace planform::drawing {
namespace {

/// Chords stray from their curves by no more than this share of a drawing's curve length box: they
/// only say where to look.
constexpr double chord_share = 1e-3;

struct Chord {
    std::int32_t curve;
    double from;
    double to;
    Point2 start;
    Point2 end;
};

struct Placed {
    const Curve* curve;
    int source;
};

class CrossingFinder {
  public:
    CrossingFinder(const std::vector<ClosedChain>& chains, double apart) : apart_(apart) {
        for (const ClosedChain& chain : chains)
            for (std::size_t i = 0; i < chain.sources.size(); ++i)
                curves_.push_back({&chain.contour.curves()[i], chain.sources[i]});
        for (std::size_t i = 0; i < curves_.size(); ++i) add_chords(static_cast<std::int32_t>(i));
    }

    std::vector<CrossedCurves> run() {
        if (chords_.empty()) return {};
        std::vector<Box2> boxes;
        boxes.reserve(chords_.size());
        for (const Chord& chord : chords_) {
            Box2 box(chord.start);
            box.extend(chord.end);
            boxes.push_back(box);
        }
        const grid::BoxGrid grid(boxes);
        const grid::BoxTree tree(grid(boxes));
        tree.for_each_pair(
            [&](std::int32_t a, std::int32_t b) { visit(std::min(a, b), std::max(a, b)); });
        return distinct();
    }

  private:
    void add_chords(std::int32_t index) {
        const Curve& curve = *curves_[static_cast<std::size_t>(index)].curve;
        const double size = bounds(curve).diagonal().norm();
        const std::vector<double> stops =
            chord_parameters(curve, std::max(chord_share * size, 1e-9));
        for (std::size_t i = 0; i + 1 < stops.size(); ++i)
            chords_.push_back({index, stops[i], stops[i + 1], point_at(curve, stops[i]),
                               point_at(curve, stops[i + 1])});
    }

    const Curve& curve_of(const Chord& chord) const {
        return *curves_[static_cast<std::size_t>(chord.curve)].curve;
    }

    static bool on_both_sides(const Chord& a, const Chord& b) {
        const Vector2 along = a.end - a.start;
        return (cross(along, b.start - a.start) > 0.0) != (cross(along, b.end - a.start) > 0.0);
    }

    void visit(std::int32_t first, std::int32_t second) {
        const Chord& a = chords_[static_cast<std::size_t>(first)];
        const Chord& b = chords_[static_cast<std::size_t>(second)];
        // Neighbours on one curve share an end.
        if (a.curve == b.curve && second - first <= 1) return;
        if (!on_both_sides(a, b) || !on_both_sides(b, a)) return;
        const Vector2 along = a.end - a.start, its = b.end - b.start;
        const double share = cross(b.start - a.start, its) / cross(along, its);
        const double its_share = cross(b.start - a.start, along) / cross(along, its);
        if (!std::isfinite(share) || !std::isfinite(its_share)) return;
        const auto crossing =
            refine_crossing(curve_of(a), a.from + share * (a.to - a.from), curve_of(b),
                            b.from + its_share * (b.to - b.from), 0.0);
        if (!crossing || !passes_over(curve_of(a), crossing->t, curve_of(b), crossing->u) ||
            !passes_over(curve_of(b), crossing->u, curve_of(a), crossing->t))
            return;
        found_.push_back({curves_[static_cast<std::size_t>(a.curve)].source,
                          curves_[static_cast<std::size_t>(b.curve)].source, crossing->point});
    }

    /// True if the first curve leaves the second by more than `apart` on both sides, before and
    /// after the crossing.
    bool passes_over(const Curve& first, double t, const Curve& second, double u) const {
        const Interval range = domain(first);
        const int before = side_reached(first, t, range.first, second, u);
        return before != 0 && before == -side_reached(first, t, range.last, second, u);
    }

    /// On which side of the second curve the first one gets clear of it on its way from t to `to`:
    /// 1 left, -1 right, 0 if it ends before.
    int side_reached(const Curve& first, double t, double to, const Curve& second, double u) const {
        const Curve* whole = &second;
        const bool same_curve = &first == &second;
        for (double share = 1.0 / 1024; share <= 1.0; share *= 2.0) {
            const Point2 point = point_at(first, t + share * (to - t));
            const Vector2 tangent = derivative_at(second, u).normalized();
            // A curve that crosses itself is near itself anyway: ask the tangent alone.
            if (same_curve) {
                const double beside = cross(tangent, point - point_at(second, u));
                if (std::abs(beside) > apart_) return beside > 0.0 ? 1 : -1;
                continue;
            }
            const double nearest = nearest_parameter(*whole, point);
            const Point2 foot = point_at(*whole, nearest);
            if ((point - foot).norm() <= apart_) continue;
            const double beside = cross(derivative_at(*whole, nearest), point - foot);
            return beside > 0.0 ? 1 : -1;
        }
        return 0;
    }

    /// Each place once, also where ends of chords meet in it.
    std::vector<CrossedCurves> distinct() {
        std::sort(found_.begin(), found_.end(), [](const CrossedCurves& a, const CrossedCurves& b) {
            if (a.first != b.first) return a.first < b.first;
            if (a.second != b.second) return a.second < b.second;
            return a.place.x() != b.place.x() ? a.place.x() < b.place.x()
                                              : a.place.y() < b.place.y();
        });
        std::vector<CrossedCurves> result;
        for (const CrossedCurves& crossing : found_) {
            const bool again = !result.empty() && result.back().first == crossing.first &&
                               result.back().second == crossing.second &&
                               (result.back().place - crossing.place).norm() <= apart_;
            if (!again) result.push_back(crossing);
        }
        return result;
    }

    double apart_;
    std::vector<Placed> curves_;
    std::vector<Chord> chords_;
    std::vector<CrossedCurves> found_;
};

}  // namespace

std::vector<CrossedCurves> find_crossings(const std::vector<ClosedChain>& chains, double apart) {
    return CrossingFinder(chains, apart).run();
}

}  // namespace planform::drawing
