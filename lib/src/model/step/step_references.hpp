#pragma once

/// Parts of an assembly that lie in files of their own.

#include <TopTools_MapOfShape.hxx>
#include <functional>
#include <string_view>

#include "model/step/step_nodes.hpp"

namespace planform::model {

/// From where the structure starts; the bytes hold one.
std::string_view exchange_structure(std::string_view bytes);

/// Reads bytes of ISO 10303-21 into instances. Throws LoadError.
void parse_step(STEPControl_Reader& reader, std::string_view bytes, const std::string& source);

/// Adds the products of a file to others.
using ReadProducts =
    std::function<void(STEPControl_Reader&, const std::filesystem::path&, Products&)>;

/// Reads the STEP files that products among `parts` refer to, each once: the empty shape that
/// stands for a part, and the root of its file, or an assembly of all its roots. Names are relative
/// to the folder of `source`. A file that is not there or can't be read is noted.
NodeOfShape read_references(STEPControl_Reader& reader, const std::filesystem::path& source,
                            const TopTools_MapOfShape& parts, Products& products,
                            const ReadProducts& read);

}  // namespace planform::model
