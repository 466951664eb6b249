#pragma once

/// The demo: a bird-feeding station, made by code.

#include <filesystem>

namespace planform {

/// Writes the station (about ten distinct plates, several of them repeated) as one STEP assembly in
/// mm. Throws WriteError.
void write_demo_assembly(const std::filesystem::path& path);

}  // namespace planform
