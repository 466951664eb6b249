#pragma once

/// One distinct shape: is it a plate?

#include <optional>
#include <string>

#include "planform/plate.hpp"
#include "plate/not_flat.hpp"

namespace planform::plate {

/// A plate without its quantity, or why it is none.
struct Verdict {
    std::optional<Plate> plate;
    Refusal refusal{NotFlat::not_measured, {}};
    double surface = 0.0;  ///< area of the solid's surface, mm^2
    int flattened = 0;     ///< outlines made
};

/// Doesn't throw: what fails comes back as not_measured with the message.
Verdict recognise(const Solid& solid, const PlateOptions& options);

}  // namespace planform::plate
