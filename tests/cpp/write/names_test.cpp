#include <doctest/doctest.h>

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "planform/write.hpp"
#include "write/utf8.hpp"

namespace planform {
namespace {

TEST_CASE("names of parts become safe file names") {
    const std::vector<std::pair<std::string_view, std::string_view>> expected = {
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
        {"d\xC3\xA9j\xC3\xA0", "d\xC3\xA9j\xC3\xA0"},
        {"R\xC3\xBC"
         "ckwand/links",
         "R\xC3\xBC"
         "ckwand_links"},
        {"\xE5\x89\x8D\xE6\x9D\xBF 2", "\xE5\x89\x8D\xE6\x9D\xBF_2"},  // front plate, in Japanese
        {"Ru\xCC\x88"
         "ckwand",
         "R\xC3\xBC"
         "ckwand"},                                                // u and a diaeresis, composed
        {"\xE0\xA4\x9B\xE0\xA4\xA4", "\xE0\xA4\x9B\xE0\xA4\xA4"},  // roof, in Hindi
        {"\xD9\xA3\xD9\xA4", "\xD9\xA3\xD9\xA4"},                  // Arabic-Indic digits
        {"COM\xC2\xB9", "COM_"},                                   // a raised 1: no digit
        {"a\xE2\x80\xAE"
         "b",
         "a_b"},  // turns the reading direction
        {"1\xE2\x81\x84"
         "2",
         "1_2"},  // looks like a slash
        {std::string_view("a\0b\n", 4), "a_b_"},
        {"\xFF\xFE", "__"},
    };
    for (const auto& [name, stem] : expected) CHECK(safe_file_stem(name) == stem);
}

TEST_CASE("safe file names are at most 80 characters and 180 bytes, whatever the name") {
    CHECK(safe_file_stem(std::string(300, 'x')) == std::string(80, 'x'));
    std::string dots(79, 'x');
    dots.append("..y");
    CHECK(safe_file_stem(dots) == std::string(79, 'x'));
    for (int byte = 0; byte < 256; ++byte) {
        const std::string stem = safe_file_stem(std::string(100, static_cast<char>(byte)));
        CHECK(!stem.empty());
        CHECK(stem.size() <= 180);
        CHECK(stem.find_first_of("/\\:*?\"<>| ") == std::string::npos);
    }
    // Three bytes each: cut between characters.
    std::string many;
    for (int i = 0; i < 300; ++i) many += "\xE6\x9D\xBF";
    CHECK(safe_file_stem(many) == many.substr(0, 180));
    CHECK(safe_file_stem("a" + many) == "a" + many.substr(0, 177));
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
