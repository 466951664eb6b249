#pragma once

/// Bent sheets among the plates: cut as their blanks.

#include <optional>

#include "planform/plate.hpp"
#include "plate/not_flat.hpp"

namespace planform::plate {

/// The plate that a bent sheet is cut as, with its bends; nothing for what is none, whose refusal
/// then says why it is not unfolded if it is bent. Doesn't throw.
std::optional<Plate> bent_plate(const Solid& solid, const PlateOptions& options, Refusal& refusal);

}  // namespace planform::plate
