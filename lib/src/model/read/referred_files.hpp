#pragma once

/// Files that a model's file names: parts of an assembly may lie in STEP files of their own.

#include <filesystem>
#include <string_view>
#include <vector>

namespace planform::model {

/// The files that texts in the bytes of `source`, a STEP file, name from its folder: all that
/// reading it may read besides, and now and then one more. Without `source`, in the order in which
/// they are found; not those that they name in turn. None if the file has no entity that names
/// documents.
std::vector<std::filesystem::path> referred_files(std::string_view bytes,
                                                  const std::filesystem::path& source);

}  // namespace planform::model
