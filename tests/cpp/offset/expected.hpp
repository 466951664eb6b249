#pragma once

/// What tests of offsets share: a set of one profile, and what a figure is held against.

#include <doctest/doctest.h>

#include <utility>
#include <vector>

#include "planform/profile.hpp"

inline planform::ProfileSet set_of(planform::Contour outer,
                                   std::vector<planform::Contour> holes = {},
                                   double tolerance = 0.01) {
    using namespace planform;
    return ProfileSet({Profile(std::move(outer), std::move(holes))}, {}, Datum::xy(), tolerance);
}

inline void check_near(double value, double expected, double relative = 1e-12) {
    CHECK(value == doctest::Approx(expected).epsilon(relative));
}
