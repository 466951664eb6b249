#pragma once

/// One section of each model, ours and the kernel's.

#include <string>
#include <vector>

namespace benchmark {

/// Prints the table; the number of models that failed. The plane is square to Z, a little above the
/// middle of the model's box, where it lies in no face by design. Ours gives closed profiles of
/// exact curves; the peer is BRepAlgoAPI_Section of the same solids with its edges joined to wires
/// (ShapeAnalysis_FreeBounds), of which those that stay open are counted.
int compare_sections(const std::vector<std::string>& files);

}  // namespace benchmark
