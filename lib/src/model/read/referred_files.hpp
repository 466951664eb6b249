#pragma once

/// Files that a model's file names: parts of an assembly may lie in STEP files of their own.

#include <filesystem>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace planform::model {

/// The files that texts in the bytes of `source`, a STEP file, name from its folder: all that
/// reading it may read besides, and now and then one more. Without `source`, in the order in which
/// they are found; not those that they name in turn. None if the file has no entity that names
/// documents.
std::vector<std::filesystem::path> referred_files(std::string_view bytes,
                                                  const std::filesystem::path& source);

/// Calls `visit` with each file that the bytes of `source` name, or that one of those names, and
/// with what is in it; each is read once. A null pointer: it can't be read.
void visit_referred_files(
    std::string_view bytes, const std::filesystem::path& source,
    const std::function<void(const std::filesystem::path&, const std::string*)>& visit);

}  // namespace planform::model
