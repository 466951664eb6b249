#pragma once

/// The laws of offsets, each checked (doctest) on one case.
///
/// Sources: dilation, erosion, opening and closing by a disc are those of J. Serra, "Image Analysis
/// and Mathematical Morphology", Academic Press 1982, ch. II: dilations add up, an opening lies
/// within and a closing holds the set, both are idempotent, dilation goes with unions.

#include "offset/cases.hpp"

namespace laws {

/// The larger the distance, the larger the set; growth adds up.
void growth(const cases::Case& tried);
/// Opening lies inside, closing outside, both are idempotent. Gives the area (mm^2) that both
/// changed.
double opening_and_closing(const cases::Case& tried);
/// Motions, mirrors, the start and the direction of contours don't matter.
void motions(const cases::Case& tried);
/// The offset of a union is the union of the offsets.
void unions(const cases::Case& tried);

}  // namespace laws
