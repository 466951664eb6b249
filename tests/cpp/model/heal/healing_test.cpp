#include <doctest/doctest.h>

#include <BRepAdaptor_Surface.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Interface_Static.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Reader.hxx>
#include <Standard_Version.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Solid.hxx>

#include "model/kernel/kernel.hpp"
#include "model/support.hpp"
#include "planform/occt.hpp"

using namespace planform;
using namespace planform::test;

namespace {

/// STEP as most programs write it: without curves in the parameters of faces.
void write_bare_step(const TopoDS_Shape& shape, const std::filesystem::path& path) {
    STEPControl_Controller::Init();
    Interface_Static::SetIVal("write.surfacecurve.mode", 0);
    write_step(shape, path);
    Interface_Static::SetIVal("write.surfacecurve.mode", 1);
}

LoadOptions heal(Heal how) {
    LoadOptions options;
    options.heal = how;
    return options;
}

TopoDS_Shape plate_with_fillets_and_hole() {
    const TopoDS_Shape plate = box(30.0, 20.0, 8.0);
    BRepFilletAPI_MakeFillet rounded(plate);
    for (TopExp_Explorer edges(plate, TopAbs_EDGE); edges.More(); edges.Next()) {
        rounded.Add(2.0, TopoDS::Edge(edges.Current()));
    }
    const TopoDS_Shape drill =
        BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(12, 9, -1), gp::DZ()), 3.0, 10.0).Shape();
    return BRepAlgoAPI_Cut(rounded.Shape(), drill).Shape();
}

TopoDS_Shape inside_out(double size) {
    const BRep_Builder builder;
    TopoDS_Solid solid;
    builder.MakeSolid(solid);
    builder.Add(solid, box_shell(size, 0).Reversed());
    return solid;
}

void check_same(const Model& spared, const Model& healed) {
    REQUIRE(spared.solids().size() == healed.solids().size());
    CHECK(spared.notes() == healed.notes());
    for (size_t i = 0; i < spared.solids().size(); ++i) {
        const Solid& a = spared.solids()[i];
        const Solid& b = healed.solids()[i];
        CHECK(a.name() == b.name());
        CHECK(a.notes() == b.notes());
        CHECK(a.face_count() == b.face_count());
        CHECK(a.edge_count() == b.edge_count());
        CHECK(a.volume() == doctest::Approx(b.volume()).epsilon(1e-10));
        CHECK(a.surface_area() == doctest::Approx(b.surface_area()).epsilon(1e-10));
        CHECK((a.bounds().min() - b.bounds().min()).norm() < 2e-7);
        CHECK((a.bounds().max() - b.bounds().max()).norm() < 2e-7);
    }
}

}  // namespace

TEST_CASE("sound solids are read alike with and without healing, and only odd faces are healed") {
    struct Body {
        const char* name;
        TopoDS_Shape shape;
        int faces;
        int alone;
    };
    const Body bodies[] = {
        {"box", box(3.0, 4.0, 5.0), 6, 0},
        {"cylinder", BRepPrimAPI_MakeCylinder(3.0, 7.0).Solid(), 3, 0},
        {"cone", BRepPrimAPI_MakeCone(5.0, 2.0, 8.0).Solid(), 3, 0},
        // The kernel writes the loop of a whole torus clockwise, up to 7.7.
        {"torus", BRepPrimAPI_MakeTorus(10.0, 3.0).Solid(), 1, OCC_VERSION_HEX < 0x070800 ? 1 : 0},
        // Its poles are edges that STEP doesn't write.
        {"sphere", BRepPrimAPI_MakeSphere(6.0).Solid(), 1, 1},
        {"tip of a cone", BRepPrimAPI_MakeCone(5.0, 0.0, 8.0).Solid(), 2, 1},
        // Rounded corners are eighths of spheres, each with a pole.
        {"rounded plate", plate_with_fillets_and_hole(), 27, 8},
    };
    const TemporaryFolder folder;
    for (const Body& body : bodies) {
        CAPTURE(std::string(body.name));
        const TopoDS_Shape placed = body.shape.Moved(general_position(0.7, 11.0, -5.0, 3.0));
        write_bare_step(placed, folder / "body.step");
        const Model spared = load(folder / "body.step");
        const Model healed = load(folder / "body.step", heal(Heal::always));
        check_same(spared, healed);
        CHECK(spared.healed().shapes == 1);
        CHECK(spared.healed().shapes_in_full == 0);
        CHECK(spared.healed().faces == body.faces);
        CHECK(spared.healed().faces_alone == body.alone);
        CHECK(healed.healed().shapes_in_full == 1);
        // The kernel's own solid, which never saw a file, is the oracle.
        const Model direct = from_shape(placed);
        CHECK(spared.solids()[0].volume() ==
              doctest::Approx(direct.solids()[0].volume()).epsilon(1e-9));
    }
}

TEST_CASE("what is out of order is healed in full") {
    const TemporaryFolder folder;
    write_bare_step(inside_out(4.0), folder / "inside_out.step");
    const Model turned = load(folder / "inside_out.step");
    CHECK(turned.healed().shapes_in_full == 1);
    CHECK(turned.solids()[0].volume() == doctest::Approx(64.0));
    check_same(turned, load(folder / "inside_out.step", heal(Heal::always)));

    // One face that looks inward.
    write_bare_step(box(3.0, 4.0, 5.0), folder / "box.step");
    const std::string text = read_bytes(folder / "box.step");
    const size_t face = text.find("ADVANCED_FACE");
    REQUIRE(face != std::string::npos);
    const size_t sense = text.find_first_of("TF", text.find("),#", face));
    std::string turned_face = text;
    turned_face[sense] = text[sense] == 'T' ? 'F' : 'T';
    write_bytes(folder / "turned_face.step", turned_face);
    const Model mended = load(folder / "turned_face.step");
    CHECK(mended.healed().shapes_in_full == 1);
    CHECK(mended.solids()[0].volume() == doctest::Approx(60.0));
    check_same(mended, load(folder / "turned_face.step", heal(Heal::always)));
}

TEST_CASE("an open body is refused in the same words with and without healing") {
    const TemporaryFolder folder;
    write_bare_step(box_shell(4.0, 1), folder / "open.step");
    const std::optional<LoadError> spared = load_error(folder / "open.step");
    const std::optional<LoadError> healed = load_error(folder / "open.step", heal(Heal::always));
    REQUIRE(spared);
    REQUIRE(healed);
    CHECK(std::string(spared->what()) == healed->what());
}

TEST_CASE("a reader of the caller's own heals as before") {
    const TemporaryFolder folder;
    write_bare_step(BRepPrimAPI_MakeCylinder(3.0, 7.0).Solid(), folder / "cylinder.step");
    load(folder / "cylinder.step");
    const model::Silence silence;
    STEPControl_Reader reader;
    REQUIRE(reader.ReadFile((folder / "cylinder.step").c_str()) == IFSelect_RetDone);
    reader.TransferRoots();
    // Without any healing there would be none.
    int stored = 0;
    for (TopExp_Explorer faces(reader.OneShape(), TopAbs_FACE); faces.More(); faces.Next()) {
        const TopoDS_Face& face = TopoDS::Face(faces.Current());
        if (BRepAdaptor_Surface(face).GetType() != GeomAbs_Cylinder) continue;
        for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
            double first = 0.0, last = 0.0;
            const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
            stored += !BRep_Tool::CurveOnSurface(edge, face, first, last).IsNull();
        }
    }
    CHECK(stored == 4);
}
