#pragma once

/// Places that must lie on the outline of a section, found without the section.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "solid/section_solid.hpp"

namespace planform::flatten {

/// A place where the boundary of a solid passes through the plane: the outline runs through it.
struct SectionWitness {
    Point2 at;         ///< on the datum
    Vector2 outward;   ///< unit, out of the material within the plane; nought if not known
    bool is_edge;      ///< found on an edge, else on a face
    int entity;        ///< number of the edge or face
    std::size_t face;  ///< index of a face that holds it
    /// On a curved face, in its parameters; such a place may lie beyond the face's boundary.
    std::optional<Point2> uv = std::nullopt;
};

/// True if the boundary of the face, as chords, goes round the place.
bool lies_within(const solid::FaceSurface& surface, const Point2& uv);

/// Every edge whose ends or samples stand clear of the plane on both sides, at the place between;
/// every plane face between an odd and the next even of its edges' places; every curved face
/// between samples on a coarse grid. `level` is the plane's height over the datum, mm.
std::vector<SectionWitness> section_witnesses(const solid::SectionSolid& solid, double level);

}  // namespace planform::flatten
