#pragma once

/// How a piece in the assembly lies on the outline that it is cut from.

#include <optional>
#include <span>

#include "planform/contact.hpp"

namespace planform::contact {

/// From the piece where it lies in the model to the outline where its datum lies; a mirror image
/// gives a mirroring. Nothing if the piece is another shape and can't be laid on the outline.
std::optional<Transform3> piece_motion(std::span<const Solid> solids, const PlacedOutline& piece,
                                       const ProfileSet& outline);

}  // namespace planform::contact
