#pragma once

/// From the instances of a STEP file to its products, with names, colours and layers.

#include "model/step/step_nodes.hpp"

namespace planform::model {

/// Transfers all roots of what `reader` holds, and of the files that it refers to, which are looked
/// for beside `source`.
void read_products(STEPControl_Reader& reader, const std::filesystem::path& source,
                   Products& products);

/// Looks for parts of assemblies that have got no shape or no place: throws LoadError
/// (file_damaged) if the file has a solid for one, and notes it otherwise.
void check_parts(const STEPControl_Reader& reader, const std::string& source, Products& products);

/// Names of products and instances.
void read_names(const STEPControl_Reader& reader, Products& products);

/// Colours and layers of products, instances, bodies and faces.
void read_looks(const STEPControl_Reader& reader, Products& products);

}  // namespace planform::model
