#include "write/palette.hpp"

#include <algorithm>
#include <array>
#include <limits>

namespace planform::write {

namespace {

constexpr std::array<std::uint32_t, 10> basic = {0x000000, 0xFF0000, 0xFFFF00, 0x00FF00, 0x00FFFF,
                                                 0x0000FF, 0xFF00FF, 0xFFFFFF, 0x808080, 0xC0C0C0};
constexpr std::array<std::uint32_t, 6> greys = {0x000000, 0x656565, 0x666666,
                                                0x999999, 0xCCCCCC, 0xFFFFFF};
constexpr std::array<int, 5> shade_depths = {255, 165, 127, 76, 38};

/// A channel of a hue, in quarters from 0 to 4, `shift` steps of 15 degrees behind red.
int quarters(int hue, int shift) {
    const int step = (hue + shift) % 24;  // 0: full, 4: still full, 8: none, 16: none, 20: full
    if (step <= 4 || step >= 20) return 4;
    if (step < 8) return 8 - step;
    if (step <= 16) return 0;
    return step - 16;
}

int channel(int depth, int share, bool half_saturated) {
    // In eighths, so that halves are rounded once, down.
    const int eighths = half_saturated ? share + 4 : 2 * share;
    return depth * eighths / 8;
}

int squared(int difference) { return difference * difference; }

int part(std::uint32_t rgb, int shift) { return static_cast<int>((rgb >> shift) & 0xFFU); }

}  // namespace

std::uint32_t rgb_of_index(int index) {
    if (index < 10) return basic[static_cast<std::size_t>(std::max(index, 0))];
    if (index >= 250) return greys[static_cast<std::size_t>(std::min(index, 255) - 250)];
    const int hue = (index - 10) / 10;
    const int depth = shade_depths[static_cast<std::size_t>(index % 10 / 2)];
    const bool half = index % 2 == 1;
    std::uint32_t rgb = 0;
    for (const int shift : {0, 16, 8})
        rgb = rgb << 8U | static_cast<std::uint32_t>(channel(depth, quarters(hue, shift), half));
    return rgb;
}

int nearest_index(std::uint32_t rgb) {
    int best = 1;
    int least = std::numeric_limits<int>::max();
    for (int index = 1; index <= 255; ++index) {
        const std::uint32_t other = rgb_of_index(index);
        int distance = 0;
        for (const int shift : {0, 8, 16})
            distance += squared(part(rgb, shift) - part(other, shift));
        if (distance < least) {
            least = distance;
            best = index;
        }
    }
    return best;
}

}  // namespace planform::write
