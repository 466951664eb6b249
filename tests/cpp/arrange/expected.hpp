#pragma once

/// What tests of the arrangement hold its loops and areas against.

#include <doctest/doctest.h>

#include <vector>

#include "arrange/shapes.hpp"

namespace planform::arrange::test {

inline doctest::Approx close_to(double value) { return doctest::Approx(value).epsilon(1e-9); }

inline void check_sound(const std::vector<Loop>& loops) { CHECK(fault(loops, 1e-7, 1e-4) == ""); }

}  // namespace planform::arrange::test
