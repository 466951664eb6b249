#include "offset/inner_corners.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "offset/corner.hpp"
#include "offset/source.hpp"

namespace planform::offset_detail {
namespace {

/// Directions at both ends of a rounded corner that differ by less (rad) are tangent: the noise of
/// real files, well below an angle that anybody draws.
constexpr double tangent = 1e-4;
/// Curves that are arcs within this share of the tolerance are taken as such.
constexpr double recognised_per_tolerance = 0.01;
/// Rounded corners that turn by more (rad) are the ends of slots, whose walls don't meet.
constexpr double most_turn = 5.0 / 6.0 * pi;

class Walk {
  public:
    Walk(const Chain& chain, const std::vector<CurvePlace>& places, double radius, double tolerance)
        : chain_(chain), places_(places), radius_(radius), tolerance_(tolerance) {}

    void collect(std::vector<InnerCorner>& found) const {
        const std::size_t count = chain_.elements.size();
        for (std::size_t i = 0; i < count; ++i) {
            if (const std::optional<InnerCorner> corner = sharp(i, (i + 1) % count))
                found.push_back(*corner);
            if (const std::optional<InnerCorner> corner = rounded(i)) found.push_back(*corner);
        }
    }

  private:
    const Curve& curve(std::size_t index) const { return chain_.elements[index].curve; }
    const CurvePlace& place(std::size_t index) const {
        return places_[static_cast<std::size_t>(chain_.elements[index].tag)];
    }
    int number(std::size_t index) const { return place(index).curve; }

    /// What a tool leaves between itself and the corner.
    bool matters(double turn) const {
        return radius_ * (1.0 / std::cos(0.5 * turn) - 1.0) > tolerance_;
    }

    std::optional<InnerCorner> sharp(std::size_t before, std::size_t after) const {
        const Corner corner{start_point(curve(after)), end_place(curve(before)),
                            start_place(curve(after))};
        const double turn = corner.turn();
        if (turn >= 0.0 || turn < -pi + tangent || !matters(turn)) return std::nullopt;
        return InnerCorner{corner.point,         -corner.before.tangent,
                           corner.after.tangent, length(curve(before)),
                           length(curve(after)), place(after).profile,
                           place(after).contour, {number(before), number(after)}};
    }

    std::optional<InnerCorner> rounded(std::size_t index) const {
        const Arc* arc = std::get_if<Arc>(&curve(index));
        const std::size_t count = chain_.elements.size();
        if (!arc || count < 3 || arc->sweep > 0.0 || arc->sweep < -most_turn ||
            arc->radius >= radius_ || !matters(arc->sweep))
            return std::nullopt;
        const std::size_t before = (index + count - 1) % count, after = (index + 1) % count;
        const Place start = start_place(curve(index)), end = end_place(curve(index));
        const auto is_tangent = [](const Vector2& a, const Vector2& b) {
            return a.dot(b) > 0.0 && std::abs(cross(a, b)) < tangent;
        };
        if (!is_tangent(end_place(curve(before)).tangent, start.tangent) ||
            !is_tangent(end.tangent, start_place(curve(after)).tangent))
            return std::nullopt;
        const double reach = arc->radius * std::tan(-0.5 * arc->sweep);
        return InnerCorner{start.point + reach * start.tangent,
                           -start.tangent,
                           end.tangent,
                           reach + length(curve(before)),
                           reach + length(curve(after)),
                           place(after).profile,
                           place(after).contour,
                           {number(before), number(index), number(after)}};
    }

    const Chain& chain_;
    const std::vector<CurvePlace>& places_;
    double radius_;
    double tolerance_;
};

}  // namespace

double InnerCorner::angle() const {
    return std::atan2(std::abs(cross(first_wall, second_wall)), first_wall.dot(second_wall));
}

std::vector<InnerCorner> inner_corners(const ProfileSet& set, double radius, double tolerance) {
    const std::vector<CurvePlace> places = curve_places(set);
    std::vector<InnerCorner> found;
    Chain chain;
    for (std::size_t tag = 0; tag < places.size(); ++tag) {
        const CurvePlace& place = places[tag];
        if (place.curve == 0) chain = {{}, place.contour > 0, place.profile};
        const std::vector<Curve>& curves = contour_at(set, place.profile, place.contour).curves();
        append_elements(curves[static_cast<std::size_t>(place.curve)], 0.0, static_cast<int>(tag),
                        recognised_per_tolerance * set.tolerance(), chain.elements);
        if (place.curve + 1 == static_cast<int>(curves.size()))
            Walk(chain, places, radius, tolerance).collect(found);
    }
    return found;
}

}  // namespace planform::offset_detail
