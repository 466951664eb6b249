#pragma once

/// Hems whose walls touch, drawn as one piece: two walls that lie on each other, with a half
/// cylinder about the line in which the inside of the fold ends. A sheet has a slit there.

#include <TopoDS_Shape.hxx>
#include <optional>

#include "unfold/sheet_body.hpp"

namespace planform::unfolding {

/// The solid with a slit between the walls of a hem: the same points, but the face that both walls
/// touch each other in is twice part of its surface.
struct PartedHem {
    TopoDS_Shape shape;
    int face;  ///< the half cylinder
};

/// Of the first hem that is not parted yet: a cylinder of the thickness that turns half way round
/// between two walls twice as far apart, with material up to its axis. Nothing if there is none
/// that the kernel can part.
std::optional<PartedHem> part_hem(const SheetBody& body, double thickness);

}  // namespace planform::unfolding
