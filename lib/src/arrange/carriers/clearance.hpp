#pragma once

/// Do two curves keep apart where their chords do?

#include "arrange/carriers/carriers.hpp"

namespace planform::arrange {

/// A stretch of a carrier between two ends of a chord, from < to.
struct CarrierStretch {
    const Carrier& carrier;
    double from;
    double to;
    bool ends_piece;  ///< one of its ends is that of its piece, where the outline may turn
};

/// For stretches whose chords don't cross though they are nearer than chords may stray: true if the
/// curves don't cross either, as far as `apart` mm tells. Where they cross at a clear angle, away
/// from the ends of pieces, a neighbour of the chord crosses instead: that is no harm, and true,
/// too.
bool keep_apart(const CarrierStretch& a, const CarrierStretch& b, double apart);

}  // namespace planform::arrange
