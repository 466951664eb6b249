#pragma once

/// All faces of a solid, seen along the datum's normal.

#include <vector>

#include "features/face_view.hpp"
#include "solid/cap_levels.hpp"
#include "solid/section_solid.hpp"

namespace planform::features {

/// All faces, in their order.
std::vector<FaceView> view_faces(const solid::SectionSolid& solid,
                                 const std::vector<solid::FlatFace>& flats,
                                 const solid::CapLevels& caps);

}  // namespace planform::features
