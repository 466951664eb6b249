#pragma once

/// Outlines held against a mesh of the solid, place by place.

#include <string>
#include <vector>

#include "mesh.hpp"
#include "planform/profile.hpp"

namespace corpus {

/// A place at which outline and mesh say different things.
struct Disagreement {
    planform::Point2 at;
    bool outline_has_material;
    std::string found;  ///< how the place was chosen
};

struct Verdict {
    long long places = 0;  ///< that were asked
    std::vector<Disagreement> disagreements;
};

/// How far apart outline and mesh may be, mm.
struct Limits {
    double apart = 0.03;  ///< three times the default tolerance of an outline
    double deflection() const { return apart / 6.0; }
    double chord() const { return apart / 15.0; }
};

/// A silhouette against the projected triangles:
/// - each node, and the middle of each triangle, lies in the outline or within `apart` of it;
/// - beside each edge at which the shadow may end, and beside the outline, on either side, a place
///   lies in the outline if and only if triangles cover it.
/// A place counts if it is further than `apart` from the outline and, where no triangle covers it,
/// from all triangles. As what is covered changes at edges only, two regions that agree beside all
/// edges of both are the same. Along long edges samples are taken, some 4,000 of each kind.
Verdict judge_silhouette(const planform::ProfileSet& set, const ProjectedMesh& mesh,
                         const Limits& limits);

/// A section against the segments in which its plane cuts the mesh: beside both, on either side, a
/// place further than `apart` from both lies in the outline if and only if the segments go round
/// it. Where a surface is nearly parallel to the plane the two differ by more than the limit
/// though both are right: a referee has to look at what this finds.
Verdict judge_section(const planform::ProfileSet& set, const std::vector<Segment>& segments,
                      const Limits& limits);

}  // namespace corpus
