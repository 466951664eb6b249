#include "unfold/without_breaks.hpp"

#include <BRepAlgoAPI_Defeaturing.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopTools_ListOfShape.hxx>

#include "model/kernel/own_copy.hpp"
#include "model/measure/measure.hpp"
#include "model/measure/planar_face.hpp"

namespace planform::unfolding {

std::optional<TopoDS_Shape> without_faces(const TopoDS_Shape& shape, const SheetBody& body,
                                          const std::vector<int>& faces) {
    try {
        const TopoDS_Shape copy = model::own_copy(shape);
        const TopTools_IndexedMapOfShape all = model::parts_of(copy, TopAbs_FACE);
        TopTools_ListOfShape removed;
        for (const int face : faces) removed.Append(all(body.face(face).number));
        BRepAlgoAPI_Defeaturing operation;
        operation.SetShape(copy);
        operation.AddFacesToRemove(removed);
        operation.SetRunParallel(Standard_False);
        operation.SetToFillHistory(Standard_False);
        operation.Build();
        if (!operation.IsDone() || operation.HasErrors() || operation.HasWarnings())
            return std::nullopt;
        for (TopExp_Explorer solid(operation.Shape(), TopAbs_SOLID); solid.More(); solid.Next())
            return solid.Current();
    } catch (const Standard_Failure&) {
        return std::nullopt;
    }
    return std::nullopt;
}

}  // namespace planform::unfolding
