#include "flatten/zero_sets/level_field.hpp"

#include "flatten/bounds/range.hpp"
#include "solid/inset_curve.hpp"

namespace planform::flatten {
namespace {

/// A box drawn in a little, since a face may end on a fold.
Box2 inner_box(const solid::FaceSurface& s) {
    const Vector2 edge = solid::InsetCurve::inset * s.range();
    return {Point2(s.low() + edge), Point2(s.high() - edge)};
}

using Sign = FacingField::Sign;

Sign sign_of(const FacingPatch& patch, int outward, double noise, int halvings) {
    const double low = outward > 0 ? patch.low() : -patch.high();
    const double high = outward > 0 ? patch.high() : -patch.low();
    if (low > noise) return Sign::positive;
    if (high < noise) return Sign::negative;
    bool above = false, below = false;
    for (const int u : {0, 1})
        for (const int v : {0, 1}) (outward * patch.corner(u, v) > noise ? above : below) = true;
    if ((above && below) || halvings == 0) return Sign::unknown;
    const auto [first, second] = patch.halves(halvings % 2 == 0);
    const Sign sign = sign_of(first, outward, noise, halvings - 1);
    if (sign == Sign::unknown) return sign;
    return sign == sign_of(second, outward, noise, halvings - 1) ? sign : Sign::unknown;
}

Sign sign_of(const FacingBound& bound, int outward) {
    constexpr int most_halvings = 6;
    Sign all = Sign::unknown;
    for (const FacingPatch& patch : bound.patches) {
        const Sign sign = sign_of(patch, outward, bound.noise, most_halvings);
        if (sign == Sign::unknown || (all != Sign::unknown && sign != all)) return Sign::unknown;
        all = sign;
    }
    return all;
}

}  // namespace

FacingField::FacingField(const solid::FaceSurface& surface, int outward)
    : LevelField(surface, outward) {
    if (!surface.is_closed_form())
        bound_ = bound_facing(surface.adaptor(), surface.placement(), inner_box(surface), edge_on);
}

FacingField::Sign FacingField::sign_of_whole() const {
    if (!bound_.patches.empty()) return sign_of(bound_, outward());
    const std::optional<Range> range =
        kind().facing_range(surface(), outward(), inner_box(surface()));
    if (range && range->low > edge_on) return Sign::positive;
    return range && range->high < -edge_on ? Sign::negative : Sign::unknown;
}

double HeightField::value(const Point2& uv) const {
    return surface().first_order(uv).position.z() - level_;
}

FieldValue HeightField::with_gradient(const Point2& uv) const {
    const solid::SurfacePoint p = surface().first_order(uv);
    return {p.position.z() - level_, {p.du.z(), p.dv.z()}};
}

}  // namespace planform::flatten
