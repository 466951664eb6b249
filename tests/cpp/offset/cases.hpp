#pragma once

/// The sets that distances and laws are tried on, and how many of them.

#include <cstdint>
#include <string>
#include <vector>

#include "planform/profile.hpp"

namespace cases {

/// A set and how far it is grown; `taken` is what is taken from it.
struct Case {
    std::string name;
    planform::ProfileSet set;
    double grown;
    double taken;
};

/// Random sets are numbered from 1. With PLANFORM_SEEDS=7 or 101-200 in the environment those; else
/// the first `usual`, or all 500, as random_count() says.
struct Seeds {
    int first;
    int last;
    int count() const { return last - first + 1; }
};
Seeds seeds(int usual);

/// A set of 4 to 10^4 curves, most of them few, with a distance from 0.001 mm to half of its size.
/// With PLANFORM_SETS_TO=FOLDER in the environment it is also written there, for other judges.
Case random_case(int seed);

/// The outlines in the folder PLANFORM_OUTLINES, each with a distance from 0.001 mm to half of its
/// size that follows from its digest; without it, those of the demo's plates.
std::vector<Case> outlines();

}  // namespace cases
