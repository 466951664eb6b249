#include <doctest/doctest.h>

#include <BRepPrimAPI_MakeSphere.hxx>
#include <TopExp_Explorer.hxx>

#include "model/support.hpp"
#include "planform/occt.hpp"

using namespace planform;
using namespace planform::test;

namespace {

using Path = std::vector<std::string>;

void check_color(const std::optional<Color>& color, const Color& expected) {
    REQUIRE(color.has_value());
    for (size_t i = 0; i < 3; ++i) {
        // The kernel keeps colours in single precision.
        CHECK((*color)[i] == doctest::Approx(expected[i]).epsilon(1e-5));
    }
}

}  // namespace

TEST_CASE("tree, names, instances and places of a nested assembly, in every schema") {
    const TemporaryFolder folder;
    for (const std::string schema : {"AP203", "AP214IS", "AP242DIS"}) {
        CAPTURE(schema);
        Assembly assembly;
        const TDF_Label root = assembly.group("feeder");
        const TDF_Label frame = assembly.group("frame");
        const TDF_Label rail = assembly.part("rail", box(30.0, 4.0, 6.0));
        const TDF_Label knob = assembly.part("knob", BRepPrimAPI_MakeSphere(3.0).Solid());
        assembly.place(frame, rail, shifted(0.0, 0.0, 10.0), "rail left");
        assembly.place(frame, rail, shifted(0.0, 40.0, 10.0), "rail right");
        assembly.place(root, frame, shifted(100.0, 0.0, 0.0), "frame low");
        assembly.place(root, frame, general_position(0.5, 0.0, 0.0, 200.0), "frame high");
        assembly.place(root, knob, shifted(-20.0, 0.0, 0.0));
        assembly.write(folder / "a.step", "MM", schema);

        const std::string text = read_bytes(folder / "a.step");
        CHECK(text.find(schema == "AP203" ? "CONFIG_CONTROL_DESIGN"
                        : schema == "AP214IS"
                            ? "AUTOMOTIVE_DESIGN"
                            : "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING") != std::string::npos);

        const Model model = load(folder / "a.step");
        REQUIRE(model.solids().size() == 5);
        CHECK(model.shape_count() == 2);
        CHECK(model.source() == (folder / "a.step").string());
        CHECK(model.notes().empty());
        const std::vector<Solid>& solids = model.solids();
        CHECK(solids[0].path() == Path{"feeder", "frame low", "rail left"});
        CHECK(solids[1].path() == Path{"feeder", "frame low", "rail right"});
        CHECK(solids[2].path() == Path{"feeder", "frame high", "rail left"});
        CHECK(solids[3].path() == Path{"feeder", "frame high", "rail right"});
        CHECK(solids[4].path().front() == "feeder");
        for (size_t i = 0; i < 4; ++i) {
            CHECK(solids[i].name() == "rail");
            CHECK(solids[i].shape_index() == 0);
            CHECK(shape_of(solids[i]).IsPartner(shape_of(solids[0])));
        }
        CHECK(solids[4].name() == "knob");
        CHECK(solids[4].shape_index() == 1);
        CHECK(solids[1].bounds().isApprox(Box3(Point3(100, 40, 10), Point3(130, 44, 16)), 1e-9));
        // Placement and shape agree: the corner of the rail, moved.
        const TopLoc_Location expected =
            general_position(0.5, 0.0, 0.0, 200.0) * shifted(0.0, 40.0, 10.0);
        const gp_Pnt corner = gp_Pnt(30.0, 4.0, 6.0).Transformed(expected.Transformation());
        const Point3 moved = solids[3].placement() * Point3(30.0, 4.0, 6.0);
        CHECK((moved - Point3(corner.X(), corner.Y(), corner.Z())).norm() < 1e-9);
    }
}

TEST_CASE("names are data: they come back as written") {
    const TemporaryFolder folder;
    const std::string names[] = {"../../x",
                                 "a/b",
                                 "\"><script>alert(1)</script>",
                                 "\U0001F426 Vögel 鳥",
                                 "it's",
                                 std::string(300, 'n'),
                                 "back\\slash",
                                 "two  gaps"};
    for (const std::string& name : names) {
        CAPTURE(name);
        Assembly assembly;
        const TDF_Label root = assembly.group("root");
        assembly.place(root, assembly.part(name, box(1.0, 1.0, 1.0)), {}, "here");
        assembly.write(folder / "a.step");
        const Model model = load(folder / "a.step");
        REQUIRE(model.solids().size() == 1);
        CHECK(model.solids()[0].name() == name);
        CHECK(model.solids()[0].path() == Path{"root", "here"});
    }
}

TEST_CASE("the same name twice stays the same name; parts without names are numbered") {
    const TemporaryFolder folder;
    Assembly assembly;
    const TDF_Label root = assembly.group("root");
    assembly.place(root, assembly.part("twin", box(1.0, 1.0, 1.0)));
    assembly.place(root, assembly.part("twin", box(2.0, 1.0, 1.0)), shifted(5.0, 0.0, 0.0));
    assembly.write(folder / "a.step");
    const Model model = load(folder / "a.step");
    REQUIRE(model.solids().size() == 2);
    CHECK(model.solids()[0].name() == "twin");
    CHECK(model.solids()[1].name() == "twin");
    CHECK(model.shape_count() == 2);

    const Model unnamed = from_shape(compound({box(1, 1, 1), box(2, 2, 2)}));
    CHECK(unnamed.solids()[0].name() == "solid 1");
    CHECK(unnamed.solids()[1].name() == "solid 2");
    CHECK(unnamed.solids()[1].path() == Path{"solid 2"});
    CHECK(unnamed.source() == "memory");
}

TEST_CASE("a part of several bodies: each is a solid of its own, numbered in the part") {
    const TemporaryFolder folder;
    Assembly assembly;
    const TDF_Label root = assembly.group("root");
    const TDF_Label part = assembly.part(
        "pair", compound({box(1.0, 1.0, 1.0), box(2.0, 2.0, 2.0).Moved(shifted(9.0, 0.0, 0.0))}));
    assembly.place(root, part, {}, "pair");
    assembly.place(root, part, shifted(0.0, 50.0, 0.0), "other");
    assembly.write(folder / "a.step");
    const Model model = load(folder / "a.step");
    REQUIRE(model.solids().size() == 4);
    CHECK(model.shape_count() == 2);
    CHECK(model.solids()[0].name() == "pair (1)");
    CHECK(model.solids()[1].name() == "pair (2)");
    CHECK(model.solids()[3].name() == "pair (2)");
    CHECK(model.solids()[3].path() == Path{"root", "other (2)"});
    CHECK(model.solids()[3].bounds().isApprox(Box3(Point3(9, 50, 0), Point3(11, 52, 2)), 1e-9));
}

TEST_CASE("colours: instance before body before part before faces; sRGB as in the file") {
    const TemporaryFolder folder;
    const Color red = {0.8, 0.1, 0.2}, green = {0.1, 0.7, 0.3}, blue = {0.2, 0.3, 0.9};
    Assembly assembly;
    const TDF_Label root = assembly.group("root");
    const TDF_Label plain = assembly.part("plain", box(1.0, 1.0, 1.0));
    const TDF_Label painted = assembly.part("painted", box(2.0, 1.0, 1.0));
    assembly.color(painted, red);
    const TopoDS_Shape faced_shape = box(3.0, 1.0, 1.0);
    const TDF_Label faced = assembly.part("faced", faced_shape);
    for (TopExp_Explorer faces(faced_shape, TopAbs_FACE); faces.More(); faces.Next()) {
        assembly.color(assembly.sub_shape(faced, faces.Current()), blue);
    }
    const TopoDS_Shape patched_shape = box(4.0, 1.0, 1.0);
    const TDF_Label patched = assembly.part("patched", patched_shape);
    const TopoDS_Shape first_face = TopExp_Explorer(patched_shape, TopAbs_FACE).Current();
    assembly.color(assembly.sub_shape(patched, first_face), blue);

    assembly.place(root, plain);
    assembly.place(root, painted, shifted(10, 0, 0));
    const TDF_Label repainted = assembly.place(root, painted, shifted(20, 0, 0));
    assembly.color(repainted, green);
    assembly.place(root, faced, shifted(30, 0, 0));
    assembly.place(root, patched, shifted(40, 0, 0));
    assembly.write(folder / "a.step");

    const Model model = load(folder / "a.step");
    REQUIRE(model.solids().size() == 5);
    CHECK_FALSE(model.solids()[0].color().has_value());
    check_color(model.solids()[1].color(), red);
    check_color(model.solids()[2].color(), green);
    check_color(model.solids()[3].color(), blue);
    CHECK_FALSE(model.solids()[4].color().has_value());
}

TEST_CASE(
    "layers: body before part before faces before the assembly; several, sorted, any script") {
    const TemporaryFolder folder;
    Assembly assembly;
    const TDF_Label root = assembly.group("root");
    const TDF_Label plain = assembly.part("plain", box(1.0, 1.0, 1.0));
    const TDF_Label board = assembly.part("board", box(2.0, 1.0, 1.0));
    assembly.layer(board, "plywood 6 mm");
    assembly.layer(board,
                   "cut \xC3\xA4u\xC3\x9F"
                   "en");
    const TopoDS_Shape first = box(3.0, 1.0, 1.0);
    const TopoDS_Shape second = box(1.0, 3.0, 1.0).Moved(shifted(0, 10, 0));
    const TDF_Label pair = assembly.part("pair", compound({first, second}));
    assembly.layer(assembly.sub_shape(pair, second), "steel");
    const TopoDS_Shape faced_shape = box(4.0, 1.0, 1.0);
    const TDF_Label faced = assembly.part("faced", faced_shape);
    for (TopExp_Explorer faces(faced_shape, TopAbs_FACE); faces.More(); faces.Next())
        assembly.layer(assembly.sub_shape(faced, faces.Current()), "larch");
    const TopoDS_Shape patched_shape = box(5.0, 1.0, 1.0);
    const TDF_Label patched = assembly.part("patched", patched_shape);
    assembly.layer(
        assembly.sub_shape(patched, TopExp_Explorer(patched_shape, TopAbs_FACE).Current()), "oak");
    double x = 0.0;
    for (const TDF_Label& part : {plain, board, pair, faced, patched})
        assembly.place(root, part, shifted(x += 10.0, 0, 0));
    assembly.write(folder / "a.step");
    // What the kernel's writer made of it.
    CHECK(read_bytes(folder / "a.step").find("PRESENTATION_LAYER_ASSIGNMENT('steel'") !=
          std::string::npos);

    const Model model = load(folder / "a.step");
    REQUIRE(model.solids().size() == 6);
    using Layers = std::vector<std::string>;
    CHECK(model.solids()[0].layers().empty());
    CHECK(model.solids()[1].layers() == Layers{"cut \xC3\xA4u\xC3\x9F"
                                               "en",
                                               "plywood 6 mm"});
    CHECK(model.solids()[2].layers().empty());
    CHECK(model.solids()[3].layers() == Layers{"steel"});
    CHECK(model.solids()[4].layers() == Layers{"larch"});
    CHECK(model.solids()[5].layers().empty());
}
