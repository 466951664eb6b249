#pragma once

/// How wide is a free-form face on the datum?

#include "solid/face_surface.hpp"

namespace planform::flatten {

/// True if a free-form face, sampled on each of its pieces, is so narrow on the datum that nobody
/// sees which way it turns there: what folds it has are noise. Either it is a wall, seen edge-on
/// within some degrees everywhere, whose way over its height is shorter than `width` mm: a face
/// that is steep nowhere is no wall, however flat it lies. Or its lines of one parameter are all
/// shorter than that on the datum.
bool is_narrower_on_datum(const solid::FaceSurface& surface, double width);

}  // namespace planform::flatten
