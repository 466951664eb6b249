#pragma once

/// Where the solids come from, and what is done with them.

#include <cstdint>
#include <filesystem>
#include <vector>

#include "child.hpp"

namespace corpus {

/// Model files, one a line of the list; the line "demo" is the demo's model. Throws
/// std::runtime_error if the list can't be read.
std::vector<Source> files_of(const std::filesystem::path& list);

/// Bodies made from the seeds first, ..., last (odd_bodies.hpp), each seen in its own way.
std::vector<Source> bodies_of(std::uint64_t first, std::uint64_t last, planform::Verify verify);

/// Springs seen along their axis, across it and tilted, hidden-line removal timed beside them
/// (coils.hpp).
std::vector<Source> springs(planform::Verify verify);

}  // namespace corpus
