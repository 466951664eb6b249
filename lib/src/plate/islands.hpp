#pragma once

/// Bodies that lie loose in the holes of a plate and share its sheet.

#include <cstddef>
#include <span>
#include <vector>

#include "planform/plate.hpp"
#include "plate/recognise.hpp"

namespace planform::plate {

/// Takes those of the others that are islands of the verdict's plate into it, so that outline,
/// volume and shares are those of all; returns which they are, ascending. An island lies in a hole,
/// fills the sheet from face to face, has straight walls, no edge in common, and the host's colour
/// and layers. Throws GeometryError if an outline fails; the verdict is as before then.
std::vector<std::size_t> take_islands(Verdict& verdict, const Solid& host,
                                      std::span<const Solid> others, const PlateOptions& options);

}  // namespace planform::plate
