#include "planform/demo.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <random>
#include <string>
#include <tuple>

#include "planform/contact.hpp"

using namespace planform;

namespace {

Model station() {
    const std::filesystem::path path =
        std::filesystem::temp_directory_path() /
        ("planform-contact-" + std::to_string(std::random_device()()) + ".step");
    write_demo_assembly(path);
    const Model model = load(path);
    std::filesystem::remove(path);
    return model;
}

}  // namespace

TEST_CASE("the demo: what mates is what its plates were drawn to") {
    const Model model = station();
    const PlateList list = plates(model);
    const Mating mates = mating(model.solids(), list);
    // Counted in the outlines of lib/src/demo: curves that mate, seats, joints of one piece. Slots
    // have four walls, tabs two flanks, shoulders are seats; see the numbers beside each.
    const std::map<std::string, std::tuple<int, int, int>> expected{
        {"base plate", {4 * 4, 0, 4}},     // four posts
        {"post", {4 + 2 + 2, 4, 3}},       // the brace's slot, a tab at each end
        {"cross brace", {4, 4, 2}},        // two tabs
        {"tray floor", {18 * 4, 0, 18}},   // posts, sides, ends, gables: four each; two hangers
        {"tray side", {4 + 4, 3 + 4, 4}},  // two tabs below, a finger at each end
        {"tray end", {4 + 4, 3 + 2, 4}},   // two tabs below, a gap at each end
        {"gable", {4 + 4, 3 + 4, 4}},      // two tabs below, two on the slopes
        {"roof panel", {2 * 4, 0, 2}},    {"hanger", {2, 2, 1}}, {"perch disc", {0, 0, 0}},
        {"house number", {0, 0, 0}},      {"gutter", {0, 0, 0}}};
    REQUIRE(list.plates.size() == expected.size());
    for (std::size_t i = 0; i < list.plates.size(); ++i) {
        const std::string& name = list.plates[i].name;
        CAPTURE(name);
        REQUIRE(expected.contains(name));
        const auto& [curves, seats, joints] = expected.at(name);
        const MatingOutline& found = mates.outlines[i];
        const auto sat = std::count_if(found.curves.begin(), found.curves.end(),
                                       [](const MatingCurve& curve) { return curve.is_seat; });
        CHECK(static_cast<int>(sat) == seats);
        CHECK(static_cast<int>(found.curves.size()) - static_cast<int>(sat) == curves);
        CHECK(found.joints == joints);
        CHECK(found.notes.empty());
        for (const MatingCurve& curve : found.curves) {
            const bool is_slot = curve.at.contour > 0 || name == "tray end";
            const bool is_tab_of_end = name == "tray end" && curve.share == 0.0;
            if (curve.is_seat || is_tab_of_end || !is_slot)
                CHECK(curve.share == 0.0);
            else
                CHECK(curve.share == 1.0);
        }
    }
    // Posts in base and floor, plates of the tray, braces, corners, roof.
    CHECK(mates.joints == 4 + 18 + 4 + 4 + 4);
}
