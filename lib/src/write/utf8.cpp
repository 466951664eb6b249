#include "write/utf8.hpp"

namespace planform::write {

namespace {

unsigned byte_at(std::string_view text, std::size_t position) {
    return position < text.size() ? static_cast<unsigned char>(text[position]) : 0U;
}

bool between(unsigned byte, unsigned low, unsigned high) { return byte >= low && byte <= high; }

/// Row of the table: by the first byte, the size and the range of the second byte.
struct Row {
    std::size_t size;
    unsigned low, high;
};

Row row_of(unsigned first) {
    if (between(first, 0xC2, 0xDF)) return {2, 0x80, 0xBF};
    if (first == 0xE0) return {3, 0xA0, 0xBF};
    if (first == 0xED) return {3, 0x80, 0x9F};
    if (between(first, 0xE1, 0xEF)) return {3, 0x80, 0xBF};
    if (first == 0xF0) return {4, 0x90, 0xBF};
    if (between(first, 0xF1, 0xF3)) return {4, 0x80, 0xBF};
    if (first == 0xF4) return {4, 0x80, 0x8F};
    return {0, 0, 0};
}

}  // namespace

std::size_t character_size(std::string_view text, std::size_t position) {
    if (position >= text.size()) return 0;
    const unsigned first = byte_at(text, position);
    if (first < 0x80) return 1;
    const Row row = row_of(first);
    if (row.size == 0 || !between(byte_at(text, position + 1), row.low, row.high)) return 0;
    for (std::size_t i = 2; i < row.size; ++i) {
        if (!between(byte_at(text, position + i), 0x80, 0xBF)) return 0;
    }
    return row.size;
}

std::string valid_utf8(std::string_view text) {
    std::string result;
    for (std::size_t position = 0; position < text.size();) {
        const std::size_t size = character_size(text, position);
        result += size > 0 ? text.substr(position, size) : std::string_view("\xEF\xBF\xBD");
        position += size > 0 ? size : 1;
    }
    return result;
}

}  // namespace planform::write
