#include "write/dxf_string.hpp"

#include <cstddef>

#include "write/utf8.hpp"

namespace planform::write {
namespace {

constexpr std::size_t longest = 255;

/// The code point of a well-formed character. Source: The Unicode Standard, table 3-6.
char32_t code_point(std::string_view character) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(character[i]); };
    if (character.size() == 1) return byte(0);
    char32_t code = byte(0) & (0x7Fu >> character.size());
    for (std::size_t i = 1; i < character.size(); ++i) code = code << 6 | (byte(i) & 0x3Fu);
    return code;
}

std::string escaped(char32_t code) {
    constexpr std::string_view digits = "0123456789ABCDEF";
    std::string text = "\\U+";
    for (int shift = 12; shift >= 0; shift -= 4) text += digits[(code >> shift) & 15u];
    return text;
}

}  // namespace

std::string dxf_string(std::string_view text) {
    const std::string valid = valid_utf8(text);
    std::string result;
    for (std::size_t position = 0; position < valid.size();) {
        const std::size_t size = character_size(valid, position);
        const char32_t code = code_point(std::string_view(valid).substr(position, size));
        position += size;
        std::string written(1, ' ');
        if (code > 0xFFFF)
            written = escaped(0xFFFD);
        else if (code >= 0x7F || code == U'\\')  // or it would begin an escape
            written = escaped(code);
        else if (code >= 0x20)
            written = static_cast<char>(code);
        if (result.size() + written.size() > longest) break;
        result += written;
    }
    return result;
}

}  // namespace planform::write
