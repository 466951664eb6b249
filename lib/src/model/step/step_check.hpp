#pragma once

/// Is a STEP file whole? The kernel reads what it can and drops the rest, or crashes; so look
/// first.

#include <STEPControl_Reader.hxx>
#include <string>
#include <string_view>
#include <vector>

namespace planform::model {

/// From the first word of a file on: throws LoadError (file_damaged) if its end is missing, a
/// string, bracket or instance is not closed, or an instance refers to one that the file does not
/// define. Names the instance.
void check_exchange_structure(std::string_view bytes, const std::string& source);

/// After the kernel has parsed the file: throws LoadError (file_damaged) if an instance that shapes
/// or their places need has wrong parameters, or an assembly is part of itself. Returns notes on
/// such instances elsewhere.
std::vector<std::string> check_instances(const STEPControl_Reader& reader,
                                         const std::string& source);

/// Throws LoadError (file_damaged) if an assembly or a representation is part of itself, where the
/// kernel would not end. Names what is on the way round.
void check_circles(const STEPControl_Reader& reader, const std::string& source);

/// After transfer: throws LoadError (file_damaged) for a solid of the file that gave no shape.
void check_transfer(const STEPControl_Reader& reader, const std::string& source);

}  // namespace planform::model
