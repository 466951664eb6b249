#pragma once

#include "planform/profile.hpp"

namespace planform::plate {

/// The least distance between two parallel lines that hold all profiles, mm.
double narrowest_width(const ProfileSet& outline);

}  // namespace planform::plate
