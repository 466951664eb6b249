#include "model/kernel/own_copy.hpp"

#include <BRepBuilderAPI_Copy.hxx>

namespace planform::model {

TopoDS_Shape own_copy(const TopoDS_Shape& shape) {
    return BRepBuilderAPI_Copy(shape, Standard_True, Standard_False).Shape();
}

}  // namespace planform::model
