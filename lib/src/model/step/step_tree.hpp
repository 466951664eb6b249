#pragma once

/// The assembly tree of a STEP file: from products and instances to solids.

#include <vector>

#include "model/read/collect.hpp"
#include "model/step/step_nodes.hpp"

namespace planform::model {

/// All bodies in the order of the tree, with names, colours and places.
std::vector<Solid> solids_of(const Products& products, Collector& collector, double factor);

}  // namespace planform::model
