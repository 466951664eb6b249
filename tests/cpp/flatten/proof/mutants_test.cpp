/// The proof of a silhouette sees errors that are made on purpose (mutation testing: R. A. DeMillo,
/// R. J. Lipton, F. G. Sayward, "Hints on test data selection", Computer 11 (1978)).

#include "flatten/proof/mutants.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "flatten/bodies.hpp"
#include "flatten/silhouette/random_solids.hpp"
#include "planform/demo.hpp"
#include "planform/error.hpp"

using namespace planform;

namespace {

constexpr double tolerance = 0.01;

bool in_full() { return std::getenv("PLANFORM_LONG_TESTS") != nullptr; }

/// The least share of harmful mutants that must be caught, and that there were any.
void check(const mutants::Table& table, double least) {
    MESSAGE(mutants::text_of(table));
    int harmful = 0;
    for (const auto& [kind, tally] : table) harmful += tally.made - tally.harmless;
    REQUIRE(harmful > 50);
    CHECK(mutants::caught_share(table) >= least);
}

void try_random_solids(Verify verify, int most, mutants::Table& table) {
    const int count = in_full() ? 300 : 20;
    for (int seed = 0; seed < count; ++seed) {
        const random_solids::Case made = random_solids::make(static_cast<std::uint64_t>(seed));
        if (made.shape.IsNull()) continue;
        for (const Solid& solid : bodies::solids_of(made.shape))
            mutants::try_mutants(solid, made.datum, tolerance, verify, most, table);
    }
}

/// The models of a folder that can be read, sorted by name.
std::vector<std::filesystem::path> models_in(const std::filesystem::path& folder) {
    std::vector<std::filesystem::path> files;
    if (!std::filesystem::exists(folder)) return files;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        const std::string suffix = entry.path().extension().string();
        if (suffix == ".step" || suffix == ".stp" || suffix == ".brep")
            files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    return files;
}

}  // namespace

TEST_CASE("mutants of random solids: the quick proof catches 99 of 100, the full one all") {
    mutants::Table quick, full;
    try_random_solids(Verify::quick, 6, quick);
    check(quick, 0.99);
    try_random_solids(Verify::full, 3, full);
    check(full, 1.0);
}

TEST_CASE("mutants of real models: the quick proof catches 99 of 100, the full one all") {
    if (!in_full()) return;
    mutants::Table quick, full;
    const std::filesystem::path parts = "/usr/share/kicad/3dmodels";
    for (const std::filesystem::path& folder :
         {std::filesystem::path("/usr/share/opencascade/data/step"),
          std::filesystem::path("/usr/share/opencascade/data/occ"), parts / "Heatsink.3dshapes",
          parts / "MountingEquipment.3dshapes", parts / "Connector_Dsub.3dshapes",
          parts / "Package_QFP.3dshapes"})
        for (const std::filesystem::path& file : models_in(folder)) try {
                const Model model = load(file);
                for (const Solid& solid : model.solids())
                    for (const Datum& datum : {Datum::xy(), Datum::xz()}) {
                        mutants::try_mutants(solid, datum, tolerance, Verify::quick, 12, quick);
                        mutants::try_mutants(solid, datum, tolerance, Verify::full, 4, full);
                    }
            } catch (const LoadError&) {
                // Models without a closed body are none of this test's.
            }
    check(quick, 0.99);
    check(full, 1.0);
}
