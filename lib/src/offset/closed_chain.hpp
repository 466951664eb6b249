#pragma once

/// Contours close within a share of their size only; bands need chains without gaps.

#include <vector>

#include "offset/raw_loop.hpp"

namespace planform::offset_detail {

/// The elements of a contour without gaps that are more than a joint: lines beside each other go on
/// to where they cross if that is as near as their gap, any other gap becomes a line. Lines shorter
/// than a joint are left out: where they lead, to and fro, is rounding.
std::vector<Element> closed_chain(std::vector<Element> elements);

}  // namespace planform::offset_detail
