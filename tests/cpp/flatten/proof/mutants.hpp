#pragma once

/// Errors made on purpose in the silhouette of a solid, and what becomes of them.

#include <map>
#include <string>
#include <vector>

#include "planform/flatten.hpp"

namespace mutants {

enum class Kind {
    face_forgotten,
    face_flipped,
    stretch_dropped,
    stretch_doubled,
    fold_dropped,
    fold_doubled,
    root_moved,
    edge_dropped,
    edge_doubled
};

std::string name_of(Kind kind);

/// What became of the mutants of one kind.
struct Tally {
    int made = 0;
    int harmless = 0;  ///< the area changes by no more than perimeter x 2 tolerances
    int missed = 0;    ///< handed out wrong
    std::vector<std::string> which_missed;  ///< "face 3, 2nd" and the like
    std::map<std::string, int> caught;      ///< by what was said, or "mended"
};

using Table = std::map<Kind, Tally>;

/// Tries mutants of one solid, at most `most` of each kind, spread over its faces and edges.
void try_mutants(const planform::Solid& solid, const planform::Datum& datum, double tolerance,
                 planform::Verify verify, int most, Table& table);

/// The table as text, a line a kind.
std::string text_of(const Table& table);

/// Of the mutants that do harm, the share that is caught; 1 if there are none.
double caught_share(const Table& table);

}  // namespace mutants
