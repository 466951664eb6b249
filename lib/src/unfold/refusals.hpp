#pragma once

/// Refusals with faces, places and words for them.

#include <string>
#include <vector>

#include "unfold/development.hpp"

namespace planform::unfolding {

/// "face 3", "faces 3, 5 and 7": numbers in the solid; of many the first few.
std::string face_words(const SheetBody& body, std::vector<int> faces);

/// Throws Refused; the place is the middle of the first face's boundary. Faces by index.
[[noreturn]] void refuse(NotUnfolded reason, const std::string& text, const SheetBody& body,
                         const std::vector<int>& faces);

/// Middle of the places of a face.
Point3 place_of(const SheetBody& body, int face);

/// "(1, 2, 3)", mm.
std::string place_words(const Point3& place);

}  // namespace planform::unfolding
