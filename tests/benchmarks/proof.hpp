#pragma once

#include <string>
#include <vector>

namespace benchmark {

/// What the proof of a silhouette costs, as a share of the silhouette without one: quick, in full,
/// and with the areas of the faces found anew, as in a solid's first silhouette. Prints Markdown;
/// returns how many models failed.
int compare_proofs(const std::vector<std::string>& files);

}  // namespace benchmark
