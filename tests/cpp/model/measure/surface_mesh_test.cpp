/// Triangles of solids, held against closed forms.

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <numbers>

#include "model/support.hpp"
#include "planform/memory.hpp"
#include "planform/mesh.hpp"

using namespace planform;
using namespace planform::test;

namespace {

/// Volume by the divergence theorem: positive if all triangles look outward.
double volume_of(const SurfaceMesh& mesh) {
    double volume = 0.0;
    for (const auto& [a, b, c] : mesh.triangles)
        volume += mesh.points[a].dot(mesh.points[b].cross(mesh.points[c])) / 6.0;
    return volume;
}

}  // namespace

TEST_CASE("triangles close round the body and look outward") {
    const TemporaryFolder folder;
    Assembly assembly;
    const TDF_Label root = assembly.group("feeder");
    const TDF_Label tray = assembly.part("tray", box(30.0, 20.0, 10.0));
    assembly.place(root, tray, shifted(100.0, 50.0, -7.0), "tray 1");
    assembly.write(folder / "a.step");
    const Model model = load(folder / "a.step");
    REQUIRE(model.solids().size() == 1);
    const SurfaceMesh mesh = surface_mesh(model.solids()[0]);
    CHECK(mesh.points.size() == 24);
    CHECK(mesh.triangles.size() == 12);
    CHECK(volume_of(mesh) == doctest::Approx(6000.0).epsilon(1e-9));
    Box3 box;
    for (const Point3& point : mesh.points) box.extend(point);
    CHECK(box.isApprox(model.solids()[0].bounds(), 1e-9));
}

TEST_CASE("triangles stray from a cylinder by no more than was asked for") {
    const TemporaryFolder folder;
    Assembly assembly;
    assembly.part("post", BRepPrimAPI_MakeCylinder(50.0, 10.0).Shape());
    assembly.write(folder / "a.step");
    const Solid solid = load(folder / "a.step").solids()[0];
    const double exact = std::numbers::pi * 50.0 * 50.0 * 10.0;
    double before = std::numeric_limits<double>::infinity();
    for (const double tolerance : {1.0, 0.1, 0.01}) {
        const double missing = exact - volume_of(surface_mesh(solid, tolerance));
        CHECK(missing > 0.0);  // chords lie inside
        CHECK(missing < before);
        CHECK(missing < 2.0 * std::numbers::pi * 50.0 * 10.0 * tolerance);
        before = missing;
    }
    for (const double none : {0.0, -1.0, std::nan("")})
        CHECK_THROWS_AS(surface_mesh(solid, none), GeometryError);
}
