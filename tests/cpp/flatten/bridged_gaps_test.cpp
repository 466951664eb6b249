/// Models whose edges miss their common vertex.

#include <doctest/doctest.h>

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

/// A box of 20 x 10 x 6 of which the vertex at (20, 10, 6) was moved away, as a fillet that went
/// wrong leaves it: the kernel takes it for valid, since the vertex' tolerance covers the way.
std::vector<Solid> box_with_vertex_off(double distance) {
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(20.0, 10.0, 6.0).Shape();
    TopTools_IndexedMapOfShape vertices;
    TopExp::MapShapes(box, TopAbs_VERTEX, vertices);
    for (int i = 1; i <= vertices.Extent(); ++i) {
        const TopoDS_Vertex vertex = TopoDS::Vertex(vertices(i));
        const gp_Pnt p = BRep_Tool::Pnt(vertex);
        if (p.Distance(gp_Pnt(20, 10, 6)) < 1e-9)
            BRep_Builder().UpdateVertex(vertex, p.Translated(gp_Vec(distance, 0, 0)),
                                        2.0 * distance);
    }
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
