#pragma once

/// The folder of a cache: entries come, are used, and go when they have not been for longest.

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace planform::cache {

/// File name of an entry.
std::string entry_name(const std::string& digest);

/// The bytes of an entry, which counts as used now; nothing if it can't be read.
std::optional<std::string> used_entry(const std::filesystem::path& path);

/// Writes an entry, whole or not at all, and removes those that have not been used for longest
/// until all take `limit` bytes at most. Errors of the file system leave the cache as it is.
void keep(const std::filesystem::path& path, std::string_view bytes, std::uint64_t limit);

}  // namespace planform::cache
