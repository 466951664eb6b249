#include "solid/boundary_walk.hpp"

#include <limits>

#include "planform/error.hpp"

namespace planform::solid {

std::vector<std::size_t> next_in_walk(const std::vector<WalkedUse>& uses, const Vector2& range) {
    std::vector<char> taken(uses.size(), 0);
    std::vector<std::size_t> result;
    result.reserve(uses.size());
    for (const WalkedUse& here : uses) {
        std::size_t next = uses.size();
        double nearest = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < uses.size(); ++i) {
            if (taken[i] != 0 || uses[i].entry.vertex != here.exit.vertex) continue;
            const double distance = (uses[i].entry.uv - here.exit.uv).cwiseQuotient(range).norm();
            if (distance < nearest) {
                nearest = distance;
                next = i;
            }
        }
        if (next == uses.size())
            throw GeometryError(ErrorKind::face_not_flattened,
                                "its boundary is not a closed loop of edges");
        taken[next] = 1;
        result.push_back(next);
    }
    return result;
}

}  // namespace planform::solid
