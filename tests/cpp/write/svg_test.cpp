#include <doctest/doctest.h>

#include <string>

#include "planform/error.hpp"
#include "planform/write.hpp"
#include "write/sets.hpp"

namespace planform {
namespace {

bool has_text(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

TEST_CASE("the page is the outline's box in mm, y up") {
    const ProfileSet set({Profile(testing::polygon({{10, 20}, {40, 20}, {10, 60}}))});
    const std::string text = svg_text(set);
    CHECK(has_text(text, "width=\"30.0mm\" height=\"40.0mm\" viewBox=\"10.0 -60.0 30.0 40.0\""));
    CHECK(has_text(text, "d=\"M 10.0 -20.0 L 40.0 -20.0 L 10.0 -60.0 L 10.0 -20.0 Z\""));
    CHECK(has_text(text, "stroke-width=\"0.0254\""));
    CHECK(has_text(text, "fill=\"none\""));
}

TEST_CASE("each role has its group") {
    const std::string text = svg_text(testing::plate());
    const std::size_t outer = text.find("<g id=\"cut-outer\""),
                      inner = text.find("<g id=\"cut-inner\""), mark = text.find("<g id=\"mark\"");
    REQUIRE(outer < inner);
    REQUIRE(inner < mark);
    REQUIRE(mark != std::string::npos);
    CHECK(has_text(text.substr(outer, inner - outer),
                   "<circle cx=\"40.0\" cy=\"-40.0\" r=\"10.0\">"));
    CHECK(
        has_text(text.substr(inner, mark - inner), "<circle cx=\"40.0\" cy=\"-40.0\" r=\"25.0\">"));
    CHECK(has_text(text.substr(mark), "<title>sun</title>"));
}

TEST_CASE("names are escaped, whatever they hold") {
    const ProfileSet set = testing::plate();
    CHECK(has_text(
        svg_text(set.with_name("\"><script>alert('a' & 1)</script>")),
        "<title>&quot;&gt;&lt;script&gt;alert(&#39;a&#39; &amp; 1)&lt;/script&gt;</title>"));
    CHECK(has_text(svg_text(set.with_name(std::string("a\x01\xFF\0z\xEF\xBF\xBF", 8))),
                   "<title>a\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBDz\xEF\xBF\xBD</title>"));
    CHECK(has_text(svg_text(set.with_name("nest \xF0\x9F\x90\xA6")),
                   "<title>nest \xF0\x9F\x90\xA6</title>"));
}

TEST_CASE("polynomial splines are exact Bezier curves") {
    const std::string text = svg_text(ProfileSet({Profile(testing::parabola(30, 9))}));
    CHECK(has_text(text, " Q "));
    CHECK(has_text(text, "-18.0"));
    CHECK(!has_text(text, " A "));
}

TEST_CASE("ellipses that are all but flat are no arcs of the format") {
    // From ends alone their centre would be known to coordinates * 2e-16 / ratio only.
    const auto path_of = [](double ratio) {
        const EllipticalArc arc{{200, 60}, {3, 0}, ratio, 0.2, 1.0};
        return svg_text(ProfileSet({Profile(
            Contour({arc, Line{end_point(arc), {200, 70}}, Line{{200, 70}, start_point(arc)}}))}));
    };
    CHECK(has_text(path_of(2e-4), " A 3.0 "));
    CHECK_FALSE(has_text(path_of(0.5e-4), " A 3.0 "));
}

TEST_CASE("an empty set is a page of one millimetre") {
    const std::string text = svg_text(ProfileSet());
    CHECK(has_text(text, "width=\"1.0mm\" height=\"1.0mm\""));
    CHECK(!has_text(text, "<path"));
}

TEST_CASE("a stroke without width is refused") {
    CHECK_THROWS_AS(svg_text(testing::plate(), {0.0}), GeometryError);
    CHECK(has_text(svg_text(testing::plate(), {0.5}), "stroke-width=\"0.5\""));
}

}  // namespace
}  // namespace planform
