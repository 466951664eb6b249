#pragma once

/// Findings about what an allowance changes.

#include <string>
#include <vector>

#include "offset/moved.hpp"
#include "offset/source.hpp"
#include "offset/words.hpp"
#include "planform/offset.hpp"

namespace planform::offset_detail {

/// A finding with the default severity of its rule.
Finding finding_of(RuleKind kind, const Point2& place, std::string text);

/// The set with the findings, sorted by rule and place, and a note for each.
Allowed with_findings(ProfileSet set, std::vector<Finding> findings);

/// What moving the contours of `set` changed in kind: contours of which nothing is left, that fell
/// apart, that were joined. `furthest`: mm, the greatest distance. Places and widths are those of
/// the narrow places of the set up to twice that.
std::vector<Finding> changes(const ProfileSet& set, const Source& source,
                             const std::vector<MovedLoop>& loops, double furthest);

}  // namespace planform::offset_detail
