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
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <random>
#include <string>

#include "flatten/bodies.hpp"
#include "planform/error.hpp"
#include "random_count.hpp"

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

/// What the refusal says; fails if there is none.
std::string refusal(const std::vector<Solid>& solids, const Datum& datum, double tolerance) {
    try {
        silhouette(solids, datum, {tolerance, Merge::unite});
    } catch (const GeometryError& error) {
        CHECK(error.kind() == ErrorKind::contour_not_closed);
        return error.what();
    }
    FAIL("a gap that the outline shows was bridged");
    return {};
}

bool has_note(const ProfileSet& set, const std::string& words) {
    const std::vector<std::string>& notes = set.notes();
    return std::any_of(notes.begin(), notes.end(), [&](const std::string& note) {
        return note.find(words) != std::string::npos;
    });
}

}  // namespace

TEST_CASE("a gap at a vertex: bridged within the tolerance, refused where the outline shows it") {
    const Datum datum = Datum::xy();
    const ProfileSet narrow = silhouette(box_with_vertex_off(0.005), datum);
    CHECK(narrow.notes().empty());
    CHECK(std::abs(narrow.area() - 200.0) < 0.005 * 10.0);

    const ProfileSet allowed = silhouette(box_with_vertex_off(0.05), datum, {0.06, Merge::unite});
    CHECK(allowed.notes().empty());
    CHECK(std::abs(allowed.area() - 200.0) < 0.05 * 10.0);

    CHECK(refusal(box_with_vertex_off(0.05), datum, 0.01).find("0.05 mm beside its vertex") !=
          std::string::npos);
    const std::string text = refusal(box_with_vertex_off(1.5), datum, 0.01);
    CHECK(text.find("edge ") != std::string::npos);
    CHECK(text.find("1.5 mm beside its vertex") != std::string::npos);
    CHECK(text.find("repair the model") != std::string::npos);
}

TEST_CASE("a gap inside the shadow changes nothing: a note says where it is") {
    // A stud on a broad plate: the vertex of its rim is off.
    const TopoDS_Shape shape =
        BRepAlgoAPI_Fuse(BRepPrimAPI_MakeBox(40.0, 30.0, 3.0).Shape(),
                         BRepPrimAPI_MakeBox(gp_Pnt(10, 10, 3), gp_Pnt(20, 18, 9)).Shape());
    move_vertex(shape, gp_Pnt(20, 18, 9), gp_Vec(0.03, 0.04, 0));
    // Seen askew, from the side away from that vertex: its edges are part of the sum.
    const Datum datum({0, 0, 0}, {-0.1, -0.2, 1.0});
    const ProfileSet set = silhouette(bodies::solids_of(shape), datum);
    CHECK(has_note(set, " mm beside its vertex"));
    CHECK(has_note(set, "lies inside the outline"));
    const double lift = std::sqrt(1.05);
    const double plate = (40.0 * 30.0 + 3.0 * (0.1 * 30.0 + 0.2 * 40.0)) / lift;
    CHECK(set.area() == doctest::Approx(plate).epsilon(1e-9));
}

TEST_CASE("small bodies with vertices off: right to the tolerance and a hundredth, or refused") {
    // Every case runs in full when PLANFORM_LONG_TESTS is set.
    const int wanted = runs_in_full() ? 500 : 60;
    std::mt19937_64 random(37);
    const auto number = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int refused = 0, bridged = 0;
    for (int i = 0; i < wanted; ++i) {
        CAPTURE(i);
        const double size = std::pow(10.0, number(-2.0, 0.3));
        const double off = size * std::pow(10.0, number(-5.0, -0.5));
        const double tolerance = size * std::pow(10.0, number(-4.0, -2.1));
        CAPTURE(size);
        CAPTURE(off);
        CAPTURE(tolerance);
        const double a = size, b = size * number(0.3, 1.0), c = size * number(0.1, 1.0);
        TopoDS_Shape shape = BRepPrimAPI_MakeBox(a, b, c).Shape();
        if (i % 2 == 0)
            shape = BRepAlgoAPI_Cut(
                shape,
                BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0.5 * a, 0.5 * b, -size), gp_Dir(0, 0, 1)),
                                         0.3 * b, 3.0 * size)
                    .Shape());
        const Datum datum = i % 3 == 0 ? Datum::xy() : bodies::random_datum(random);
        const FlattenOptions fine{1e-4 * size, Merge::unite};
        const double expected = silhouette(bodies::solids_of(shape), datum, fine).area();
        const Vector3 way = off * bodies::random_direction(random);
        const bool is_corner = i % 4 < 2;
        move_vertex(shape, is_corner ? gp_Pnt(a, b, c) : gp_Pnt(0, b, 0),
                    gp_Vec(way.x(), way.y(), way.z()));
        try {
            const ProfileSet set =
                silhouette(bodies::solids_of(shape), datum, {tolerance, Merge::unite});
            ++bridged;
            const double allowed = std::min(tolerance, 0.011 * 2.0 * size);
            CHECK(std::abs(set.area() - expected) <= allowed * set.length());
        } catch (const GeometryError& error) {
            ++refused;
            CHECK(error.kind() == ErrorKind::contour_not_closed);
            // Not refused without need.
            CHECK(off > std::min(tolerance, 0.009 * 0.3 * size));
        }
    }
    MESSAGE(bridged << " bridged, " << refused << " refused of " << wanted);
    CHECK(bridged > wanted / 5);
    CHECK(refused > wanted / 10);
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
