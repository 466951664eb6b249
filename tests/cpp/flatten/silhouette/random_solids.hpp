#pragma once

/// Seeded random solids: unions and cuts of primitives, rounded and chamfered.

#include <TopoDS_Shape.hxx>
#include <cstdint>
#include <string>

#include "planform/datum.hpp"

namespace random_solids {

struct Case {
    TopoDS_Shape shape;  ///< null if the kernel could not make a valid solid of it
    planform::Datum datum = planform::Datum::xy();
    std::string description;  ///< of the shape and how it is seen
};

/// The same seed gives the same case. Even seeds: general position; odd ones: on a grid of whole
/// millimetres along the axes, so that faces, edges and silhouettes coincide.
Case make(std::uint64_t seed);

}  // namespace random_solids
