#pragma once

/// Walls that meet without a bend between them: in an edge that is sharp inside and outside, or
/// with rounds inside and outside that fit no one thickness. Hand-made models are full of them, and
/// a press gives each a radius anyway.

#include <TopoDS_Shape.hxx>
#include <optional>
#include <string>

#include "unfold/sheet_body.hpp"
#include "unfold/skin.hpp"

namespace planform::unfolding {

/// The solid with bends for corners, and what a person should know of it.
struct BentCorners {
    TopoDS_Shape shape;
    std::string note;
};

/// Are there walls that meet so?
bool has_corners(const SheetBody& body, const Opposites& opposites, double thickness);

/// Throws Refused where one look tells that rounds of such corners can't be taken away, or that
/// walls close round a corner: the kernel takes seconds for it.
void require_free_corners(const SheetBody& body, const Opposites& opposites, double thickness);

/// The inside radius of a bend is what is drawn inside, else what is drawn outside less the
/// thickness, else `sharp_radius`; outsides of walls stay where they are. Nothing if no walls meet
/// so. Throws Refused for walls that close round a corner (closed ring) and where the kernel can't
/// round them (sharp corner).
std::optional<BentCorners> with_bent_corners(const TopoDS_Shape& shape, const SheetBody& drawn,
                                             const Opposites& drawn_opposites, double thickness,
                                             double sharp_radius);

}  // namespace planform::unfolding
