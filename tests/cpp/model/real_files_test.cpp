#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <set>
#include <sstream>

#include "model/read/content.hpp"
#include "model/support.hpp"

using namespace planform;
using namespace planform::test;

namespace {

const std::filesystem::path occt_data = "/usr/share/opencascade/data";

/// The package's examples: Debian 13 calls the folder otherwise than Debian 12.
std::filesystem::path find_gmsh_data() {
    const std::filesystem::path root = "/usr/share/doc/gmsh-doc/doc/gmsh";
    const std::filesystem::path newer = root / "examples/api";
    return std::filesystem::exists(newer) ? newer : root / "demos/api";
}

const std::filesystem::path gmsh_data = find_gmsh_data();

void require_installed(const std::filesystem::path& path, const std::string& package) {
    REQUIRE_MESSAGE(std::filesystem::exists(path),
                    path.string() << " is missing: install the Debian package " << package);
}

int lines_of(const std::string& text, const std::string& line) {
    std::istringstream stream(text);
    int count = 0;
    for (std::string read; std::getline(stream, read);)
        count += read == line || read == line + "\r";
    return count;
}

int occurrences(const std::string& text, const std::string& word) {
    int count = 0;
    for (size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1))
        ++count;
    return count;
}

}  // namespace

TEST_CASE("as1-tu-203 (gmsh-doc): 18 placed solids of 5 parts, as the file's own entities say") {
    const auto path = gmsh_data / "as1-tu-203.stp.gz";
    require_installed(path, "gmsh-doc");
    const std::string text = model::unpack_gzip(read_bytes(path), "as1", 1 << 24);
    // Nine products; four of them are assemblies, so five parts, a solid each.
    CHECK(occurrences(text, "=PRODUCT(") == 9);
    CHECK(occurrences(text, "MANIFOLD_SOLID_BREP(") == 5);
    // The usages: which product occurs how often in which.
    CHECK(occurrences(text, "NEXT_ASSEMBLY_USAGE_OCCURRENCE(") == 13);

    const Model model = load(path);
    CHECK(model.unit() == "mm");
    CHECK(model.shape_count() == 5);
    std::map<std::string, int> quantities;
    std::map<std::string, std::set<int>> indices;
    for (const Solid& solid : model.solids()) {
        ++quantities[solid.name()];
        indices[solid.name()].insert(solid.shape_index());
        CHECK(solid.path().front() == "as1");
        CHECK(solid.volume() > 0.0);
        CHECK(solid.notes().empty());
    }
    // From the usages: as1 = rod-assembly (2 nuts, rod) + plate + 2 l-bracket-assemblies, each an
    // l-bracket and 3 nut-bolt-assemblies.
    CHECK(quantities == std::map<std::string, int>{
                            {"nut", 8}, {"bolt", 6}, {"l-bracket", 2}, {"rod", 1}, {"plate", 1}});
    for (const auto& [name, set] : indices) {
        CAPTURE(name);
        CHECK(set.size() == 1);
    }
    CHECK(model.solids()[0].path() == std::vector<std::string>{"as1", "ROD-ASSEMBLY", "NUT::1"});
    // The colour of the plate as the file writes it.
    const auto color = model.solids()[10].color();
    REQUIRE(color.has_value());
    CHECK(model.solids()[10].name() == "plate");
    CHECK((*color)[0] == doctest::Approx(0.78).epsilon(1e-3));
    CHECK((*color)[2] == doctest::Approx(0.0));
}

TEST_CASE("step_boundary_colors (gmsh-doc): one cube of 100 mm without a name") {
    const auto path = gmsh_data / "step_boundary_colors.stp.gz";
    require_installed(path, "gmsh-doc");
    const Model model = load(path);
    REQUIRE(model.solids().size() == 1);
    CHECK(model.solids()[0].name() == "solid 1");
    CHECK(model.solids()[0].volume() == doctest::Approx(1e6).epsilon(1e-9));
    CHECK(model.solids()[0].surface_area() == doctest::Approx(6e4).epsilon(1e-9));
}

TEST_CASE("STEP files of occt-misc") {
    for (const std::string name : {"linkrods.step", "screw.step"}) {
        const auto path = occt_data / "step" / name;
        require_installed(path, "occt-misc");
        const Model model = load(path);
        const std::string text = read_bytes(path);
        CHECK(static_cast<int>(model.solids().size()) == occurrences(text, "MANIFOLD_SOLID_BREP("));
        CHECK(model.solids()[0].face_count() >= occurrences(text, "ADVANCED_FACE("));
        CHECK(model.solids()[0].notes().empty());
        CHECK(model.unit() == "mm");
    }
}

TEST_CASE(
    "every BREP file of occt-misc: solids that make sense, or an error that says what is there") {
    require_installed(occt_data / "occ", "occt-misc");
    std::set<std::string> without_solid;
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(occt_data / "occ")) {
        if (entry.path().extension() != ".brep") continue;
        CAPTURE(entry.path());
        ++files;
        try {
            const Model model = load(entry.path());
            // In the text each distinct solid is a line "So". fuse.brep is one closed shell
            // instead; one solid of Axis_of_bearing.brep has nothing in it.
            const bool is_shell = entry.path().stem() == "fuse";
            const bool has_empty = entry.path().stem() == "Axis_of_bearing";
            CHECK(model.shape_count() == lines_of(read_bytes(entry.path()), "So") +
                                             (is_shell ? 1 : 0) - (has_empty ? 1 : 0));
            CHECK(model.notes().size() == (has_empty ? 1 : 0));
            if (has_empty) {
                CHECK(model.notes().at(0) ==
                      "left out, as they are no solids: 1 body without a face");
            }
            for (const Solid& solid : model.solids()) {
                CHECK(solid.notes().size() == (is_shell ? 1 : 0));
                CHECK(solid.volume() > 0.0);
                // A body fits into its box and, among bodies of one volume, a ball has the least
                // area.
                CHECK(solid.volume() <= solid.bounds().volume() * (1.0 + 1e-9));
                CHECK(std::pow(solid.surface_area(), 3.0) >=
                      (1.0 - 1e-12) * 36.0 * pi * std::pow(solid.volume(), 2.0));
            }
        } catch (const LoadError& error) {
            CHECK(error.kind() == ErrorKind::no_solid);
            CHECK(std::string(error.what()).find("only ") != std::string::npos);
            without_solid.insert(entry.path().stem().string());
        }
    }
    CHECK(files == 37);
    // By their names and by the kernel's own listing these hold faces, edges or open shells only.
    CHECK(without_solid == std::set<std::string>{"MAT", "Room", "asahi", "edge", "face", "face1",
                                                 "face2", "hammer", "shell1", "terrain", "wing"});
}
