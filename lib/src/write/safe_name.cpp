#include <algorithm>
#include <array>
#include <cctype>
#include <string>

#include "planform/write.hpp"
#include "write/utf8.hpp"

namespace planform {

namespace {

constexpr std::size_t longest_stem = 80;
constexpr std::string_view name_for_nothing = "unnamed";

bool stays(char letter) {
    return (letter >= 'a' && letter <= 'z') || (letter >= 'A' && letter <= 'Z') ||
           (letter >= '0' && letter <= '9') || letter == '-' || letter == '_' || letter == '.';
}

/// One '_' for each character that does not stay, however many bytes it has.
std::string with_plain_letters(std::string_view name) {
    std::string stem;
    for (std::size_t position = 0; position < name.size();) {
        stem += stays(name[position]) ? name[position] : '_';
        position += std::max<std::size_t>(1, write::character_size(name, position));
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
    stem.resize(std::min(stem.size(), longest_stem));
    // A closing dot is dropped by some systems: two names would become one.
    while (!stem.empty() && stem.back() == '.') stem.pop_back();
    return stem.empty() ? std::string(name_for_nothing) : stem;
}

}  // namespace planform
