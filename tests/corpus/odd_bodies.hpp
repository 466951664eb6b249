#pragma once

/// Random solids in bad position, of every kind that a modeller makes.

#include <TopoDS_Shape.hxx>
#include <cstdint>
#include <string>

#include "planform/datum.hpp"

namespace odd_bodies {

struct Body {
    TopoDS_Shape shape;  ///< null if the kernel could not make a valid closed solid of it
    planform::Datum datum = planform::Datum::xy();
    std::string kind;  ///< "shelled", "drafted", ...
    int way = 0;       ///< from memory (0), through BREP (1), through STEP (2)
};

/// The same seed gives the same body. Shelled, drafted, offset, mirrored, unevenly scaled, helical,
/// threaded, engraved, lofted and text bodies, prisms and bodies of revolution on lines, ellipses
/// and splines of every kind, tubes, unions and cuts of primitives; one in eight of them 0.01 mm
/// or 10 m large. Seen along an edge, along a face's normal, along an axis or from anywhere.
Body make(std::uint64_t seed);

}  // namespace odd_bodies
