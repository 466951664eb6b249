#include "contact/assemblies.hpp"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRep_Builder.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax2.hxx>
#include <gp_Ax3.hxx>
#include <gp_Pln.hxx>
#include <gp_Quaternion.hxx>

#include "planform/occt.hpp"

namespace assemblies {

using planform::pi;
using planform::Point3;
using planform::Vector3;

namespace {

TopoDS_Wire wire_of(const std::vector<Point2>& corners) {
    BRepBuilderAPI_MakePolygon polygon;
    for (const Point2& corner : corners) polygon.Add(gp_Pnt(corner.x(), corner.y(), 0.0));
    polygon.Close();
    return polygon.Wire();
}

gp_Dir direction(const Vector3& v) { return {v.x(), v.y(), v.z()}; }

}  // namespace

TopoDS_Shape sheet(const std::vector<Point2>& outer, double thickness,
                   const std::vector<std::vector<Point2>>& holes) {
    BRepBuilderAPI_MakeFace face(gp_Pln(gp::XOY()), wire_of(outer));
    for (const std::vector<Point2>& hole : holes) face.Add(TopoDS::Wire(wire_of(hole).Reversed()));
    return BRepPrimAPI_MakePrism(face.Face(), gp_Vec(0.0, 0.0, thickness)).Shape();
}

TopoDS_Shape cylinder(double x, double y, double radius, double from, double to) {
    return BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(x, y, from), gp::DZ()), radius, to - from)
        .Shape();
}

TopoDS_Shape cut(const TopoDS_Shape& body, const TopoDS_Shape& tool) {
    return BRepAlgoAPI_Cut(body, tool).Shape();
}

std::vector<Point2> rectangle(double left, double low, double right, double high) {
    return {{left, low}, {right, low}, {right, high}, {left, high}};
}

gp_Trsf frame(const Point3& origin, const Vector3& x, const Vector3& y) {
    gp_Trsf motion;
    motion.SetTransformation(
        gp_Ax3(gp_Pnt(origin.x(), origin.y(), origin.z()), direction(x.cross(y)), direction(x)),
        gp_Ax3(gp::XOY()));
    return motion;
}

gp_Trsf random_motion(std::mt19937_64& random) {
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> place(-300.0, 300.0);
    gp_Quaternion turn(normal(random), normal(random), normal(random), normal(random));
    turn.Normalize();
    gp_Trsf motion;
    motion.SetTransformation(turn, gp_Vec(place(random), place(random), place(random)));
    return motion;
}

TopoDS_Shape placed(const TopoDS_Shape& body, const gp_Trsf& motion, bool as_instance) {
    if (as_instance) return body.Moved(TopLoc_Location(motion));
    return BRepBuilderAPI_Transform(body, motion, Standard_True).Shape();
}

planform::Model model_of(const std::vector<TopoDS_Shape>& bodies) {
    const BRep_Builder builder;
    TopoDS_Compound all;
    builder.MakeCompound(all);
    for (const TopoDS_Shape& body : bodies) builder.Add(all, body);
    return planform::from_shape(all);
}

double FingerRing::angle() const { return pi - 2.0 * pi / sides; }

// Notation: a plate's finger covers what the slabs of both plates have in common, a rhombus with
// the corner at the inner edge; its gap ends before it. Along the plate the rhombus reaches from
// gap_end to finger_end.
double FingerRing::finger_end() const {
    return thickness * (1.0 + std::max(0.0, std::cos(angle()))) / std::sin(angle());
}

double FingerRing::gap_end() const {
    return std::min(0.0, thickness * std::cos(angle()) / std::sin(angle()));
}

std::vector<Point2> FingerRing::outline() const {
    std::vector<Point2> right, left;
    for (int k = 0; k < levels; ++k) {
        // Fingers of one end are the gaps of the other.
        const double r = k % 2 == 0 ? finger_end() : gap_end();
        const double l = k % 2 == 0 ? -length - gap_end() : -length - finger_end();
        right.insert(right.end(), {{r, level(k)}, {r, level(k + 1)}});
        left.insert(left.end(), {{l, level(k)}, {l, level(k + 1)}});
    }
    right.insert(right.end(), left.rbegin(), left.rend());
    return right;
}

std::vector<TopoDS_Shape> FingerRing::bodies(const gp_Trsf& motion, bool as_instances) const {
    const TopoDS_Shape body = sheet(outline(), thickness);
    std::vector<TopoDS_Shape> result;
    Point3 corner = Point3::Zero();
    for (int i = 0; i < sides; ++i) {
        // Counter-clockwise round the inside: the sheet's z, its thickness, points outward.
        const double turn = 2.0 * pi * i / sides;
        const Vector3 along(std::cos(turn), std::sin(turn), 0.0);
        corner += length * along;
        gp_Trsf place = motion;
        place.Multiply(frame(corner, along, Vector3::UnitZ()));
        result.push_back(placed(body, place, as_instances));
    }
    return result;
}

}  // namespace assemblies
