#include <doctest/doctest.h>

#include <BRepPrimAPI_MakeCylinder.hxx>
#include <cmath>
#include <limits>

#include "model/support.hpp"

using namespace planform;
using namespace planform::test;

namespace {

/// A box of 10 x 20 x 30 mm and a cylinder (radius 5, height 40 mm), turned and shifted.
Assembly two_parts() {
    Assembly assembly;
    const TDF_Label root = assembly.group("root");
    const TDF_Label block = assembly.part("block", box(10.0, 20.0, 30.0));
    const TDF_Label rod = assembly.part("rod", BRepPrimAPI_MakeCylinder(5.0, 40.0).Solid());
    assembly.place(root, block, general_position(0.7, 100.0, -50.0, 25.0));
    assembly.place(root, rod, shifted(7.0, 8.0, 9.0));
    return assembly;
}

void check_box(const Box3& box, const Box3& expected, double relative) {
    for (int i = 0; i < 3; ++i) {
        CHECK(box.min()[i] == doctest::Approx(expected.min()[i]).epsilon(relative));
        CHECK(box.max()[i] == doctest::Approx(expected.max()[i]).epsilon(relative));
    }
}

}  // namespace

TEST_CASE("the same assembly in mm, inch and metre gives the same geometry to 1e-9") {
    const TemporaryFolder folder;
    two_parts().write(folder / "mm.step", "MM");
    const Model in_mm = load(folder / "mm.step");
    CHECK(in_mm.unit() == "mm");
    REQUIRE(in_mm.solids().size() == 2);
    CHECK(in_mm.solids()[0].volume() == doctest::Approx(6000.0).epsilon(1e-12));
    CHECK(in_mm.solids()[1].volume() == doctest::Approx(1000.0 * pi).epsilon(1e-9));

    // The kernel's words for units, and ours.
    const std::pair<const char*, const char*> units[] = {
        {"INCH", "inch"}, {"M", "m"}, {"CM", "cm"}, {"FT", "foot"}, {"UM", "um"}};
    for (const auto& [kernel_word, word] : units) {
        CAPTURE(std::string(word));
        two_parts().write(folder / "other.step", kernel_word);
        const Model other = load(folder / "other.step");
        CHECK(other.unit() == word);
        REQUIRE(other.solids().size() == 2);
        for (size_t i = 0; i < 2; ++i) {
            const Solid &a = in_mm.solids()[i], &b = other.solids()[i];
            CHECK(b.volume() == doctest::Approx(a.volume()).epsilon(1e-9));
            CHECK(b.surface_area() == doctest::Approx(a.surface_area()).epsilon(1e-9));
            check_box(b.bounds(), a.bounds(), 1e-9);
            CHECK((b.placement().matrix() - a.placement().matrix()).norm() < 1e-9);
        }
    }
}

TEST_CASE("units that are none of ours keep the file's own word, lengths still come out in mm") {
    const TemporaryFolder folder;
    write_step(box(1.0, 2.0, 3.0), folder / "a.step", "KM");
    const Model model = load(folder / "a.step");
    CHECK(model.unit() == "1e+06 mm");
    CHECK(model.solids()[0].volume() == doctest::Approx(6.0).epsilon(1e-9));
    write_step(box(1.0, 2.0, 3.0), folder / "b.step", "MIL");  // a thousandth of an inch
    const Model mil = load(folder / "b.step");
    CHECK(mil.unit() == "mil");
    CHECK(mil.solids()[0].bounds().max().z() == doctest::Approx(3.0).epsilon(1e-9));
}

TEST_CASE("mixed units inside one assembly: each part in its own") {
    const TemporaryFolder folder;
    Assembly assembly;
    const TDF_Label root = assembly.group("root");
    assembly.place(root, assembly.part("first", box(1.0, 2.0, 3.0)), shifted(50.0, 0.0, 0.0));
    assembly.place(root, assembly.part("second", box(4.0, 5.0, 6.0)), shifted(0.0, 70.0, 0.0));
    assembly.write(folder / "mm.step");
    // The writer gives each representation a context of its own; the last is that of "second".
    const std::string text = replaced(read_bytes(folder / "mm.step"), "SI_UNIT(.MILLI.,.METRE.)",
                                      "SI_UNIT(.CENTI.,.METRE.)", true);
    write_bytes(folder / "mixed.step", text);

    const Model model = load(folder / "mixed.step");
    CHECK(model.unit() == "mm, cm");
    REQUIRE(model.solids().size() == 2);
    check_box(model.solids()[0].bounds(), Box3(Point3(50, 0, 0), Point3(51, 2, 3)), 1e-12);
    // 4 x 5 x 6 cm; its place is written in the unit of the root, mm.
    check_box(model.solids()[1].bounds(), Box3(Point3(0, 70, 0), Point3(40, 120, 60)), 1e-12);

    SUBCASE("unit= overrides all of them") {
        const Model inches = load(folder / "mixed.step", {"inch", 1.0});
        CHECK(inches.unit() == "mm, cm");
        REQUIRE(inches.notes().size() == 1);
        CHECK(inches.notes()[0] == "the file's unit is mm, cm; lengths are read as inch instead");
        check_box(inches.solids()[0].bounds(),
                  Box3(Point3(50, 0, 0) * 25.4, Point3(51, 2, 3) * 25.4), 1e-12);
        check_box(inches.solids()[1].bounds(),
                  Box3(Point3(0, 70, 0) * 25.4, Point3(4, 75, 6) * 25.4), 1e-12);
    }
}

TEST_CASE("unit= and scale= multiply shapes and places, and instances stay instances") {
    const TemporaryFolder folder;
    Assembly assembly;
    const TDF_Label root = assembly.group("root");
    const TDF_Label block = assembly.part("block", box(1.0, 2.0, 3.0));
    assembly.place(root, block, shifted(10.0, 0.0, 0.0));
    assembly.place(root, block, general_position(1.0, 0.0, 20.0, 0.0));
    assembly.write(folder / "inch.step", "INCH");

    const Model plain = load(folder / "inch.step");
    const Model tenfold = load(folder / "inch.step", {"", 10.0});
    CHECK(tenfold.notes().empty());
    CHECK(tenfold.shape_count() == 1);
    // The file's numbers are inches (1 mm = 1/25.4): read as metres they grow by 1000 / 25.4.
    const Model metres = load(folder / "inch.step", {"m", 2.0});
    const double growth = 2.0 * 1000.0 / 25.4;
    for (size_t i = 0; i < 2; ++i) {
        const Box3 before = plain.solids()[i].bounds();
        check_box(tenfold.solids()[i].bounds(), Box3(before.min() * 10.0, before.max() * 10.0),
                  1e-12);
        check_box(metres.solids()[i].bounds(), Box3(before.min() * growth, before.max() * growth),
                  1e-9);
        CHECK(tenfold.solids()[i].volume() == doctest::Approx(6000.0).epsilon(1e-9));
        const Transform3 &small = plain.solids()[i].placement(),
                         &large = tenfold.solids()[i].placement();
        CHECK((large.linear() - small.linear()).norm() < 1e-12);
        CHECK((large.translation() - 10.0 * small.translation()).norm() < 1e-9);
    }
}

TEST_CASE("options that make no sense") {
    const TemporaryFolder folder;
    write_step(box(1.0, 1.0, 1.0), folder / "a.step");
    for (const double scale : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN(),
                               std::numeric_limits<double>::infinity()}) {
        CAPTURE(scale);
        CHECK_THROWS_AS(load(folder / "a.step", {"", scale}), GeometryError);
    }
    try {
        load(folder / "a.step", {"furlong", 1.0});
        FAIL("an unknown unit was taken");
    } catch (const GeometryError& error) {
        CHECK(error.kind() == ErrorKind::unknown_option);
        CHECK(std::string(error.what()) ==
              "unknown unit 'furlong'; use one of: mm, cm, m, um, inch, foot");
    }
}
