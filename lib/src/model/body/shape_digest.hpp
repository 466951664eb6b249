#pragma once

/// What stands for the shape of a solid when solids are compared.

#include <array>
#include <cstdint>

#include "planform/model.hpp"

namespace planform::model {

/// 128 bits: XXH3 of what the kernel writes of a shape.
using ShapeDigest = std::array<std::uint64_t, 2>;

/// Of the distinct shape that the solid is an instance of; made once. Throws LoadError
/// (kernel_failure) if the kernel can't write it.
ShapeDigest shape_digest(const Solid& solid);

/// Of a shape that was packed: the kernel's format rounds directions, so that its own digest would
/// be another. Does nothing if the digest is known.
void adopt_shape_digest(const Solid& solid, const ShapeDigest& digest);

}  // namespace planform::model
