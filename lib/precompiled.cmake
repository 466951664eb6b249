# Headers that most units read, compiled once instead of once a unit: half of the time of compiling goes into
# parsing them. Only headers of others stand here, in angle brackets: the units name what they use all the
# same, and build without (-DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON).
set(PLANFORM_PRECOMPILED_PLAIN
    <algorithm> <array> <cmath> <cstddef> <cstdint> <filesystem> <fstream> <functional> <limits> <map> <memory>
    <numeric> <optional> <random> <set> <span> <sstream> <stdexcept> <string> <string_view> <tuple>
    <unordered_map> <utility> <variant> <vector> <Eigen/Core> <Eigen/Geometry> <Eigen/LU> <Eigen/QR>)
set(PLANFORM_PRECOMPILED_KERNEL
    ${PLANFORM_PRECOMPILED_PLAIN}
    <BRepAdaptor_Curve.hxx> <BRepAdaptor_Surface.hxx> <BRepBuilderAPI_MakeFace.hxx> <BRepBuilderAPI_MakeEdge.hxx>
    <BRepBuilderAPI_MakeWire.hxx> <BRepTools.hxx> <BRep_Builder.hxx> <BRep_Tool.hxx> <Geom2d_Line.hxx>
    <Geom_BSplineCurve.hxx> <Geom_BSplineSurface.hxx> <Geom_Line.hxx> <GeomAdaptor_Surface.hxx> <Precision.hxx>
    <Standard_Failure.hxx> <TColgp_Array1OfPnt.hxx> <TColStd_Array1OfReal.hxx> <TopExp.hxx>
    <TopExp_Explorer.hxx> <TopLoc_Location.hxx> <TopTools_IndexedMapOfShape.hxx> <TopoDS.hxx>
    <TopoDS_Iterator.hxx>)

# ccache sees a precompiled header only so.
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
  add_compile_options(-fpch-preprocess)
endif()

# An object library whose precompiled header others use (target_precompile_headers(... REUSE_FROM NAME)). They have to
# be compiled with the same flags: what is linked here and there gives them.
function(planform_precompiled name headers)
  file(CONFIGURE OUTPUT ${name}.cpp CONTENT "// Nothing but the precompiled header comes of this.\n")
  add_library(${name} OBJECT ${CMAKE_CURRENT_BINARY_DIR}/${name}.cpp)
  target_link_libraries(${name} PRIVATE ${ARGN})
  target_precompile_headers(${name} PRIVATE ${${headers}})
endfunction()
