#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

#include "planform/write.hpp"
#include "write/utf8.hpp"

namespace planform {
namespace {

TEST_CASE("names of parts become safe file names") {
    const std::vector<std::pair<std::string, std::string>> expected = {
        {"perch 2", "perch_2"},
        {"../../x", "_.._x"},
        {"a/b", "a_b"},
        {"a\\b", "a_b"},
        {"\"><script>", "___script_"},
        {"C:\\temp", "C__temp"},
        {"", "unnamed"},
        {".", "unnamed"},
        {"..", "unnamed"},
        {".hidden", "hidden"},
        {"ends.", "ends"},
        {"CON", "_CON"},
        {"con.txt", "_con.txt"},
        {"Lpt7", "_Lpt7"},
        {"COM10", "COM10"},
        {"console", "console"},
        {"nest \xF0\x9F\x90\xA6 box", "nest___box"},
        {"d\xC3\xA9j\xC3\xA0", "d_j_"},
        {std::string("a\0b\n", 4), "a_b_"},
        {"\xFF\xFE", "__"},
    };
    for (const auto& [name, stem] : expected) CHECK(safe_file_stem(name) == stem);
}

TEST_CASE("safe file names are at most 80 bytes, whatever the name") {
    CHECK(safe_file_stem(std::string(300, 'x')) == std::string(80, 'x'));
    CHECK(safe_file_stem(std::string(79, 'x') + "..y") == std::string(79, 'x'));
    for (int byte = 0; byte < 256; ++byte) {
        const std::string stem = safe_file_stem(std::string(100, static_cast<char>(byte)));
        CHECK(!stem.empty());
        CHECK(stem.size() <= 80);
        CHECK(stem.find_first_of("/\\:*?\"<>| ") == std::string::npos);
    }
}

TEST_CASE("bytes that are no UTF-8 are replaced, all else stays") {
    const std::string mark = "\xEF\xBF\xBD";
    CHECK(write::valid_utf8("nest \xF0\x9F\x90\xA6") == "nest \xF0\x9F\x90\xA6");
    CHECK(write::valid_utf8("a\xFFz") == "a" + mark + "z");
    CHECK(write::valid_utf8("\xC0\xAF") == mark + mark);                     // an overlong slash
    CHECK(write::valid_utf8("\xED\xA0\x80") == mark + mark + mark);          // a surrogate
    CHECK(write::valid_utf8("\xF4\x90\x80\x80").size() == 4 * mark.size());  // above U+10FFFF
    CHECK(write::valid_utf8("\xE2\x82") == mark + mark);                     // cut off
}

}  // namespace
}  // namespace planform
