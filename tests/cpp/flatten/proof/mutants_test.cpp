/// The proof of a silhouette sees errors that are made on purpose (mutation testing: R. A. DeMillo,
/// R. J. Lipton, F. G. Sayward, "Hints on test data selection", Computer 11 (1978)).

#include "flatten/proof/mutants.hpp"

#include <doctest/doctest.h>

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <Geom_RectangularTrimmedSurface.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "flatten/bodies.hpp"
#include "flatten/silhouette/random_solids.hpp"
#include "planform/demo.hpp"
#include "planform/error.hpp"
#include "random_count.hpp"

using namespace planform;

namespace {

constexpr double tolerance = 0.01;

/// The least share of harmful mutants that must be caught, and that there were any.
void check(const mutants::Table& table, double least) {
    MESSAGE(mutants::text_of(table));
    int harmful = 0;
    for (const auto& [kind, tally] : table) harmful += tally.made - tally.harmless;
    REQUIRE(harmful > 50);
    CHECK(mutants::caught_share(table) >= least);
}

void try_random_solids(Verify verify, int most, mutants::Table& table) {
    const int count = std::max(4, random_count(20, 300));  // so many make enough mutants
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

TEST_CASE("mutants of a ring: a hole that is filled is seen, also one of a tenth of the ring") {
    // An outer and an inner half of a torus, each split at its fold along a whole circle: a circle
    // that is lost or comes twice closes all the same.
    for (const double tube : {1.5, 7.0}) {
        const gp_Pnt top(12.0, 0.0, tube), bottom(12.0, 0.0, -tube);
        BRepBuilderAPI_MakeWire wire;
        for (const double side : {12.0 - tube, 12.0 + tube})
            wire.Add(BRepBuilderAPI_MakeEdge(
                         GC_MakeArcOfCircle(top, gp_Pnt(side, 0.0, 0.0), bottom).Value())
                         .Edge());
        const TopoDS_Shape ring =
            BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(wire.Wire()).Face(), gp::OZ()).Shape();
        for (const Verify verify : {Verify::quick, Verify::full}) {
            CAPTURE(tube);
            mutants::Table table;
            mutants::try_mutants(bodies::solids_of(ring)[0], Datum::xy(), tolerance, verify, 12,
                                 table);
            CHECK(mutants::caught_share(table) == 1.0);
            CHECK(table[mutants::Kind::stretch_dropped].made > 0);
            CHECK(table[mutants::Kind::fold_doubled].made > 0);
        }
    }
}

TEST_CASE("mutants of planes with limits of their own: they are never split") {
    TopoDS_Shape box = BRepPrimAPI_MakeBox(10.0, 20.0, 30.0).Shape();
    for (TopExp_Explorer faces(box, TopAbs_FACE); faces.More(); faces.Next()) {
        const TopoDS_Face& face = TopoDS::Face(faces.Current());
        TopLoc_Location location;
        const Handle(Geom_Surface) plane = BRep_Tool::Surface(face, location);
        BRep_Builder().UpdateFace(
            face, new Geom_RectangularTrimmedSurface(plane, -99.0, 99.0, -99.0, 99.0), location,
            1e-7);
    }
    mutants::Table table;
    mutants::try_mutants(bodies::solids_of(box)[0], Datum::xy(), tolerance, Verify::quick, 12,
                         table);
    CHECK(table[mutants::Kind::face_flipped].made > 0);
    CHECK(mutants::caught_share(table) == 1.0);
}

TEST_CASE("mutants of real models: the quick proof catches 99 of 100, the full one all") {
    if (!runs_in_full()) return;
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
