#include "proof/two_sides.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "planform/error.hpp"

namespace planform::proof {

Datum seen_from_behind(const Datum& datum) { return {datum.origin(), -datum.normal(), datum.x()}; }

double check_two_sides(const ProfileSet& front, const ProfileSet& behind) {
    const double length = std::max(front.length(), behind.length());
    const double difference = std::abs(front.area() - behind.area());
    if (difference <= front.tolerance() * length) return length > 0.0 ? difference / length : 0.0;
    std::ostringstream text;
    text << "the law of the two sides is broken: the shadow has " << front.area()
         << " mm2 and, seen from behind, " << behind.area()
         << " mm2; repair the solids where they were drawn";
    throw GeometryError(ErrorKind::law_broken, text.str());
}

}  // namespace planform::proof
