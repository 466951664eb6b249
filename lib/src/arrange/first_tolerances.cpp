#include "arrange/first_tolerances.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>

#include "arrange/box_grid.hpp"
#include "arrange/box_tree.hpp"

namespace planform::arrange {
namespace {

/// Height of an octagon's sides under the circle, as a share of the radius: 1 - cos(22.5 degrees).
constexpr double octagon = 0.07612046748871326;
/// A circle with more neighbours than this is chorded finely without looking at all of them.
constexpr int most_neighbours = 64;

class IsolatedCircles {
  public:
    IsolatedCircles(const CarrierSet& set, double fine)
        : set_(set), fine_(fine), turned_(set.carriers.size(), 0.0) {}

    std::vector<double> tolerances() {
        std::vector<double> result(set_.carriers.size(), fine_);
        for (const Piece& piece : set_.pieces)
            turned_[static_cast<std::size_t>(piece.carrier)] += piece.to - piece.from;
        std::vector<int> circles;
        for (std::size_t i = 0; i < set_.carriers.size(); ++i)
            if (is_whole_circle(i) && coarse(i) > fine_) circles.push_back(static_cast<int>(i));
        if (circles.empty()) return result;
        boxes_.reserve(set_.pieces.size());
        for (const Piece& piece : set_.pieces) boxes_.push_back(box_of(piece));
        const BoxGrid on_grid(boxes_);
        const BoxTree tree(on_grid(boxes_));
        for (const int circle : circles)
            if (is_isolated(tree, on_grid, circle))
                result[static_cast<std::size_t>(circle)] = coarse(static_cast<std::size_t>(circle));
        return result;
    }

  private:
    const Arc& arc(std::size_t carrier) const {
        return std::get<Arc>(set_.carriers[carrier].curve);
    }
    double coarse(std::size_t carrier) const { return octagon * arc(carrier).radius; }

    bool is_whole_circle(std::size_t carrier) const {
        constexpr double rounding = 1e-9;
        return set_.carriers[carrier].kind == Carrier::Kind::circle &&
               std::abs(turned_[carrier] - full_turn) < rounding;
    }

    static Box2 box_of(const Spline& spline) {
        Box2 box;
        for (const Point2& pole : spline.poles) box.extend(pole);
        return box;
    }

    Box2 box_of(const Piece& piece) const {
        const Carrier& carrier = set_.carriers[static_cast<std::size_t>(piece.carrier)];
        if (carrier.kind == Carrier::Kind::spline) return box_of(std::get<Spline>(carrier.curve));
        return bounds(carrier.piece(piece.from, piece.to));
    }

    bool is_isolated(const BoxTree& tree, const BoxGrid& on_grid, int circle) const {
        const auto index = static_cast<std::size_t>(circle);
        const Vector2 reach = Vector2::Constant(arc(index).radius + 4.0 * coarse(index));
        const Box2 box(Point2(arc(index).center - reach), Point2(arc(index).center + reach));
        int seen = 0;
        return !tree.any_overlap(on_grid(box), [&](std::int32_t other) {
            const auto piece = static_cast<std::size_t>(other);
            if (set_.pieces[piece].carrier == circle) return false;
            return ++seen > most_neighbours || comes_near(index, piece);
        });
    }

    bool comes_near(std::size_t circle, std::size_t piece) const {
        const auto other = static_cast<std::size_t>(set_.pieces[piece].carrier);
        const Arc& a = arc(circle);
        if (set_.carriers[other].kind == Carrier::Kind::circle) {
            const Arc& b = arc(other);
            const double distance = (a.center - b.center).norm();
            const double gap =
                std::max({distance - a.radius - b.radius, a.radius - distance - b.radius,
                          b.radius - distance - a.radius});
            if (gap > 2.0 * (coarse(circle) + std::max(fine_, coarse(other)))) return false;
        }
        // The box is all outside or all inside, further off than both stray.
        const double keep_off = 2.0 * (coarse(circle) + fine_);
        if (boxes_[piece].exteriorDistance(a.center) > a.radius + keep_off) return false;
        const Vector2 farthest = (boxes_[piece].min() - a.center)
                                     .cwiseAbs()
                                     .cwiseMax((boxes_[piece].max() - a.center).cwiseAbs());
        return farthest.norm() > a.radius - keep_off;
    }

    const CarrierSet& set_;
    double fine_;
    std::vector<double> turned_;  // by carrier: how much of a turn its pieces cover
    std::vector<Box2> boxes_;     // by piece
};

}  // namespace

std::vector<double> first_tolerances(const CarrierSet& set, double fine) {
    return IsolatedCircles(set, fine).tolerances();
}

}  // namespace planform::arrange
