#pragma once

/// Files that a model's file names: parts of an assembly may lie in STEP files of their own.

#include <filesystem>
#include <string_view>
#include <vector>

namespace planform::model {

/// The STEP files in the folder of `source` whose names stand in its bytes as texts of their own:
/// all that reading it may read besides (and a few more: a header may name its file by another
/// name). Those that they name in turn, too. In the order in which they are found; without
/// `source`.
std::vector<std::filesystem::path> referred_files(std::string_view bytes,
                                                  const std::filesystem::path& source);

}  // namespace planform::model
