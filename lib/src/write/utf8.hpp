#pragma once

/// Names from files are bytes of any kind; what is written is valid UTF-8.

#include <cstddef>
#include <string>
#include <string_view>

namespace planform::write {

/// Number of bytes of the well-formed character at `position`, 0 if there is none. Source: The
/// Unicode Standard, table 3-7 (well-formed UTF-8 byte sequences).
std::size_t character_size(std::string_view text, std::size_t position);

/// The text with every byte that is no part of a well-formed character replaced by U+FFFD.
std::string valid_utf8(std::string_view text);

}  // namespace planform::write
