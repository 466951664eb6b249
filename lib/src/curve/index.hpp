#pragma once

#include <cstddef>

namespace planform::detail {

/// A whole number that is known not to be negative, as the place in a container.
inline std::size_t index(int i) { return static_cast<std::size_t>(i); }

}  // namespace planform::detail
