#pragma once

/// Colours by index, as DXF names them, and by red, green and blue.

#include <cstdint>

namespace planform::write {

/// 0xRRGGBB of a colour index from 1 to 255. Source: the palette of the published DXF reference; 10
/// to 249 are 24 hues of 15 degrees in five depths, whole and half saturated (from memory, judged
/// by a reader's table, which rounds some channels the other way).
std::uint32_t rgb_of_index(int index);

/// The index whose colour differs least: by the sum of squared differences, the lower index where
/// two are as near.
int nearest_index(std::uint32_t rgb);

}  // namespace planform::write
