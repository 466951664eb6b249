/// Placements held against gap, margin and edge on the exact curves.

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

#include "grid/box_grid.hpp"
#include "grid/box_tree.hpp"
#include "layout/inside.hpp"
#include "planform/boolean.hpp"
#include "planform/error.hpp"
#include "planform/layout.hpp"

namespace planform {
namespace {

/// What booleans take for one curve, as a share of the sets' tolerance (see DEVELOPERS.md).
constexpr double resolution = 1e-3;

/// An area in mm^2 that outlines have in common, or don't, by the resolution of booleans alone.
double trace(const ProfileSet& a, const ProfileSet& b) {
    return resolution * std::max(a.tolerance(), b.tolerance()) * std::min(a.length(), b.length());
}

/// One curve of a piece, of the sheet's edge or of a place to keep clear.
struct OwnedCurve {
    const Curve* curve;
    Box2 box;
    int owner;
};

template <typename Visit>
void for_each_contour(const ProfileSet& set, Visit&& visit) {
    for (const Profile& profile : set.profiles()) {
        visit(profile.outer());
        for (const Contour& hole : profile.holes()) visit(hole);
    }
}

class Prover {
  public:
    Prover(const ProfileSet& sheet, const ProfileSet& keep_clear,
           const std::vector<ProfileSet>& pieces, const LayoutRules& rules)
        : sheet_(sheet),
          keep_clear_(keep_clear),
          pieces_(pieces),
          rules_(rules),
          sheet_owner_(static_cast<int>(pieces.size())),
          clear_owner_(sheet_owner_ + 1) {}

    LayoutProof prove() {
        measure();
        check_pairs();
        for (int piece = 0; piece < sheet_owner_; ++piece) {
            check_on_sheet(piece);
            check_kept_clear(piece);
        }
        summarize();
        std::stable_sort(proof_.faults.begin(), proof_.faults.end(),
                         [](const LayoutFault& a, const LayoutFault& b) {
                             return std::pair(a.first, a.second) < std::pair(b.first, b.second);
                         });
        return std::move(proof_);
    }

  private:
    using Pair = std::pair<int, int>;

    double limit_of(int first, int second) const {
        if (second == sheet_owner_) return rules_.margin;
        if (second == clear_owner_) return 0.0;
        return first < sheet_owner_ ? rules_.gap : 0.0;
    }

    /// Distances are looked for a little beyond the limits: they tell how well gaps are used.
    double reach_of(int first, int second) const {
        return 1.01 * limit_of(first, second) + 4.0 * layout_slack;
    }

    void add_curves(const ProfileSet& set, int owner) {
        for_each_contour(set, [&](const Contour& contour) {
            for (const Curve& curve : contour.curves())
                curves_.push_back({&curve, bounds(curve), owner});
        });
    }

    /// The least distance of every pair of owners that come near each other.
    void measure() {
        for (int i = 0; i < sheet_owner_; ++i) add_curves(pieces_[i], i);
        add_curves(sheet_, sheet_owner_);
        add_curves(keep_clear_, clear_owner_);
        const double reach =
            0.5 * std::max(reach_of(0, 1), reach_of(0, sheet_owner_)) + layout_slack;
        std::vector<Box2> boxes;
        boxes.reserve(curves_.size());
        for (const OwnedCurve& curve : curves_)
            boxes.emplace_back(curve.box.min().array() - reach, curve.box.max().array() + reach);
        const grid::BoxGrid cells(boxes);
        grid::BoxTree(cells(boxes)).for_each_pair([&](int i, int j) { measure_pair(i, j); });
    }

    void measure_pair(int i, int j) {
        if (curves_[i].owner > curves_[j].owner) std::swap(i, j);
        const OwnedCurve& a = curves_[i];
        const OwnedCurve& b = curves_[j];
        if (a.owner == b.owner || a.owner >= sheet_owner_) return;
        const double reach = reach_of(a.owner, b.owner);
        if (a.box.squaredExteriorDistance(b.box) > reach * reach) return;
        ++proof_.measured_pairs;
        const Nearness nearness = distance_between(*a.curve, *b.curve, reach);
        if (nearness.distance > reach) return;
        const auto [entry, is_new] = nearest_.try_emplace({a.owner, b.owner}, nearness);
        if (!is_new && nearness.distance < entry->second.distance) entry->second = nearness;
    }

    Nearness nearest(int first, int second) const {
        const auto found = nearest_.find({first, second});
        if (found != nearest_.end()) return found->second;
        return {INFINITY, Point2::Zero(), Point2::Zero()};
    }

    void fault(LayoutFaultKind kind, int first, int second, const Point2& place, double measured) {
        const int other = second < sheet_owner_ ? second : -1;
        proof_.faults.push_back({kind, first, other, place, measured, limit_of(first, second)});
    }

    /// A point of each contour of `inner` that lies in the material of `outer`, if there is one;
    /// the contours of the two keep `distance` mm apart.
    static std::optional<Point2> contour_in_material(const ProfileSet& inner,
                                                     const ProfileSet& outer, double distance) {
        std::optional<Point2> found;
        for_each_contour(inner, [&](const Contour& contour) {
            const Point2 point = start_point(contour.curves().front());
            if (!found && is_near(outer, point) && layout::is_material(outer, point, distance))
                found = point;
        });
        return found;
    }

    static bool is_near(const ProfileSet& set, const Point2& point) {
        return std::any_of(
            set.profiles().begin(), set.profiles().end(),
            [&](const Profile& profile) { return profile.bounds().contains(point); });
    }

    /// Where the sets touch or cross: what they have in common, if it is more than a trace.
    static std::optional<Point2> common_material(const ProfileSet& a, const ProfileSet& b) {
        const ProfileSet common =
            intersection(a.with_datum(Datum::xy()), b.with_datum(Datum::xy()));
        if (common.area() <= trace(a, b)) return {};
        return common.bounds().center();
    }

    /// Overlap of a piece with another set of material whose limit is `limit`.
    std::optional<Point2> overlap(int first, int second, const ProfileSet& other) const {
        const double distance = nearest(first, second).distance;
        if (distance <= layout_slack) return common_material(pieces_[first], other);
        const double apart = std::min(distance, reach_of(first, second));
        auto place = contour_in_material(pieces_[first], other, apart);
        return place ? place : contour_in_material(other, pieces_[first], apart);
    }

    void check_pair(int first, int second) {
        const Nearness nearness = nearest(first, second);
        const bool is_near = nearness.distance < rules_.gap - layout_slack;
        const auto common = overlap(first, second, pieces_[second]);
        if (common)
            fault(LayoutFaultKind::overlap, first, second, *common, 0.0);
        else if (is_near)
            fault(LayoutFaultKind::too_near, first, second, middle(nearness), nearness.distance);
    }

    void check_pairs() {
        std::vector<Box2> boxes;
        for (const ProfileSet& piece : pieces_) {
            const Box2 box = outline_box(piece);
            const double reach = reach_of(0, 1);
            boxes.emplace_back(box.min().array() - reach, box.max().array() + reach);
        }
        if (boxes.empty()) return;
        const grid::BoxGrid cells(boxes);
        std::vector<Pair> pairs;
        grid::BoxTree(cells(boxes)).for_each_pair([&](int i, int j) {
            pairs.emplace_back(std::min(i, j), std::max(i, j));
        });
        std::sort(pairs.begin(), pairs.end());
        for (const auto& [first, second] : pairs)
            if (boxes[first].intersects(boxes[second])) check_pair(first, second);
    }

    /// Of what is cut; marks don't count.
    static Box2 outline_box(const ProfileSet& set) {
        Box2 box;
        for (const Profile& profile : set.profiles()) box.extend(profile.bounds());
        return box;
    }

    static Point2 middle(const Nearness& nearness) {
        return 0.5 * (nearness.first + nearness.second);
    }

    void check_on_sheet(int piece) {
        const Nearness nearness = nearest(piece, sheet_owner_);
        if (const auto place = outside_sheet(piece, nearness.distance))
            fault(LayoutFaultKind::outside_sheet, piece, sheet_owner_, *place, 0.0);
        else if (nearness.distance < rules_.margin - layout_slack)
            fault(LayoutFaultKind::in_margin, piece, sheet_owner_, middle(nearness),
                  nearness.distance);
    }

    std::optional<Point2> outside_sheet(int piece, double distance) const {
        const ProfileSet& set = pieces_[piece];
        const Box2 around = outline_box(sheet_);
        const Box2 box = outline_box(set);
        if ((box.min() - around.min()).minCoeff() < -layout_slack ||
            (around.max() - box.max()).minCoeff() < -layout_slack)
            return box.center();
        if (distance <= layout_slack) {
            const ProfileSet beyond =
                difference(set.with_datum(Datum::xy()), sheet_.with_datum(Datum::xy()));
            if (beyond.area() <= trace(set, set)) return {};
            return beyond.bounds().center();
        }
        const double apart = std::min(distance, reach_of(piece, sheet_owner_));
        for (const Profile& profile : set.profiles()) {
            const Point2 point = start_point(profile.outer().curves().front());
            if (!layout::is_material(sheet_, point, apart)) return point;
        }
        // A hole of the sheet, or its edge, under the piece's material.
        return contour_in_material(sheet_, set, apart);
    }

    void check_kept_clear(int piece) {
        if (keep_clear_.profiles().empty()) return;
        const auto place = overlap(piece, clear_owner_, keep_clear_);
        if (place) fault(LayoutFaultKind::not_clear, piece, clear_owner_, *place, 0.0);
    }

    void summarize() {
        proof_.least_gap = proof_.least_margin = INFINITY;
        for (const auto& [pair, nearness] : nearest_) {
            if (pair.second == clear_owner_) continue;
            double& least = pair.second == sheet_owner_ ? proof_.least_margin : proof_.least_gap;
            least = std::min(least, nearness.distance);
        }
    }

    const ProfileSet& sheet_;
    const ProfileSet& keep_clear_;
    const std::vector<ProfileSet>& pieces_;
    LayoutRules rules_;
    int sheet_owner_;
    int clear_owner_;
    std::vector<OwnedCurve> curves_;
    std::map<Pair, Nearness> nearest_;
    LayoutProof proof_;
};

void need_distance(double value, const char* name) {
    if (!std::isfinite(value) || value < 0.0)
        throw GeometryError(
            ErrorKind::invalid_argument,
            std::string("layout: the ") + name + " must be a finite number of 0 or more (mm)");
}

void need_profiles(const ProfileSet& set, const std::string& what) {
    if (set.profiles().empty())
        throw GeometryError(ErrorKind::invalid_argument, "layout: " + what + " has no outline");
}

}  // namespace

Nearness distance_between(const ProfileSet& first, const ProfileSet& second) {
    std::vector<std::pair<const Curve*, Box2>> curves;
    for_each_contour(second, [&](const Contour& contour) {
        for (const Curve& curve : contour.curves()) curves.emplace_back(&curve, bounds(curve));
    });
    Nearness best{INFINITY, Point2::Zero(), Point2::Zero()};
    for_each_contour(first, [&](const Contour& contour) {
        for (const Curve& curve : contour.curves()) {
            const Box2 box = bounds(curve);
            for (const auto& [other, other_box] : curves) {
                if (box.exteriorDistance(other_box) >= best.distance) continue;
                const Nearness nearness = distance_between(curve, *other, best.distance);
                if (nearness.distance < best.distance) best = nearness;
            }
        }
    });
    return best;
}

LayoutProof prove_layout(const ProfileSet& sheet, const ProfileSet& keep_clear,
                         const std::vector<ProfileSet>& pieces, const LayoutRules& rules) {
    need_distance(rules.gap, "gap");
    need_distance(rules.margin, "margin");
    need_profiles(sheet, "the sheet");
    for (std::size_t i = 0; i < pieces.size(); ++i)
        need_profiles(pieces[i], "piece " + std::to_string(i));
    return Prover(sheet, keep_clear, pieces, rules).prove();
}

}  // namespace planform
