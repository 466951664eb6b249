#pragma once

#include <TopoDS_Shape.hxx>

namespace benchmark {

/// A square plate with `holes` round holes on a grid (a square number is best): radius 1 mm, pitch
/// 3 mm, thickness 2 mm. Built face by face, since cutting 100,000 cylinders out takes the kernel
/// hours.
TopoDS_Shape perforated_plate(int holes);

}  // namespace benchmark
