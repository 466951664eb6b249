#pragma once

/// The assembly tree of a STEP file: from the kernel's document to solids.

#include <TDocStd_Document.hxx>
#include <string>
#include <vector>

#include "model/read/collect.hpp"

namespace planform::model {

/// All bodies of the document in the order of its tree, with names, colours and places.
std::vector<Solid> solids_of_document(const Handle(TDocStd_Document) & document,
                                      Collector& collector, double factor);

}  // namespace planform::model
