#pragma once

/// Where faces of a solid meet.

#include <cstddef>
#include <vector>

#include "features/face_view.hpp"
#include "solid/section_solid.hpp"

namespace planform::features {

/// How the surface of the material bends across an edge.
enum class Bend { convex, concave, smooth };

/// An edge between two faces.
struct Junction {
    int edge = 0;                       ///< index in the graph
    std::size_t first = 0, second = 0;  ///< faces
    Bend bend = Bend::smooth;
    Box3 box;  ///< of the edge, in datum coordinates

    double low() const { return box.min().z(); }
    double high() const { return box.max().z(); }
    std::size_t other(std::size_t face) const { return face == first ? second : first; }
};

class Junctions {
  public:
    explicit Junctions(const solid::SectionSolid& solid);

    const std::vector<Junction>& all() const { return junctions_; }
    /// Indices in all() of those of a face, in their order.
    const std::vector<std::size_t>& of(std::size_t face) const { return of_face_[face]; }

  private:
    std::vector<Junction> junctions_;
    std::vector<std::vector<std::size_t>> of_face_;
};

}  // namespace planform::features
