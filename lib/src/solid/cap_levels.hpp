#pragma once

/// The flat faces of a solid that carry its thickness.

#include <cstddef>
#include <optional>
#include <vector>

#include "solid/section_solid.hpp"

namespace planform::solid {

/// A face that leans or is tilted by less than this (mm) over its extent counts as straight or
/// flat: a hundredth of the default tolerance, well above the noise of axes in files.
inline constexpr double straight_within = 1e-4;

/// A face that is flat: across the datum's normal.
struct FlatFace {
    std::size_t face;  ///< index in the graph
    HeightRange range;
    bool looks_up;
    double height() const { return (range.low + range.high) / 2.0; }
};

/// The flat faces of a solid, in their order. Whatever the kind of surface.
std::vector<FlatFace> flat_faces(const SectionSolid& solid);

/// Heights over the datum of the faces that carry the thickness.
struct CapLevels {
    std::optional<HeightRange> top, bottom;

    bool is_top(const FlatFace& face) const { return face.looks_up && holds(top, face); }
    bool is_bottom(const FlatFace& face) const { return !face.looks_up && holds(bottom, face); }

  private:
    static bool holds(const std::optional<HeightRange>& level, const FlatFace& face) {
        return level && face.range.low >= level->low - straight_within &&
               face.range.high <= level->high + straight_within;
    }
};

/// Top: the highest flat level that is at least half as large as the largest that looks up, bottom
/// likewise. Sizes are taken with holes filled, so that the rim of a tray counts as the whole tray
/// and a boss as itself. Nothing where no flat face looks that way; neither where they have no
/// material between them, as the flanges of a spool that look at each other.
CapLevels cap_levels(const SectionSolid& solid, const std::vector<FlatFace>& flats);

}  // namespace planform::solid
