#include <doctest/doctest.h>

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Solid.hxx>
#include <cmath>
#include <thread>

#include "model/support.hpp"
#include "planform/occt.hpp"

using namespace planform;
using namespace planform::test;

namespace {

TopoDS_Shape solid_of(const TopoDS_Shape& shell) {
    const BRep_Builder builder;
    TopoDS_Solid solid;
    builder.MakeSolid(solid);
    builder.Add(solid, shell);
    return solid;
}

}  // namespace

TEST_CASE("volume, surface and box of elementary bodies, against their closed forms") {
    struct Body {
        const char* name;
        TopoDS_Shape shape;
        double volume;
        double area;
        Vector3 size;
    };
    const double slant = std::hypot(8.0, 5.0 - 2.0);
    // Closed forms of elementary geometry; the torus by Pappus's theorems.
    const Body bodies[] = {
        {"box", box(3.0, 4.0, 5.0), 60.0, 94.0, {3, 4, 5}},
        {"cylinder", BRepPrimAPI_MakeCylinder(3.0, 7.0).Solid(), 63.0 * pi, 60.0 * pi, {6, 6, 7}},
        {"cone",
         BRepPrimAPI_MakeCone(5.0, 2.0, 8.0).Solid(),
         pi * 8.0 * (25.0 + 10.0 + 4.0) / 3.0,
         pi * (25.0 + 4.0 + 7.0 * slant),
         {10, 10, 8}},
        {"sphere", BRepPrimAPI_MakeSphere(6.0).Solid(), 288.0 * pi, 144.0 * pi, {12, 12, 12}},
        {"torus",
         BRepPrimAPI_MakeTorus(10.0, 3.0).Solid(),
         180.0 * pi * pi,
         120.0 * pi * pi,
         {26, 26, 6}},
    };
    for (const Body& body : bodies) {
        CAPTURE(body.name);
        const Model model = from_shape(
            compound({body.shape, body.shape.Moved(general_position(0.9, 300.0, -200.0, 100.0))}));
        REQUIRE(model.solids().size() == 2);
        CHECK(model.shape_count() == 1);
        const Solid& solid = model.solids()[0];
        CHECK((solid.bounds().sizes() - body.size).norm() < 5e-7);
        for (const Solid& instance : model.solids()) {
            CHECK(instance.volume() == doctest::Approx(body.volume).epsilon(1e-9));
            CHECK(instance.surface_area() == doctest::Approx(body.area).epsilon(1e-9));
        }
    }
}

TEST_CASE("boxes of plane, cylinder and cone bodies are exact to rounding, in any position") {
    const Model flat = from_shape(box(3.0, 4.0, 5.0).Moved(shifted(1.0, 2.0, 3.0)));
    CHECK(flat.solids()[0].bounds().min() == Point3(1.0, 2.0, 3.0));
    CHECK(flat.solids()[0].bounds().max() == Point3(4.0, 6.0, 8.0));

    // A cylinder with axis a reaches r * sqrt(1 - a_i^2) beyond its axis in direction i.
    const TopLoc_Location place = general_position(0.9, 10.0, 20.0, 30.0);
    const gp_Dir axis = gp::DZ().Transformed(place.Transformation());
    const Model rod = from_shape(BRepPrimAPI_MakeCylinder(3.0, 7.0).Solid().Moved(place));
    const Box3 bounds = rod.solids()[0].bounds();
    for (int i = 0; i < 3; ++i) {
        const double a = axis.Coord(i + 1), start = 10.0 * (i + 1), end = start + 7.0 * a;
        const double reach = 3.0 * std::sqrt(1.0 - a * a);
        CHECK(bounds.min()[i] == doctest::Approx(std::min(start, end) - reach).epsilon(1e-12));
        CHECK(bounds.max()[i] == doctest::Approx(std::max(start, end) + reach).epsilon(1e-12));
    }
}

TEST_CASE("faces and edges are counted once") {
    const Model model =
        from_shape(compound({box(1, 1, 1), BRepPrimAPI_MakeCylinder(1, 2).Solid()}));
    CHECK(model.solids()[0].face_count() == 6);
    CHECK(model.solids()[0].edge_count() == 12);
    CHECK(model.solids()[1].face_count() == 3);
    CHECK(model.solids()[1].edge_count() == 3);  // two circles and the seam
}

TEST_CASE("a closed shell is taken as a solid, with a note") {
    for (const bool inside_out : {false, true}) {
        CAPTURE(inside_out);
        TopoDS_Shape shell = box_shell(2.0, 0);
        if (inside_out) shell = shell.Reversed();
        const Model model = from_shape(shell);
        REQUIRE(model.solids().size() == 1);
        const Solid& solid = model.solids()[0];
        CHECK(shape_of(solid).ShapeType() == TopAbs_SOLID);
        CHECK(solid.volume() == doctest::Approx(8.0).epsilon(1e-12));
        REQUIRE_FALSE(solid.notes().empty());
        CHECK(solid.notes()[0] == "closed shell taken as a solid");
    }
}

TEST_CASE("a solid that is inside out is turned, with a note") {
    const TopoDS_Shape shell = TopExp_Explorer(box(2.0, 3.0, 4.0), TopAbs_SHELL).Current();
    const Model model = from_shape(solid_of(shell.Reversed()));
    CHECK(model.solids()[0].volume() == doctest::Approx(24.0).epsilon(1e-12));
    REQUIRE(model.solids()[0].notes().size() == 1);
    CHECK(model.solids()[0].notes()[0] == "the solid was inside out and has been turned");
    CHECK(shape_of(model.solids()[0]).Orientation() == TopAbs_FORWARD);
}

TEST_CASE("a solid whose shell is open stays a solid, with a note that says where") {
    const Model model = from_shape(solid_of(box_shell(2.0, 1)));
    REQUIRE(model.solids().size() == 1);
    REQUIRE(model.solids()[0].notes().size() == 1);
    CHECK(model.solids()[0].notes()[0] == "shell 1 is not closed: 4 free edges");
}

TEST_CASE("open shells and loose pieces beside a solid are named in the notes") {
    const TopoDS_Shape loose_face = TopExp_Explorer(box(1, 1, 1), TopAbs_FACE).Current();
    const TopoDS_Shape loose_edge = BRepBuilderAPI_MakeEdge(gp_Pnt(0, 0, 0), gp_Pnt(1, 0, 0));
    const Model model =
        from_shape(compound({box(1, 1, 1), box_shell(2.0, 2), loose_face, loose_edge, loose_edge}));
    CHECK(model.solids().size() == 1);
    REQUIRE(model.notes().size() == 1);
    // Without two of its six faces, side by side or opposite, a box has 6 or 8 free edges.
    CHECK(model.notes()[0] ==
          "left out, as they are no solids: 1 open shell (4 faces, 8 free edges), 1 loose face, 2 "
          "loose edges");
}

TEST_CASE("an open shell in a STEP file is named, as a note or as the error") {
    const TemporaryFolder folder;
    Assembly assembly;
    const TDF_Label root = assembly.group("root");
    assembly.place(root, assembly.part("skin", box_shell(2.0, 1)));
    assembly.write(folder / "open.step");
    const auto error = load_error(folder / "open.step");
    REQUIRE(error.has_value());
    CHECK(error->kind() == ErrorKind::no_solid);
    const std::string message = error->what();
    CHECK(message.find((folder / "open.step").string()) == 0);
    CHECK(message.find("1 open shell 'skin' (5 faces, 4 free edges)") != std::string::npos);

    assembly.place(root, assembly.part("block", box(1, 1, 1)), shifted(5, 0, 0));
    assembly.write(folder / "both.step");
    const Model model = load(folder / "both.step");
    CHECK(model.solids().size() == 1);
    REQUIRE(model.notes().size() == 1);
    CHECK(model.notes()[0].find("1 open shell 'skin' (5 faces, 4 free edges)") !=
          std::string::npos);
}

TEST_CASE("shapes without a body") {
    CHECK_THROWS_AS(from_shape(TopoDS_Shape()), LoadError);
    CHECK_THROWS_AS(from_shape(compound({})), LoadError);
    CHECK_THROWS_AS(from_shape(TopoDS_Solid()), LoadError);
    CHECK_THROWS_AS(Solid(nullptr), GeometryError);
}

TEST_CASE("a mirrored copy is a shape of its own") {
    gp_Trsf mirror;
    mirror.SetMirror(gp_Ax2(gp::Origin(), gp::DX()));
    TopoDS_Shape copy = BRepPrimAPI_MakeCone(5.0, 2.0, 8.0).Solid();
    const TopoDS_Shape original = copy.Moved(shifted(20, 0, 0));
    copy.Location(TopLoc_Location(mirror), Standard_False);
    const Model model = from_shape(compound({original, copy}));
    REQUIRE(model.solids().size() == 2);
    CHECK(model.shape_count() == 2);
    CHECK(model.solids()[1].volume() == doctest::Approx(model.solids()[0].volume()).epsilon(1e-12));
    CHECK(model.solids()[1].volume() > 0.0);
}

TEST_CASE("measures may be asked for from several threads at once") {
    const Model model = from_shape(compound({box(3, 4, 5), BRepPrimAPI_MakeSphere(2.0).Solid()}));
    std::vector<double> sums(8, 0.0);
    std::vector<std::thread> threads;
    for (double& sum : sums) {
        threads.emplace_back([&model, &sum] {
            for (const Solid& solid : model.solids()) {
                sum += solid.volume() + solid.surface_area() + solid.bounds().volume();
            }
        });
    }
    for (std::thread& thread : threads) thread.join();
    for (const double sum : sums) CHECK(sum == sums[0]);
    CHECK(sums[0] == doctest::Approx(60 + 94 + 60 + 32 * pi / 3 + 16 * pi + 64).epsilon(1e-6));
}
