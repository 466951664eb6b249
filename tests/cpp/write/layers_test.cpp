#include "write/layers.hpp"

#include <doctest/doctest.h>

#include "planform/error.hpp"
#include "planform/write.hpp"
#include "write/palette.hpp"

namespace planform {
namespace {

constexpr std::array<write::OwnLayer, 4> own{
    {{"OUT", 5, 0x0000FF}, {"IN", 30, 0xFF7F00}, {"MARK", 94, 0x007F00}, {"BEND", 174, 0x4C004C}}};

TEST_CASE("colours by index and back") {
    CHECK(write::rgb_of_index(1) == 0xFF0000);
    CHECK(write::rgb_of_index(7) == 0xFFFFFF);
    CHECK(write::rgb_of_index(30) == 0xFF7F00);
    CHECK(write::rgb_of_index(255) == 0xFFFFFF);
    // The nearest of a colour of the table has that very colour, if under a lower number.
    for (int index = 1; index <= 255; ++index)
        CHECK(write::rgb_of_index(write::nearest_index(write::rgb_of_index(index))) ==
              write::rgb_of_index(index));
    CHECK(write::nearest_index(0xFE0102) == 1);
}

TEST_CASE("roles with one name share a layer, others keep their own") {
    CHECK(write::layers_of({}, own, false).size() == 3);
    const DrawingLayers wanted = {{"outer", {"CUT", 1, {}, 0.1}}, {"inner", {"cut", {}, {}, {}}}};
    const auto layers = write::layers_of(wanted, own, false);
    REQUIRE(layers.size() == 2);
    CHECK(write::layer_of(layers, write::Role::inner).name == "CUT");
    CHECK(write::layer_of(layers, write::Role::inner).color_index == 1);
    CHECK(write::layer_of(layers, write::Role::mark).name == "MARK");
    CHECK(layers[0].rgb == 0xFF0000);
}

TEST_CASE("layers that make no sense are refused") {
    const auto refused = [](const DrawingLayers& wanted) {
        CHECK_THROWS_AS(write::layers_of(wanted, own, false), GeometryError);
    };
    refused({{"hole", {"A", {}, {}, {}}}});
    refused({{"outer", {"A", 256, {}, {}}}});
    refused({{"outer", {"A", {}, 0x1000000, {}}}});
    refused({{"outer", {"A", {}, {}, 0.0}}});
    refused({{"outer", {"A", 1, {}, {}}}, {"inner", {"a", 2, {}, {}}}});
}

}  // namespace
}  // namespace planform
