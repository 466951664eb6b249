#include "demo/sheet.hpp"

#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <TopoDS.hxx>
#include <gp_Pln.hxx>
#include <gp_Vec.hxx>

namespace planform::demo {

TopoDS_Shape sheet(const TopoDS_Wire& outer, const std::vector<TopoDS_Wire>& holes,
                   double thickness) {
    BRepBuilderAPI_MakeFace face(gp_Pln(gp::XOY()), outer);
    for (const TopoDS_Wire& hole : holes) face.Add(TopoDS::Wire(hole.Reversed()));
    return BRepPrimAPI_MakePrism(face.Face(), gp_Vec(0.0, 0.0, thickness)).Shape();
}

}  // namespace planform::demo
