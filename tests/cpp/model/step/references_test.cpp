/// Assemblies whose parts lie in files of their own.

#include <doctest/doctest.h>

#include "model/support.hpp"
#include "planform/memory.hpp"

using namespace planform;
using namespace planform::test;

namespace {

/// Two rails and a knob; the knob and the rail each in a file beside the assembly's.
std::vector<std::filesystem::path> write_parts(const TemporaryFolder& folder) {
    Assembly assembly;
    const TDF_Label root = assembly.group("feeder");
    const TDF_Label rail = assembly.part("rail", box(30.0, 4.0, 6.0));
    const TDF_Label knob = assembly.part("knob", box(5.0, 5.0, 5.0));
    assembly.color(knob, {0.8, 0.1, 0.2});
    assembly.place(root, rail, shifted(0.0, 0.0, 10.0), "rail low");
    assembly.place(root, rail, shifted(0.0, 40.0, 10.0), "rail high");
    assembly.place(root, knob, shifted(-20.0, 0.0, 0.0), "knob 1");
    assembly.write_in_files(folder / "a.step");
    std::vector<std::filesystem::path> others;
    for (const auto& entry : std::filesystem::directory_iterator(folder.path())) {
        if (entry.path().filename() != "a.step") others.push_back(entry.path());
    }
    std::sort(others.begin(), others.end());
    return others;
}

}  // namespace

TEST_CASE("parts in files of their own are read, placed, named and coloured") {
    const TemporaryFolder folder;
    REQUIRE(write_parts(folder).size() == 2);
    const Model model = load(folder / "a.step");
    CHECK(model.notes().empty());
    REQUIRE(model.solids().size() == 3);
    CHECK(model.shape_count() == 2);
    CHECK(model.solids()[0].path() == std::vector<std::string>{"feeder", "rail low"});
    CHECK(model.solids()[1].path() == std::vector<std::string>{"feeder", "rail high"});
    CHECK(model.solids()[1].name() == "rail");
    CHECK(model.solids()[1].bounds().isApprox(Box3(Point3(0, 40, 10), Point3(30, 44, 16)), 1e-9));
    CHECK(model.solids()[2].name() == "knob");
    REQUIRE(model.solids()[2].color().has_value());
    CHECK((*model.solids()[2].color())[0] == doctest::Approx(0.8).epsilon(1e-5));

    // A unit that the caller says holds for all files.
    const Model larger = load(folder / "a.step", {.unit = "cm"});
    CHECK(larger.solids()[1].bounds().isApprox(Box3(Point3(0, 400, 100), Point3(300, 440, 160)),
                                               1e-9));
}

TEST_CASE("a part whose file is not there is named, and never lost in silence") {
    const TemporaryFolder folder;
    const std::vector<std::filesystem::path> others = write_parts(folder);
    REQUIRE(others.size() == 2);
    const std::filesystem::path& knob = others[0];
    REQUIRE(knob.filename().string().find("knob") != std::string::npos);
    SUBCASE("missing") { std::filesystem::remove(knob); }
    SUBCASE("damaged") { write_bytes(knob, "ISO-10303-21;\nHEADER;\n"); }
    SUBCASE("of another kind") { write_bytes(knob, "no model"); }
    const Model model = load(folder / "a.step");
    CHECK(model.solids().size() == 2);
    REQUIRE(model.notes().size() >= 1);
    CHECK(model.notes()[0].find("a part lies in another file") == 0);
    CHECK(model.notes()[0].find(knob.filename().string()) != std::string::npos);
}

TEST_CASE("files that refer to each other end") {
    const TemporaryFolder folder;
    const std::vector<std::filesystem::path> others = write_parts(folder);
    REQUIRE(others.size() == 2);
    // Where the knob should be lies the assembly once more.
    write_bytes(others[0], read_bytes(folder / "a.step"));
    const Model model = load(folder / "a.step");
    CHECK(model.solids().size() >= 2);
}

TEST_CASE("bytes in memory look for no other file") {
    const TemporaryFolder folder;
    write_parts(folder);
    const std::optional<LoadError> error = [&]() -> std::optional<LoadError> {
        try {
            load_bytes(read_bytes(folder / "a.step"));
        } catch (const LoadError& thrown) {
            return thrown;
        }
        return std::nullopt;
    }();
    REQUIRE(error.has_value());
    CHECK(error->kind() == ErrorKind::no_solid);
}
