#pragma once

/// Are two plates the same body?

#include <memory>
#include <optional>
#include <vector>

#include "planform/plate.hpp"

namespace planform::plate {

/// What tells a plate from others.
struct Likeness {
    const Plate* plate;
    std::vector<Solid> solids;  ///< the first is the plate's, then its islands
    double surface;             ///< area of the solid's surface, mm^2
    /// Heights over the bottom at which anything changes, and sections between them; made when they
    /// are first needed, for plates that are not straight only.
    std::vector<double> levels;
    std::vector<ProfileSet> layers;
};

enum class Sameness {
    different,
    same,         ///< one is the other, moved
    turned_over,  ///< the same body; its outline is the mirror image
    mirrored,     ///< the mirror image, another body
};

/// Compares by thickness, outline and, where features remain, by sections. Throws GeometryError if
/// a section fails.
Sameness compare(Likeness& first, Likeness& second, double same_within);

/// The same for two bent plates: by outline and bends.
Sameness compare_bent(const Plate& first, const Plate& second, double same_within);

}  // namespace planform::plate
