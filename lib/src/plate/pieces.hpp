#pragma once

/// From the solids of a model to the pieces that are cut.

#include <span>
#include <vector>

#include "planform/plate.hpp"
#include "plate/recognise.hpp"

namespace planform::plate {

/// A solid with the islands in its holes, by index in the solids of the call.
struct Piece {
    int solid = 0;
    std::vector<int> islands;  ///< ascending
    bool whole_part = false;   ///< a part of several bodies, and all of them are here
};

/// Equal pieces, and what the first of them is.
struct PieceKind {
    std::vector<Piece> pieces;  ///< by solid
    Verdict verdict;
};

/// All solids as pieces, equal ones together, by their first solids. Equal are the instances of one
/// shape, and those of one part with several bodies; each is looked at once.
std::vector<PieceKind> pieces_of(std::span<const Solid> solids, const PlateOptions& options);

}  // namespace planform::plate
