#include <utf8proc.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <memory>
#include <string>

#include "planform/write.hpp"
#include "write/utf8.hpp"

namespace planform {

namespace {

/// In characters; and in bytes, as file systems count: 255 of them with a suffix and what a
/// temporary name adds.
constexpr std::size_t most_characters = 80;
constexpr std::size_t most_bytes = 180;
constexpr std::string_view name_for_nothing = "unnamed";

/// Letters and digits of every script, and the marks that belong to letters (categories L, Nd and M
/// of the Unicode Standard, section 4.5). All of them can stand in names of POSIX and Windows.
bool stays(utf8proc_int32_t character) {
    if (character == '-' || character == '_' || character == '.') return true;
    switch (utf8proc_category(character)) {
        case UTF8PROC_CATEGORY_LU:
        case UTF8PROC_CATEGORY_LL:
        case UTF8PROC_CATEGORY_LT:
        case UTF8PROC_CATEGORY_LM:
        case UTF8PROC_CATEGORY_LO:
        case UTF8PROC_CATEGORY_ND:
        case UTF8PROC_CATEGORY_MN:
        case UTF8PROC_CATEGORY_MC:
            return true;
        default:
            return false;
    }
}

/// Composed as some systems do on their own (Unicode Standard Annex 15, form NFC), so that one name
/// gives one file. `text` is well-formed UTF-8.
std::string composed(const std::string& text) {
    utf8proc_uint8_t* result = nullptr;
    const utf8proc_ssize_t size =
        utf8proc_map(reinterpret_cast<const utf8proc_uint8_t*>(text.data()),
                     static_cast<utf8proc_ssize_t>(text.size()), &result,
                     static_cast<utf8proc_option_t>(UTF8PROC_STABLE | UTF8PROC_COMPOSE));
    const std::unique_ptr<utf8proc_uint8_t, decltype(&std::free)> owner(result, &std::free);
    // Only what is not UTF-8, or no memory, fails: then the text stays as it is.
    return size < 0 ? text : std::string(reinterpret_cast<const char*>(result), size);
}

/// One '_' for each character that does not stay, however many bytes it has, and for each byte that
/// belongs to none; cut where a character ends.
std::string with_plain_letters(std::string_view name) {
    const std::string text = composed(write::valid_utf8(name));
    std::string stem;
    std::size_t characters = 0;
    for (std::size_t position = 0; position < text.size() && characters < most_characters;) {
        const std::size_t size = write::character_size(text, position);
        utf8proc_int32_t character = -1;
        utf8proc_iterate(reinterpret_cast<const utf8proc_uint8_t*>(text.data()) + position,
                         static_cast<utf8proc_ssize_t>(size), &character);
        const bool kept = stays(character);
        if (stem.size() + (kept ? size : 1) > most_bytes) break;
        if (kept)
            stem.append(text, position, size);
        else
            stem += '_';
        position += size;
        ++characters;
    }
    return stem;
}

std::string lower(std::string_view text) {
    std::string result(text);
    for (char& letter : result) {
        if (letter >= 'A' && letter <= 'Z') letter = static_cast<char>(letter - 'A' + 'a');
    }
    return result;
}

/// Names that some systems give to devices, in any case and with any suffix. From memory: the list
/// of reserved names of the Windows file name conventions.
bool is_device(std::string_view stem) {
    constexpr std::array<std::string_view, 4> plain = {"con", "prn", "aux", "nul"};
    const std::string first = lower(stem.substr(0, stem.find('.')));
    if (std::find(plain.begin(), plain.end(), first) != plain.end()) return true;
    const bool numbered = first.size() == 4 && first[3] >= '0' && first[3] <= '9';
    return numbered && (first.starts_with("com") || first.starts_with("lpt"));
}

}  // namespace

std::string safe_file_stem(std::string_view name) {
    std::string stem = with_plain_letters(name);
    stem.erase(0, std::min(stem.find_first_not_of('.'), stem.size()));
    if (is_device(stem)) stem.insert(stem.begin(), '_');
    // A closing dot is dropped by some systems: two names would become one.
    while (!stem.empty() && stem.back() == '.') stem.pop_back();
    return stem.empty() ? std::string(name_for_nothing) : stem;
}

}  // namespace planform
