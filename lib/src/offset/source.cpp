#include "offset/source.hpp"

#include <cmath>
#include <cstddef>

#include "offset/smooth_curve.hpp"
#include "planform/error.hpp"

namespace planform {
namespace offset_detail {
namespace {

void add_elements(const Curve& curve, double distance, int tag, double bound,
                  std::vector<Element>& elements) {
    const Curve simple = canonical(curve, bound);
    double from = domain(simple).first;
    for (const double crease : creases(simple)) {
        elements.push_back({trimmed(simple, from, crease), distance, tag});
        from = crease;
    }
    if (from == domain(simple).first)
        elements.push_back({simple, distance, tag});
    else
        elements.push_back({trimmed(simple, from, domain(simple).last), distance, tag});
}

}  // namespace

ContourRole role_of(const Profile& profile, int contour) {
    if (contour > 0) return ContourRole::hole;
    return profile.is_island() ? ContourRole::island : ContourRole::outer;
}

const Contour& contour_at(const ProfileSet& set, int profile, int contour) {
    const Profile& p = set.profiles()[static_cast<std::size_t>(profile)];
    return contour == 0 ? p.outer() : p.holes()[static_cast<std::size_t>(contour - 1)];
}

Source source_of(const ProfileSet& set, const CurveDistances& distance_of, double bound) {
    Source source;
    source.places = curve_places(set);
    for (std::size_t tag = 0; tag < source.places.size(); ++tag) {
        const CurvePlace& place = source.places[tag];
        if (place.curve == 0) source.chains.push_back({{}, place.profile, place.contour});
        const double distance = distance_of(place);
        if (!std::isfinite(distance))
            throw GeometryError(ErrorKind::invalid_argument,
                                "the distance of an offset must be a finite number of millimetres");
        const std::vector<Curve>& curves = contour_at(set, place.profile, place.contour).curves();
        add_elements(curves[static_cast<std::size_t>(place.curve)], distance, static_cast<int>(tag),
                     bound, source.chains.back().elements);
    }
    return source;
}

}  // namespace offset_detail

std::vector<CurvePlace> curve_places(const ProfileSet& set) {
    std::vector<CurvePlace> places;
    for (int p = 0; p < static_cast<int>(set.profiles().size()); ++p) {
        const Profile& profile = set.profiles()[static_cast<std::size_t>(p)];
        for (int c = 0; c <= static_cast<int>(profile.holes().size()); ++c) {
            const std::size_t count = offset_detail::contour_at(set, p, c).curves().size();
            for (int k = 0; k < static_cast<int>(count); ++k)
                places.push_back({p, c, k, offset_detail::role_of(profile, c)});
        }
    }
    return places;
}

}  // namespace planform
