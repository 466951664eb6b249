#pragma once

/// Errors that say which solid and which face they are about.

#include <functional>

#include "planform/model.hpp"

namespace planform::flatten {

/// Runs `work`; errors come out with the number of the face, those of the kernel as GeometryError.
void in_face(int number, const std::function<void()>& work);

/// Runs `work`; errors come out with the name of the solid, those of the kernel as GeometryError.
void in_solid(const Solid& solid, const std::function<void()>& work);

}  // namespace planform::flatten
