#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "planform/error.hpp"
#include "planform/write.hpp"
#include "write/sets.hpp"

namespace planform {
namespace {

struct Group {
    int code;
    std::string value;
};

std::vector<Group> groups_of(const std::string& text) {
    std::vector<Group> groups;
    std::istringstream lines(text);
    std::string code, value;
    while (std::getline(lines, code) && std::getline(lines, value)) {
        groups.push_back({std::stoi(code), value});
    }
    return groups;
}

/// The groups of each entity, its type first.
std::vector<std::vector<Group>> entities_of(const std::string& text) {
    std::vector<std::vector<Group>> entities;
    bool inside = false;
    for (const Group& group : groups_of(text)) {
        if (group.code == 2 && group.value == "ENTITIES") {
            inside = true;
        } else if (inside && group.code == 0) {
            if (group.value == "ENDSEC") break;
            entities.push_back({group});
        } else if (inside && !entities.empty()) {
            entities.back().push_back(group);
        }
    }
    return entities;
}

std::vector<double> numbers_of(const std::vector<Group>& entity, int code) {
    std::vector<double> numbers;
    for (const Group& group : entity) {
        if (group.code == code) numbers.push_back(std::stod(group.value));
    }
    return numbers;
}

std::string text_of(const std::vector<Group>& entity, int code) {
    for (const Group& group : entity) {
        if (group.code == code) return group.value;
    }
    return "";
}

std::string header_value(const std::string& text, const std::string& variable, int code) {
    const auto groups = groups_of(text);
    for (std::size_t i = 0; i < groups.size(); ++i) {
        if (groups[i].code != 9 || groups[i].value != variable) continue;
        for (std::size_t j = i + 1; j < groups.size() && groups[j].code != 9; ++j) {
            if (groups[j].code == code) return groups[j].value;
        }
    }
    return "";
}

ProfileSet set_of(const Contour& contour) { return ProfileSet({Profile(contour)}); }

TEST_CASE("layers and kinds follow the roles, islands and holes come first") {
    const auto entities = entities_of(dxf_text(testing::plate()));
    std::vector<std::string> found;
    for (const auto& entity : entities) found.push_back(entity[0].value + " " + text_of(entity, 8));
    CHECK(found == std::vector<std::string>{"LWPOLYLINE MARK", "CIRCLE CUT_OUTER",
                                            "CIRCLE CUT_INNER", "LWPOLYLINE CUT_INNER",
                                            "LWPOLYLINE CUT_OUTER"});
}

TEST_CASE("a bulge is the tangent of a quarter of the sweep") {
    // Source: DXF reference, LWPOLYLINE group 42. A half circle: tan(pi / 4) = 1; holes turn
    // clockwise.
    const auto outer = entities_of(dxf_text(set_of(testing::slot({0, 0}, 20, 6))));
    CHECK(numbers_of(outer.at(0), 42).size() == 2);
    for (const double bulge : numbers_of(outer.at(0), 42)) CHECK(bulge == doctest::Approx(1.0));

    // A lens of two quarter circles, run clockwise: tan(-pi / 8) = 1 - sqrt 2.
    const double r = std::sqrt(2.0);
    const Contour lens({Arc{{0, -1}, r, 3 * pi / 4, -pi / 2}, Arc{{0, 1}, r, -pi / 4, -pi / 2}});
    const ProfileSet plate({Profile(testing::circle({0, 0}, 5), {lens})});
    const auto bulges = numbers_of(entities_of(dxf_text(plate)).at(0), 42);
    REQUIRE(bulges.size() == 2);
    for (const double bulge : bulges) {
        CHECK(bulge == doctest::Approx(1.0 - std::sqrt(2.0)).epsilon(1e-14));
    }
}

TEST_CASE("arcs beyond half a turn are split, whatever little is missing to a full one") {
    for (const double missing : {1e-3, 0.5, 2.0}) {
        const Arc arc{{0, 0}, 10, missing / 2, 2 * pi - missing};
        const Contour keyhole({arc, Line{end_point(arc), start_point(arc)}});
        const auto entity = entities_of(dxf_text(set_of(keyhole))).at(0);
        const auto bulges = numbers_of(entity, 42);
        REQUIRE(bulges.size() == 2);
        for (const double bulge : bulges) {
            CHECK(bulge == doctest::Approx(std::tan((2 * pi - missing) / 8)).epsilon(1e-12));
        }
        CHECK(numbers_of(entity, 10).size() == 3);
    }
}

TEST_CASE("units: lengths are divided by 25.4, header variables agree") {
    const ProfileSet inch_square = set_of(testing::polygon({{0, 0}, {25.4, 0}, {25.4, 50.8}}));
    const std::string metric = dxf_text(inch_square);
    const std::string inches = dxf_text(inch_square, {.unit = DrawingUnit::inch});
    CHECK(header_value(metric, "$INSUNITS", 70) == "4");
    CHECK(header_value(metric, "$MEASUREMENT", 70) == "1");
    CHECK(header_value(metric, "$EXTMAX", 20) == "50.8");
    CHECK(header_value(inches, "$INSUNITS", 70) == "1");
    CHECK(header_value(inches, "$MEASUREMENT", 70) == "0");
    CHECK(header_value(inches, "$EXTMAX", 20) == "2.0");
    CHECK(numbers_of(entities_of(inches).at(0), 20) == std::vector<double>{0, 0, 2});
    const auto circle = entities_of(
        dxf_text(set_of(testing::circle({25.4, 0}, 12.7)), {.unit = DrawingUnit::inch}));
    CHECK(numbers_of(circle.at(0), 40) == std::vector<double>{0.5});
}

TEST_CASE("extents are those of the curves, not of their vertices") {
    const std::string text = dxf_text(set_of(testing::slot({0, 0}, 20, 6)));
    CHECK(std::stod(header_value(text, "$EXTMIN", 10)) == doctest::Approx(-16.0).epsilon(1e-14));
    CHECK(std::stod(header_value(text, "$EXTMAX", 10)) == doctest::Approx(16.0).epsilon(1e-14));
    CHECK(std::stod(header_value(text, "$EXTMAX", 20)) == doctest::Approx(6.0).epsilon(1e-14));
}

TEST_CASE("exact curves are entities of their own, arcs otherwise") {
    const DxfOptions exact{.curves = CurveStyle::exact};
    const auto ellipse = entities_of(dxf_text(set_of(testing::half_ellipse(20, 10)), exact));
    REQUIRE(ellipse.size() == 2);
    CHECK(ellipse[0][0].value == "ELLIPSE");
    CHECK(numbers_of(ellipse[0], 40) == std::vector<double>{0.5});
    CHECK(numbers_of(ellipse[0], 42)[0] == doctest::Approx(pi));
    CHECK(ellipse[1][0].value == "LINE");

    const auto spline = entities_of(dxf_text(set_of(testing::quarter_disc(10)), exact));
    CHECK(spline.at(0)[0].value == "SPLINE");
    CHECK(text_of(spline[0], 70) == "12");
    CHECK(numbers_of(spline[0], 41) == std::vector<double>{1.0, std::sqrt(0.5), 1.0});
    CHECK(numbers_of(spline[0], 10) == std::vector<double>{10, 10, 0});

    for (const Contour& contour : {testing::half_ellipse(20, 10), testing::parabola(30, 9)}) {
        const auto fitted = entities_of(dxf_text(set_of(contour)));
        REQUIRE(fitted.size() == 1);
        CHECK(fitted[0][0].value == "LWPOLYLINE");
        CHECK(numbers_of(fitted[0], 42).size() > 3);
    }
}

TEST_CASE("handles are unique and stay below the seed") {
    const std::string text = dxf_text(testing::plate());
    const auto seed = std::stoull(header_value(text, "$HANDSEED", 5), nullptr, 16);
    std::map<unsigned long long, int> seen;
    bool header = true;
    for (const Group& group : groups_of(text)) {
        if (group.code == 0 && group.value == "ENDSEC") header = false;
        if (!header && (group.code == 5 || group.code == 105)) {
            ++seen[std::stoull(group.value, nullptr, 16)];
        }
    }
    CHECK(seen.size() > 30);
    for (const auto& [handle, count] : seen) {
        CHECK(count == 1);
        CHECK(handle < seed);
    }
}

TEST_CASE("an empty set is a whole file without entities") {
    const std::string text = dxf_text(ProfileSet());
    CHECK(entities_of(text).empty());
    CHECK(header_value(text, "$EXTMIN", 10) == "100000000000000000000.0");
    CHECK(text.ends_with("EOF\n"));
}

TEST_CASE("names never reach a drawing, and the same set gives the same bytes") {
    const ProfileSet set = testing::plate();
    CHECK(dxf_text(set) == dxf_text(testing::plate()));
    CHECK(dxf_text(set.with_name("\n  0\nEOF\n")) == dxf_text(set));
}

TEST_CASE("a tolerance that is no number is refused") {
    for (const double bad : {-0.01, std::nan(""), HUGE_VAL}) {
        try {
            dxf_text(testing::plate(), {.tolerance = bad});
            FAIL("accepted");
        } catch (const GeometryError& error) {
            CHECK(error.kind() == ErrorKind::invalid_argument);
        }
    }
}

}  // namespace
}  // namespace planform
