#pragma once

/// Hidden-line removal of the kernel, timed.

#include <vector>

#include "planform/datum.hpp"
#include "planform/model.hpp"

namespace corpus {

/// Processor time in seconds of `HLRBRep_Algo` (Update and Hide) of the solids seen along the
/// datum's normal; nought where this build has no TKHLR.
double hidden_line_seconds(const std::vector<planform::Solid>& solids,
                           const planform::Datum& datum);

}  // namespace corpus
