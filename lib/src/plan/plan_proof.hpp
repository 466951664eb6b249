#pragma once

/// The laws that a plan is held against before it is handed out.

#include "plan/sheet_field.hpp"

namespace planform::planning {

/// Replays the plan: every contour of the pieces is cut once and every mark made once, marks before
/// cuts, and when a contour is cut all that lies in it is done. What lies in what is asked anew, by
/// points on chords. Throws GeometryError (law_broken) that names the cut.
void prove_order(const std::vector<PlacedPiece>& pieces, const CutPlan& plan, Proof& proof);

/// Measures every entry and exit: it begins and ends where it should, keeps its distance, and lies
/// in waste; what has a finding may come nearer, but touches nothing. Throws as above.
void prove_entries(const SheetField& field, const SheetField* sheet, const PlanOptions& options,
                   const CutPlan& plan, Proof& proof);

}  // namespace planform::planning
