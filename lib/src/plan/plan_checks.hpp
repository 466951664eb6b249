#pragma once

/// What is asked for, checked; how many strips a piece gets; findings.

#include <vector>

#include "plan/sheet_field.hpp"

namespace planform::planning {

/// Throws GeometryError (invalid_argument) that names the number.
void check_options(const std::vector<PlacedPiece>& pieces, const PlanOptions& options);

/// Strips that hold what the cut frees; 0 for holes, and for what lies safely.
int strips_for(const std::vector<PlacedPiece>& pieces, const PlanOptions& options, const Cut& cut);

/// Of an entry that is not as asked. `number` stands for the cut until it has its place in the
/// plan.
void add_entry_finding(const std::vector<PlacedPiece>& pieces, const EntryOptions& options,
                       const Cut& cut, int number, std::vector<PlanFinding>& findings);

/// Of strips that found no room, and of what falls or tips.
void add_rest_findings(const std::vector<PlacedPiece>& pieces, const PlanOptions& options,
                       const Cut& cut, int wanted, int number, std::vector<PlanFinding>& findings);

/// Of contours of two pieces that are no further apart than the cut is wide.
void add_common_cuts(const SheetField& field, double kerf, const std::vector<PlacedPiece>& pieces,
                     std::vector<PlanFinding>& findings);

}  // namespace planform::planning
