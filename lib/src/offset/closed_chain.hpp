#pragma once

/// Contours close within a share of their size only; bands need chains without gaps.

#include <vector>

#include "offset/raw_loop.hpp"

namespace planform::offset_detail {

/// The elements of a contour without gaps that matter: lines and arcs beside each other go on, or
/// end sooner, where they cross if that is near; else a spline's end is moved, else a line bridges
/// the gap. Lines shorter than a joint are left out: where they lead, to and fro, is rounding.
std::vector<Element> closed_chain(std::vector<Element> elements);

}  // namespace planform::offset_detail
