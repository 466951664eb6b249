#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "planform/error.hpp"
#include "planform/write.hpp"
#include "write/sets.hpp"

namespace planform {
namespace {

std::string replaced(std::string text, const std::string& part, const std::string& by) {
    const std::size_t position = text.find(part);
    REQUIRE_MESSAGE(position != std::string::npos, part);
    return text.replace(position, part.size(), by);
}

/// The message with which a document is refused.
std::string refusal(const std::string& text) {
    try {
        profile_set_from_json(text, Validate::no);
    } catch (const GeometryError& error) {
        CHECK(error.kind() == ErrorKind::json_invalid);
        return error.what();
    }
    return "accepted";
}

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

/// All kinds of curves, with numbers that have no short decimal form; the hole lies anywhere.
ProfileSet all_kinds(unsigned seed) {
    std::mt19937_64 generator(seed);
    std::uniform_real_distribution<double> number(1.0, 50.0);
    const auto moved = [&](const Contour& contour) {
        const Transform2 shift(Eigen::Translation2d(number(generator), -number(generator)) *
                               Eigen::Rotation2Dd(number(generator)));
        return contour.transformed(shift);
    };
    const Contour traced({Arc{{1.0 / 3.0, -0.0}, number(generator), 0.1, 2 * pi}},
                         {Provenance{Provenance::Kind::fold, 2, 17}});
    const Datum datum({number(generator), 1e-17, -1e12},
                      {number(generator), -number(generator), number(generator)},
                      Vector3(number(generator), number(generator), -1));
    return ProfileSet({Profile(moved(testing::half_ellipse(60, number(generator))), {}, "a\"\\\n"),
                       Profile(traced, {moved(testing::slot({0, 0}, 3, 0.7))}, "\xF0\x9F\x90\xA6",
                               -1, Validate::no),
                       Profile(moved(testing::quarter_disc(number(generator))), {}, "", 1)},
                      {Mark{moved(testing::parabola(8, number(generator))), "mark"}}, datum,
                      number(generator) * 1e-4, "set", {"one", "two"});
}

TEST_CASE("a round trip keeps every bit") {
    for (unsigned seed = 1; seed <= 50; ++seed) {
        const std::string text = json_text(all_kinds(seed));
        CHECK(json_text(profile_set_from_json(text, Validate::no)) == text);
    }
    const ProfileSet set = all_kinds(7),
                     read = profile_set_from_json(json_text(all_kinds(7)), Validate::no);
    CHECK(read.digest() == set.digest());
    CHECK(read.area() == set.area());
    CHECK(read.profiles().at(2).parent() == 1);
    CHECK(read.profiles().at(1).outer().provenance().at(0).entity == 17);
    CHECK(read.profiles().at(0).name() == "a\"\\\n");
    CHECK(read.datum().normal() == set.datum().normal());
    CHECK(read.datum().y() == set.datum().y());
    CHECK(read.notes() == set.notes());
    const auto& arc = std::get<Arc>(read.profiles().at(1).outer().curves().at(0));
    CHECK(std::signbit(arc.center.y()));
}

TEST_CASE("errors name the place") {
    const std::string good = json_text(testing::plate());
    CHECK(refusal(good) == "accepted");
    const std::vector<std::pair<std::string, std::string>> cases = {
        {replaced(good, "\"unit\": \"mm\"", "\"unit\": \"inch\""), "$.unit: expected \"mm\""},
        {replaced(good, "\"planform\": 1", "\"planform\": 5"), "$.planform: this version"},
        {replaced(good, "\"planform\": 1", "\"planform\": 2"), "$.planform: an allowance"},
        {replaced(good, "\"tolerance\": 0.005", "\"tolerance\": -1"), "$"},
        {replaced(good, "\"tolerance\": 0.005", "\"tolerance\": \"a\""),
         "$.tolerance: expected a number"},
        {replaced(good, "\"start\": [0, 0]", "\"start\": [0, 0, 0]"),
         "$.profiles[0].outer.curves[0].start: expected 2 numbers, found 3"},
        {replaced(good, "\"start\": [0, 0]", "\"begin\": [0, 0]"),
         "$.profiles[0].outer.curves[0]: the key \"begin\" is unknown"},
        {replaced(good, "\"start\": [0, 0]", "\"start\": [0, 1]"), "$.profiles[0].outer"},
        {replaced(good, "\"radius\": 25", "\"radius\": -25"),
         "$.profiles[0].holes[0].curves[0]: the radius"},
        {replaced(good, "\"radius\": 25", "\"radius\": null"),
         "$.profiles[0].holes[0].curves[0].radius: expected a number"},
        {replaced(good, "\"type\": \"arc\"", "\"type\": \"bow\""), "curves[0].type: expected"},
        {replaced(good, "\"parent\": 0", "\"parent\": 7"), "$.profiles[1].parent: expected null"},
        {replaced(good, "\"parent\": 0", "\"parent\": 1"), "$.profiles[1].parent: expected null"},
        {replaced(good, "\"parent\": 0", "\"parent\": 99999999999"), "$.profiles[1].parent"},
        {replaced(good, "\"normal\": [0, -1, 0]", "\"normal\": [0, 0, 0]"), "$.datum"},
        {replaced(good, "\"notes\": [", "\"notes\": [1, "), "$.notes[0]: expected a string"},
    };
    for (const auto& [text, part] : cases) {
        const std::string message = refusal(text);
        CHECK_MESSAGE(holds(message, part), part << " not in: " << message);
    }
}

TEST_CASE("an allowance is kept beside the outline, in a version of its own") {
    const ProfileSet set = all_kinds(3);
    const Allowance allowance{0.15, -0.1 / 3.0, 6.2, ReliefStyle::side, {{{0, 0, 1}, 0.05}}};
    const std::string text = json_text(set, allowance);
    CHECK(holds(text, "\"planform\": 2"));
    CHECK(holds(json_text(set), "\"planform\": 1"));
    CHECK(json_text(profile_set_from_json(text, Validate::no)) == json_text(set));
    const std::optional<Allowance> back = allowance_from_json(text);
    REQUIRE(back);
    CHECK(back->kerf == allowance.kerf);
    CHECK(back->fit == allowance.fit);
    CHECK(back->relief == allowance.relief);
    CHECK(back->relief_style == allowance.relief_style);
    REQUIRE(back->fits.size() == 1);
    CHECK(back->fits.front().at == CurveAddress{0, 0, 1});
    CHECK(back->fits.front().distance == 0.05);
    CHECK(!allowance_from_json(json_text(set)));
    for (const auto& [document, place] : std::vector<std::pair<std::string, std::string>>{
             {replaced(text, "\"planform\": 2", "\"planform\": 1"), "$.planform: an allowance"},
             {replaced(text, "\"kerf\": 0.15", "\"kerf\": -0.15"), "$.allowance.kerf: "},
             {replaced(text, "\"side\"", "\"round\""), "$.allowance.relief_style: "},
             {replaced(text, "\"kerf\": 0.15,", ""), "$.allowance: "},
             {replaced(text, "[0, 0, 1, 0.05]", "[0, 0, 1]"), "$.allowance.fits[0]: "}}) {
        CAPTURE(place);
        CHECK(holds(refusal(document), place));
    }
}

TEST_CASE("what is no JSON is refused with line and column") {
    const std::string good = json_text(testing::plate());
    CHECK(holds(refusal(good.substr(0, good.size() / 2)), "line"));
    CHECK(holds(refusal(replaced(good, "\"radius\": 25", "\"radius\": NaN")), "line"));
    CHECK(holds(refusal(replaced(good, "\"radius\": 25", "\"radius\": 1e999")), "JSON"));
    CHECK(holds(refusal(""), "JSON"));
    CHECK(holds(refusal("[]"), "$: expected an object"));
    CHECK(holds(refusal("{}"), "\"planform\" is missing"));
    CHECK(holds(refusal(std::string("{\"a\": \"\xFF\"}")), "JSON"));
    CHECK(holds(refusal(replaced(good, "\"unit\"", "\"planform\": 1, \"unit\"")), "stands twice"));
}

TEST_CASE("documents made to exhaust the reader are refused") {
    CHECK(holds(refusal(std::string(5'000'000, '[')), "nests deeper"));
    std::string objects;
    for (int i = 0; i < 100'000; ++i) objects += "{\"a\":";
    CHECK(holds(refusal(objects), "nests deeper"));
    const std::string good = json_text(all_kinds(3));
    CHECK(holds(refusal(replaced(good, "\"degree\": 2", "\"degree\": 2000000000")), "spline"));
    CHECK(holds(refusal(replaced(good, "\"degree\": 2", "\"degree\": -2")), "degree"));
    CHECK(holds(refusal(replaced(good, "\"knots\": [0,", "\"knots\": [")), "as many knots"));
}

TEST_CASE("every cut of a document is refused, none crashes") {
    const std::string good = json_text(all_kinds(5));
    int refused = 0;
    for (std::size_t size = 0; size + 2 < good.size(); size += 7) {
        if (refusal(good.substr(0, size)) != "accepted") ++refused;
    }
    CHECK(refused > 200);
    CHECK(refused == static_cast<int>((good.size() - 2 + 6) / 7));
}

}  // namespace
}  // namespace planform
