#include "plate/bodies.hpp"

#include <doctest/doctest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRep_Builder.hxx>
#include <TopoDS_Compound.hxx>
#include <gp_Ax2.hxx>
#include <gp_Quaternion.hxx>

#include "planform/occt.hpp"

namespace parts {

TopoDS_Shape prism(const Corners& corners, double height) {
    BRepBuilderAPI_MakePolygon polygon;
    for (const auto& [x, y] : corners) polygon.Add(gp_Pnt(x, y, 0.0));
    polygon.Close();
    return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(polygon.Wire()).Face(),
                                 gp_Vec(0.0, 0.0, height))
        .Shape();
}

TopoDS_Shape box(double x, double y, double z) { return BRepPrimAPI_MakeBox(x, y, z).Shape(); }

TopoDS_Shape cylinder(double radius, double height) {
    return BRepPrimAPI_MakeCylinder(radius, height).Shape();
}

TopoDS_Shape pocketed(const TopoDS_Shape& body, double x, double y, double diameter, double from) {
    const gp_Ax2 axis(gp_Pnt(x, y, from), gp_Dir(0.0, 0.0, 1.0));
    return BRepAlgoAPI_Cut(body, BRepPrimAPI_MakeCylinder(axis, diameter / 2.0, 1000.0).Shape())
        .Shape();
}

TopoDS_Shape drilled(const TopoDS_Shape& body, double x, double y, double diameter) {
    return pocketed(body, x, y, diameter, -500.0);
}

TopoDS_Shape copied(const TopoDS_Shape& body, const gp_Trsf& motion) {
    return BRepBuilderAPI_Transform(body, motion, Standard_True).Shape();
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

TopoDS_Shape mirrored(const TopoDS_Shape& body) {
    gp_Trsf mirror;
    mirror.SetMirror(gp_Ax2(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(1.0, 0.0, 0.0)));
    return copied(body, mirror);
}

TopoDS_Shape split_faces(const TopoDS_Shape& body, double x) {
    // Cut apart and fused again, the faces stay split along the plane.
    const TopoDS_Shape half =
        BRepPrimAPI_MakeBox(gp_Pnt(-1000.0, -1000.0, -1000.0), gp_Pnt(x, 1000.0, 1000.0)).Shape();
    return BRepAlgoAPI_Fuse(BRepAlgoAPI_Cut(body, half).Shape(),
                            BRepAlgoAPI_Cut(body, BRepAlgoAPI_Cut(body, half).Shape()).Shape())
        .Shape();
}

TopoDS_Shape compound(const std::vector<TopoDS_Shape>& bodies) {
    const BRep_Builder builder;
    TopoDS_Compound result;
    builder.MakeCompound(result);
    for (const TopoDS_Shape& body : bodies) builder.Add(result, body);
    return result;
}

planform::PlateList plates_of(const std::vector<TopoDS_Shape>& bodies,
                              const planform::PlateOptions& options) {
    return planform::plates(planform::from_shape(compound(bodies)), options);
}

planform::OtherPart refused(const TopoDS_Shape& body) {
    const planform::PlateList list = plates_of({body});
    REQUIRE(list.plates.empty());
    REQUIRE(list.others.size() == 1);
    return list.others.front();
}

}  // namespace parts
