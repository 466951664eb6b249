#pragma once

/// The tree of the station as products and instances of STEP (ISO 10303-44).

#include <STEPControl_Writer.hxx>

#include "demo/assembly.hpp"

namespace planform::demo {

/// Hands the station to the writer, with names; false if the kernel refuses. Made while the
/// exchange mutex is held.
bool transfer(const Station& station, STEPControl_Writer& writer);

}  // namespace planform::demo
