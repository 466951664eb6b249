#pragma once

/// Where curves of a model miss the vertex that they should end in, and whether that can be seen.

#include <cstddef>
#include <string>
#include <vector>

#include "arrange/arrange.hpp"
#include "planform/flatten.hpp"

namespace planform::flatten {

/// A straight line that joins the end of a curve to its node.
struct BridgedGap {
    Line bridge;
    Provenance provenance;  ///< of the curve

    double width() const { return (bridge.end - bridge.start).norm(); }
};

/// The widest gap (mm) that nobody has to be told of: as wide as the tolerance, but no wider than a
/// hundredth of the body's extent on the datum (mm), or the outline of a small body would be
/// another.
double widest_silent_gap(double tolerance, double extent);

/// "edge 7: its outline ends 0.05 mm beside its vertex, near (1, 2)".
std::string description_of(const BridgedGap& gap);

/// The first gap wider than `allowed(solid)` mm that the loops show: its curve is part of them, or
/// they pass it as near as it is wide. A curve that ends beside its vertex is off by as much along
/// its way, so that such an outline isn't known to better than that; what lies inside the shadow
/// doesn't matter.
template <class Allowed, class ProvenanceOf>
const BridgedGap* first_visible_gap(const std::vector<BridgedGap>& gaps,
                                    const std::vector<arrange::Loop>& loops, const Allowed& allowed,
                                    const ProvenanceOf& provenance_of) {
    for (const BridgedGap& gap : gaps) {
        if (gap.width() <= allowed(gap.provenance.solid)) continue;
        const Point2 middle = 0.5 * (gap.bridge.start + gap.bridge.end);
        for (const arrange::Loop& loop : loops)
            for (std::size_t i = 0; i < loop.curves.size(); ++i) {
                const Provenance from = provenance_of(loop.tags[i]);
                if (from.kind == gap.provenance.kind && from.solid == gap.provenance.solid &&
                    from.entity == gap.provenance.entity)
                    return &gap;
                const Curve& curve = loop.curves[i];
                if (bounds(curve).exteriorDistance(middle) > 1.5 * gap.width()) continue;
                const Point2 nearest = point_at(curve, nearest_parameter(curve, middle));
                if ((nearest - middle).norm() <= 1.5 * gap.width()) return &gap;
            }
    }
    return nullptr;
}

}  // namespace planform::flatten
