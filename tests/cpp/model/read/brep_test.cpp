#include <doctest/doctest.h>

#include <BRepPrimAPI_MakeCylinder.hxx>

#include "model/support.hpp"
#include "planform/occt.hpp"

using namespace planform;
using namespace planform::test;

TEST_CASE("BREP text and binary, from memory and from files, give the same model") {
    const TemporaryFolder folder;
    const TopoDS_Shape rod = BRepPrimAPI_MakeCylinder(2.0, 10.0).Solid();
    const TopoDS_Shape shape =
        compound({box(1, 2, 3), rod.Moved(general_position(0.4, 5, 6, 7)), rod});
    for (const std::string& bytes : {brep_text(shape), brep_binary(shape)}) {
        write_bytes(folder / "a.brep", bytes);
        for (const Model& model : {from_brep(bytes), load(folder / "a.brep")}) {
            CHECK(model.unit() == "mm (assumed)");
            CHECK(model.notes().empty());
            REQUIRE(model.solids().size() == 3);
            CHECK(model.shape_count() == 2);
            CHECK(model.solids()[0].shape_index() == 0);
            CHECK(model.solids()[1].shape_index() == 1);
            CHECK(model.solids()[2].shape_index() == 1);
            CHECK(model.solids()[0].name() == "solid 1");
            CHECK(model.solids()[2].volume() == doctest::Approx(40.0 * pi).epsilon(1e-9));
            CHECK((model.solids()[1].placement().translation() - Vector3(5, 6, 7)).norm() < 1e-9);
            CHECK(model.solids()[2].placement().matrix().isIdentity(1e-15));
        }
    }
    CHECK(from_brep(brep_text(shape)).source() == "memory");
    CHECK(load(folder / "a.brep").source() == (folder / "a.brep").string());
}

TEST_CASE("BREP carries no unit: unit= and scale= say what the numbers are") {
    const Model model = from_brep(brep_text(box(1, 2, 3).Moved(shifted(10, 0, 0))), {"inch", 2.0});
    CHECK(model.unit() == "mm (assumed)");
    REQUIRE(model.notes().size() == 1);
    CHECK(model.notes()[0] == "BREP carries no unit; lengths are read as inch");
    const double factor = 2.0 * 25.4;
    CHECK(model.solids()[0].bounds().isApprox(
        Box3(Point3(10, 0, 0) * factor, Point3(11, 2, 3) * factor), 1e-12));
    CHECK(model.solids()[0].volume() == doctest::Approx(6.0 * factor * factor * factor));
}

TEST_CASE("bytes that are no BREP") {
    const auto kind_of = [](std::string_view bytes) {
        try {
            from_brep(bytes);
        } catch (const LoadError& error) {
            CHECK(std::string(error.what()).find("memory: ") == 0);
            return error.kind();
        }
        FAIL("taken as BREP");
        return ErrorKind::kernel_failure;
    };
    CHECK(kind_of("") == ErrorKind::file_empty);
    CHECK(kind_of("hello") == ErrorKind::file_not_recognised);
    CHECK(kind_of("ISO-10303-21;") == ErrorKind::file_not_recognised);
    CHECK(kind_of("DBRep_DrawableShape\n") == ErrorKind::file_damaged);
    CHECK(kind_of("\nOpen CASCADE Topology V4 (c)\n") == ErrorKind::file_damaged);
    CHECK(kind_of(brep_text(box_shell(1.0, 1))) == ErrorKind::no_solid);
    CHECK_THROWS_AS(from_brep(brep_text(box(1, 1, 1)), {"ell", 1.0}), GeometryError);
}
