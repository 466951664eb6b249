#pragma once

/// One reader a format, and one that tells them apart; all take bytes and the name of their source
/// for messages.

#include <string>
#include <string_view>

#include "planform/model.hpp"

namespace planform::model {

/// `bytes` of a BREP file as text. Throws LoadError.
Model read_brep_text(std::string_view bytes, const std::string& source, const LoadOptions& options);

/// `bytes` of a BREP file in binary form. Throws LoadError.
Model read_brep_binary(std::string_view bytes, const std::string& source,
                       const LoadOptions& options);

/// `bytes` of a STEP file, ISO 10303-21. Throws LoadError.
Model read_step(std::string_view bytes, const std::string& source, const LoadOptions& options);

/// The bytes of a file of any of these, gzip-compressed too. Throws LoadError.
Model read_model(std::string bytes, const std::string& source, const LoadOptions& options);

}  // namespace planform::model
