/// Models whose edges miss their common vertex.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_Copy.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Vertex.hxx>
#include <string>

#include "flatten/bodies.hpp"
#include "planform/error.hpp"

using namespace planform;

namespace {

/// The kernel takes a vertex that was moved away from its edges for valid, since the vertex'
/// tolerance covers the way.
void move_vertex(const TopoDS_Shape& shape, const gp_Pnt& place, const gp_Vec& way) {
    TopTools_IndexedMapOfShape vertices;
    TopExp::MapShapes(shape, TopAbs_VERTEX, vertices);
    for (int i = 1; i <= vertices.Extent(); ++i) {
        const TopoDS_Vertex vertex = TopoDS::Vertex(vertices(i));
        const gp_Pnt p = BRep_Tool::Pnt(vertex);
        if (p.Distance(place) < 1e-9)
            BRep_Builder().UpdateVertex(vertex, p.Translated(way), 2.0 * way.Magnitude());
    }
}

/// A box of 20 x 10 x 6 of which the vertex at (20, 10, 6) was moved away, as a fillet that went
/// wrong leaves it.
std::vector<Solid> box_with_vertex_off(double distance) {
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(20.0, 10.0, 6.0).Shape();
    move_vertex(box, gp_Pnt(20, 10, 6), gp_Vec(distance, 0, 0));
    return bodies::solids_of(box);
}

bool has_note(const ProfileSet& set, const std::string& words) {
    const std::vector<std::string>& notes = set.notes();
    return std::any_of(notes.begin(), notes.end(), [&](const std::string& note) {
        return note.find(words) != std::string::npos;
    });
}

}  // namespace

TEST_CASE("a gap at a vertex: bridged, noted beyond the tolerance, refused beyond a kerf") {
    const Datum datum = Datum::xy();
    const ProfileSet narrow = silhouette(box_with_vertex_off(0.005), datum);
    CHECK(narrow.notes().empty());
    CHECK(std::abs(narrow.area() - 200.0) < 0.005 * 10.0);

    const ProfileSet wider = silhouette(box_with_vertex_off(0.05), datum);
    CHECK(has_note(wider, "0.05 mm beside its vertex"));
    CHECK(has_note(wider, "closed by a straight line"));
    CHECK(std::abs(wider.area() - 200.0) < 0.05 * 10.0);

    try {
        silhouette(box_with_vertex_off(1.5), datum);
        FAIL("a gap of 1.5 mm was bridged");
    } catch (const GeometryError& error) {
        const std::string text = error.what();
        CHECK(error.kind() == ErrorKind::contour_not_closed);
        CHECK(text.find("edge ") != std::string::npos);
        CHECK(text.find("1.5 mm beside its vertex") != std::string::npos);
        CHECK(text.find("repair the model") != std::string::npos);
    }
}

TEST_CASE("planes that pass between a vertex and the ends of its edges") {
    // As splines, the edges of a real package missed their vertex by half a micrometre.
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(20.0, 10.0, 6.0).Shape();
    const TopoDS_Shape splines = BRepBuilderAPI_NurbsConvert(box, Standard_True).Shape();
    for (const double way : {5e-4, -5e-4}) {
        const TopoDS_Shape shape = BRepBuilderAPI_Copy(splines).Shape();
        move_vertex(shape, gp_Pnt(20, 0, 6), gp_Vec(0.3 * way, -0.5 * way, way));
        const auto off = bodies::solids_of(shape), exact = bodies::solids_of(box);
        for (const double aside : {-4e-4, -2e-4, -1e-5, 1e-5, 2e-4, 4e-4}) {
            CAPTURE(way);
            CAPTURE(aside);
            const Datum plane = Datum({20, 0, 6}, {0.2, 0.35, 1.0}).moved(aside);
            const ProfileSet expected = section(exact, plane);
            CHECK(expected.area() > 50.0);
            CHECK(std::abs(section(off, plane).area() - expected.area()) <
                  2.0 * std::abs(way) * expected.length());
        }
    }
}
