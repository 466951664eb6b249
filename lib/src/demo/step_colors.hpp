#pragma once

#include <StepData_StepModel.hxx>
#include <map>
#include <string>

#include "planform/model.hpp"

namespace planform::demo {

/// Gives every solid of the model the colour of its product (by name), as styled items at the end
/// of the model. The kernel's own way to write colours orders them by memory address, so that two
/// runs give different files.
void add_colors(const Handle(StepData_StepModel) & model,
                const std::map<std::string, Color>& color_of_product);

}  // namespace planform::demo
