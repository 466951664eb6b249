#pragma once

/// Models and solids from and to bytes in memory.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "planform/model.hpp"

namespace planform {

/// As load(), from the bytes of a STEP file, gzip-compressed too, or a BREP file; the source is
/// "memory". Throws as load() does.
Model load_bytes(std::string bytes, const LoadOptions& options = {});

/// What a program says about one part of a shape in memory.
struct PartLabel {
    std::string name;               ///< "solid 1" and so on where it is empty
    std::vector<std::string> path;  ///< names of the assemblies around it, from the root down
    std::optional<Color> color;
};

/// As from_brep(), for the text of a compound whose children are the parts, one a label. The bodies
/// of a part have its name, numbered where there are several; a part without a body is left out,
/// and a note says so. Throws LoadError as from_brep() does, (file_damaged) if there are not as
/// many children as labels.
Model from_brep_parts(std::string_view data, std::span<const PartLabel> labels,
                      const LoadOptions& options = {});

/// The solid as BREP text in model coordinates, mm, in the oldest version of the format that holds
/// it. Names, colours and layers are no part of it. Throws LoadError (kernel_failure) if the kernel
/// can't write the shape.
std::string brep_bytes(const Solid& solid);

}  // namespace planform
