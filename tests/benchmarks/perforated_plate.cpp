#include "perforated_plate.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <gp_Circ.hxx>
#include <gp_Pln.hxx>

namespace benchmark {

TopoDS_Shape perforated_plate(int holes) {
    constexpr double radius = 1.0, pitch = 3.0, thickness = 2.0;
    const int side = static_cast<int>(std::ceil(std::sqrt(static_cast<double>(holes))));
    const double size = pitch * (side + 1);
    const TopoDS_Wire border =
        BRepBuilderAPI_MakePolygon(gp_Pnt(0, 0, 0), gp_Pnt(size, 0, 0), gp_Pnt(size, size, 0),
                                   gp_Pnt(0, size, 0), Standard_True)
            .Wire();
    BRepBuilderAPI_MakeFace face(gp_Pln(gp::XOY()), border);
    for (int i = 0; i < holes; ++i) {
        const gp_Pnt center(pitch * (i % side + 1), pitch * (i / side + 1), 0.0);
        const TopoDS_Edge circle =
            BRepBuilderAPI_MakeEdge(gp_Circ(gp_Ax2(center, gp_Dir(0, 0, 1)), radius));
        face.Add(TopoDS::Wire(BRepBuilderAPI_MakeWire(circle).Wire().Reversed()));
    }
    return BRepPrimAPI_MakePrism(face.Face(), gp_Vec(0, 0, thickness)).Shape();
}

}  // namespace benchmark
