/// The gutter under the eaves: the one bent part of the station.

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <cmath>
#include <gp_Ax2.hxx>
#include <vector>

#include "demo/plates.hpp"

namespace planform::demo {

using namespace dimensions;

namespace {

constexpr Color zinc = {0.55, 0.58, 0.60};

/// A wall of the cross-section after a bend by an angle to the left (the first has none).
struct Wall {
    double angle, length;
};

/// Where the section is on its outer side, and which way it goes on.
struct Place {
    double y = 0.0, z = 0.0, direction = 0.0;

    gp_Pnt at(double inward) const {
        return {0.0, y - inward * std::sin(direction), z + inward * std::cos(direction)};
    }
    Place ahead(double length) const {
        return {y + length * std::cos(direction), z + length * std::sin(direction), direction};
    }
    /// Turned to the left about an axis so far inward.
    Place turned(double angle, double inward) const {
        const gp_Pnt axis = at(inward);
        const double to = direction + angle;
        return {axis.Y() + inward * std::sin(to), axis.Z() - inward * std::cos(to), to};
    }
};

/// The section of a sheet whose bends all turn to the left, as a face in the plane x = 0.
TopoDS_Face bent_section(double thickness, double inside_radius, const std::vector<Wall>& walls) {
    std::vector<TopoDS_Edge> outside, inside;
    Place here;
    for (const Wall& wall : walls) {
        const double axis = thickness + inside_radius;
        if (wall.angle > 0.0) {
            const Place middle = here.turned(0.5 * wall.angle, axis);
            const Place next = here.turned(wall.angle, axis);
            for (const double depth : {0.0, thickness}) {
                const Handle(Geom_TrimmedCurve) arc =
                    GC_MakeArcOfCircle(here.at(depth), middle.at(depth), next.at(depth)).Value();
                (depth == 0.0 ? outside : inside).push_back(BRepBuilderAPI_MakeEdge(arc).Edge());
            }
            here = next;
        }
        const Place next = here.ahead(wall.length);
        outside.push_back(BRepBuilderAPI_MakeEdge(here.at(0.0), next.at(0.0)).Edge());
        inside.push_back(BRepBuilderAPI_MakeEdge(here.at(thickness), next.at(thickness)).Edge());
        here = next;
    }
    BRepBuilderAPI_MakeWire wire;
    for (const TopoDS_Edge& edge : outside) wire.Add(edge);
    wire.Add(BRepBuilderAPI_MakeEdge(here.at(0.0), here.at(thickness)).Edge());
    for (auto edge = inside.rbegin(); edge != inside.rend(); ++edge) wire.Add(*edge);
    wire.Add(BRepBuilderAPI_MakeEdge(Place{}.at(thickness), Place{}.at(0.0)).Edge());
    return BRepBuilderAPI_MakeFace(wire.Wire(), Standard_True).Face();
}

TopoDS_Shape drilled(const TopoDS_Shape& body, const gp_Pnt& from, const gp_Dir& along,
                     double diameter) {
    const TopoDS_Shape drill =
        BRepPrimAPI_MakeCylinder(gp_Ax2(from, along), 0.5 * diameter, 4.0 * gutter_thick).Shape();
    return BRepAlgoAPI_Cut(body, drill).Shape();
}

}  // namespace

Plate gutter() {
    // The section begins at the upper edge of the wall at the back, goes down it, along the bottom
    // and up the front, whose edge leans inward; drawn with the back lying, then turned upright.
    const double right_angle = 0.5 * pi;
    const TopoDS_Face section = bent_section(gutter_thick, gutter_radius,
                                             {{0.0, gutter_back},
                                              {right_angle, gutter_bottom},
                                              {right_angle, gutter_front},
                                              {gutter_lip_angle, gutter_lip}});
    TopoDS_Shape body = BRepPrimAPI_MakePrism(section, gp_Vec(gutter_length, 0.0, 0.0)).Shape();
    // Two holes to fix it by its back, one to drain it through the bottom.
    for (const double share : {0.15, 0.85})
        body = drilled(body, gp_Pnt(share * gutter_length, 0.4 * gutter_back, -gutter_thick),
                       gp::DZ(), 4.0);
    const double beside = gutter_thick + gutter_radius;
    const double bottom_y = gutter_back + beside;
    body = drilled(
        body,
        gp_Pnt(0.5 * gutter_length, bottom_y - 2.0 * gutter_thick, beside + 0.5 * gutter_bottom),
        gp::DY(), 8.0);
    return {"gutter", zinc, body};
}

}  // namespace planform::demo
