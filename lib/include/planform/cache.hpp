#pragma once

/// Models that have been read before, kept parsed in a folder: reading one again takes a fraction
/// of the time of reading STEP.

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>

#include "planform/model.hpp"

namespace planform {

struct CacheOptions {
    /// Where the parsed models are kept; made if missing. Empty: nothing is kept.
    std::filesystem::path folder;
    /// Bytes that all of them may take; those not used for longest go first.
    std::uint64_t limit = std::uint64_t{1} << 30;
};

/// load(), from the cache if it holds this file's bytes as read by this version with these options.
/// The model is the same bit for bit whether it was in the cache or not, and the same as load()'s
/// but for rounding (1e-15 of its size): the kernel's binary format normalises directions. Safe
/// with several processes and threads. A cache that is damaged, read-only or full costs time and
/// nothing else: entries are checked by digest, and no error of the cache is thrown. Throws as
/// load() does. Don't share a folder with people you don't trust: the digest guards against damage,
/// not against forgery.
Model load_cached(const std::filesystem::path& path, const CacheOptions& cache,
                  const LoadOptions& options = {});
/// The same of bytes that were read from `path` before, so that a caller knows of what the model
/// is; files that they name are read, from its folder.
Model load_cached_bytes(std::string bytes, const std::filesystem::path& path,
                        const CacheOptions& cache, const LoadOptions& options = {});

/// The model as bytes, for another process of this build on a machine of this kind: what a cache
/// keeps of it, and its source. Throws LoadError (kernel_failure) if the kernel can't write a
/// shape.
std::string model_bytes(const Model& model);
/// What model_bytes() was given; equal to it. Throws LoadError (file_damaged) for bytes of another
/// build, or damaged ones. Not for bytes from people you don't trust.
Model model_from_bytes(std::string_view bytes);

/// Where a person's caches belong: $XDG_CACHE_HOME/planform, else ~/.cache/planform (XDG Base
/// Directory Specification 0.8); empty if there is no home.
std::filesystem::path default_cache_folder();

}  // namespace planform
