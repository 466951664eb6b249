#include "flatten/collect/bridged_gaps.hpp"

#include <algorithm>
#include <sstream>

namespace planform::flatten {

double widest_silent_gap(double tolerance, double extent) {
    constexpr double share = 0.01;
    return std::min(tolerance, share * extent);
}

std::string description_of(const BridgedGap& gap) {
    const bool is_edge = gap.provenance.kind == Provenance::Kind::edge;
    std::ostringstream text;
    text << (is_edge ? "edge " : "face ") << gap.provenance.entity << ": its outline ends "
         << gap.width() << " mm beside its vertex, near (" << gap.bridge.start.x() << ", "
         << gap.bridge.start.y() << ")";
    return text.str();
}

}  // namespace planform::flatten
