#pragma once

/// Profile sets that the tests of this floor share.

#include <cmath>
#include <numeric>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "planform/boolean.hpp"
#include "planform/bridges.hpp"
#include "profile/outlines.hpp"

namespace sets {

using namespace planform;

inline ProfileSet of(Contour outer, const std::string& name = {}) {
    return ProfileSet({Profile(std::move(outer), {}, name)}, {}, Datum::xy(), 0.01, name);
}

inline ProfileSet disc(const Point2& center, double radius, const std::string& name = {}) {
    return of(outlines::circle(center, radius), name);
}

inline ProfileSet ring(const Point2& center, double outer, double inner,
                       const std::string& name = {}) {
    return ProfileSet(
        {Profile(outlines::circle(center, outer), {outlines::circle(center, inner)}, name)}, {},
        Datum::xy(), 0.01, name);
}

inline ProfileSet box(double left, double bottom, double width, double height,
                      const std::string& name = {}) {
    return of(outlines::rectangle(left, bottom, width, height), name);
}

inline ProfileSet turned(const ProfileSet& set, double angle, const Vector2& shift = {0, 0}) {
    Transform2 transform{Eigen::Translation2d(shift)};
    transform.rotate(angle);
    return set.transformed(transform);
}

/// Number of curves of all contours.
inline std::size_t curve_count(const ProfileSet& set) {
    std::size_t count = 0;
    for (const Profile& profile : set.profiles()) {
        count += profile.outer().curves().size();
        for (const Contour& hole : profile.holes()) count += hole.curves().size();
    }
    return count;
}

/// How many profiles lie around each, in ascending order.
inline std::vector<int> depths(const ProfileSet& set) {
    std::vector<int> result;
    for (const Profile& profile : set.profiles()) {
        int depth = 0;
        for (int parent = profile.parent(); parent >= 0; ++depth)
            parent = set.profiles()[static_cast<std::size_t>(parent)].parent();
        result.push_back(depth);
    }
    std::sort(result.begin(), result.end());
    return result;
}

}  // namespace sets
