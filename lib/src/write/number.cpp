#include "write/number.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <string_view>

#include "planform/error.hpp"

namespace planform::write {

namespace {

/// Room for the longest double without exponent: sign, 309 digits, or 0. with 1074 digits.
using Digits = std::array<char, 1200>;

void require_finite(double number) {
    if (!std::isfinite(number)) {
        throw GeometryError(ErrorKind::invalid_argument,
                            "the outlines hold a number that is not finite; nothing was written");
    }
}

}  // namespace

void append_plain(std::string& text, double number) {
    require_finite(number);
    Digits digits;
    const double unsigned_zero = number == 0.0 ? 0.0 : number;
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), unsigned_zero,
                                   std::chars_format::fixed)
                         .ptr;
    const std::string_view written(digits.data(), static_cast<std::size_t>(end - digits.data()));
    text += written;
    if (written.find('.') == std::string_view::npos) text += ".0";
}

void append_shortest(std::string& text, double number) {
    require_finite(number);
    Digits digits;
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), number).ptr;
    text.append(digits.data(), end);
    if (number == 0.0 && std::signbit(number)) text += ".0";
}

}  // namespace planform::write
