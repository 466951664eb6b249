/// Assemblies whose parts lie in files of their own.

#include <doctest/doctest.h>

#include "model/support.hpp"
#include "planform/cache.hpp"
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

/// What stands for an instance in the path of a solid: its name, or, where the kernel wrote none
/// into the file (7.8 leaves it out when parts have files of their own), the running number that it
/// gave.
std::string written(const TemporaryFolder& folder, const std::string& name, const Solid& solid) {
    if (read_bytes(folder / "a.step").find("'" + name + "'") != std::string::npos) return name;
    const std::string number = solid.path().at(1);
    REQUIRE(number.find_first_not_of("0123456789") == std::string::npos);
    return number;
}

}  // namespace

TEST_CASE("parts in files of their own are read, placed, named and coloured") {
    const TemporaryFolder folder;
    REQUIRE(write_parts(folder).size() == 2);
    const Model model = load(folder / "a.step");
    CHECK(model.notes().empty());
    REQUIRE(model.solids().size() == 3);
    CHECK(model.shape_count() == 2);
    CHECK(model.solids()[0].path() ==
          std::vector{std::string("feeder"), written(folder, "rail low", model.solids()[0])});
    CHECK(model.solids()[1].path() ==
          std::vector{std::string("feeder"), written(folder, "rail high", model.solids()[1])});
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

TEST_CASE("all roots of a part's file are placed where the part is") {
    const TemporaryFolder folder;
    const std::vector<std::filesystem::path> others = write_parts(folder);
    REQUIRE(others.size() == 2);
    Assembly two;
    two.part("knob", box(5.0, 5.0, 5.0));
    two.part("pin", box(1.0, 1.0, 9.0));
    two.write(others[0]);
    const Model model = load(folder / "a.step");
    CHECK(model.notes().empty());
    REQUIRE(model.solids().size() == 4);
    const std::string knob = written(folder, "knob 1", model.solids()[2]);
    CHECK(model.solids()[2].path() ==
          std::vector{std::string("feeder"), knob, std::string("knob")});
    CHECK(model.solids()[2].bounds().isApprox(Box3(Point3(-20, 0, 0), Point3(-15, 5, 5)), 1e-9));
    CHECK(model.solids()[3].path() == std::vector{std::string("feeder"), knob, std::string("pin")});
    CHECK(model.solids()[3].bounds().isApprox(Box3(Point3(-20, 0, 0), Point3(-19, 1, 9)), 1e-9));
}

TEST_CASE("a part's file may be packed") {
    const TemporaryFolder folder;
    const std::vector<std::filesystem::path> others = write_parts(folder);
    REQUIRE(others.size() == 2);
    write_bytes(others[0], gzip(read_bytes(others[0])));
    const Model model = load(folder / "a.step");
    CHECK(model.notes().empty());
    REQUIRE(model.solids().size() == 3);
    CHECK(model.solids()[2].name() == "knob");
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

TEST_CASE("files that a model names are known, and the cache sees when one of them changes") {
    const TemporaryFolder folder;
    const std::vector<std::filesystem::path> others = write_parts(folder);
    const std::filesystem::path whole = folder / "a.step";
    std::vector<std::filesystem::path> files = model_files(whole);
    REQUIRE(files.size() == 3);
    CHECK(files[0] == whole);
    std::sort(files.begin() + 1, files.end());
    CHECK(files[1] == others[0]);
    CHECK(files[2] == others[1]);
    CHECK(model_files(others[0]).size() == 1);

    const CacheOptions cache{folder / "cache", CacheOptions{}.limit};
    CHECK(
        load_cached(whole, cache).solids()[2].bounds().isApprox(load(whole).solids()[2].bounds()));
    Assembly larger;
    larger.part("knob", box(7.0, 7.0, 7.0));
    larger.write(others[0]);
    CHECK(load_cached(whole, cache)
              .solids()[2]
              .bounds()
              .isApprox(Box3(Point3(-20, 0, 0), Point3(-13, 7, 7)), 1e-9));
    std::filesystem::remove(others[0]);
    CHECK(model_files(whole).size() == 2);
    CHECK(load_cached(whole, cache).solids().size() == 2);
}
