#pragma once

/// The length units of a STEP file: what its shape representations use, and replacing them.

#include <StepData_StepModel.hxx>
#include <string>

namespace planform::model {

/// Words of the length units of all shape representations, in the order of the file, joined by ",
/// "; "mm (assumed)" if there is none.
std::string length_units(const Handle(StepData_StepModel) & model);

/// Makes every context of the model say millimetre, so that the kernel takes all lengths as
/// written.
void replace_length_units_by_mm(const Handle(StepData_StepModel) & model);

}  // namespace planform::model
