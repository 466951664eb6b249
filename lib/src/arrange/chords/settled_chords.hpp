#pragma once

/// First chords, as long as what lies beside them allows.

#include <cstddef>
#include <optional>
#include <vector>

#include "arrange/chords/chording.hpp"

namespace planform::arrange {

/// Chords decide the topology only: corners and curves are exact after recovery. So two chords may
/// be as long as they like where they are settled, that is, where they provably meet as their
/// curves do: not at all, once and across each other, or in a node that both begin or end at, and
/// where the places at which others cross a chord come in a certain order along it. What isn't
/// settled gets shorter, by half of the turn at a time, down to chords within `finest` (mm) of
/// their curves; among those nothing is asked. `margin` (mm): what rounding may move. Chords that
/// are one but for that are left as they are once they are within `fine` (mm): shorter ones would
/// cross each other more often, and tell no more.
Polylines settled_chords(const CarrierSet& set, double fine, double finest, double margin);

/// The same, unless chords of splines that can't be told apart come more than `most_alike` times:
/// then nothing, and `alike` (by carrier) tells the splines that were being told apart from others.
std::optional<Polylines> settled_unless_alike(const CarrierSet& set, double fine, double finest,
                                              double margin, std::size_t most_alike,
                                              std::vector<char>& alike);

}  // namespace planform::arrange
