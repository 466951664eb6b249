#pragma once

/// The models that are measured.

#include <TopoDS_Compound.hxx>
#include <string>
#include <vector>

#include "planform/model.hpp"

namespace benchmark {

/// Nine chosen ones and 30 evenly over four folders of kicad-packages3d; without those that are not
/// installed.
std::vector<std::string> standard_models();

TopoDS_Compound together(const std::vector<planform::Solid>& solids);

}  // namespace benchmark
