#pragma once

/// A model as bytes: binary BREP of its distinct shapes, and all that its solids carry besides.

#include <string>
#include <string_view>

#include "planform/model.hpp"

namespace planform::model {

/// The bytes mean something to the same build on the same machine only.
std::string packed(const Model& model);

/// What packed() was given, with another source. Directions in the shapes come back with rounding
/// (the kernel normalises them), all else bit for bit. Throws LoadError (file_damaged) for bytes
/// that are no such model; bytes that nobody forged should be checked by digest before.
Model unpacked(std::string_view bytes, const std::string& source);

/// Names the build: bytes of one are not for another.
std::string packing_version();

}  // namespace planform::model
