#pragma once

/// Figures in sentences.

#include "error/figures.hpp"

namespace planform::plate {

using words::degrees;
using words::figure;
using words::millimetres;
using words::percent;

}  // namespace planform::plate
