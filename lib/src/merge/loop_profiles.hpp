#pragma once

/// From the loops of the arrangement to profiles.

#include <functional>
#include <string>
#include <vector>

#include "arrange/arrange.hpp"
#include "planform/profile.hpp"

namespace planform::merge {

/// One profile an outer loop, with its holes and its parent, in an order that depends on the
/// geometry alone: by lower left corner, then the larger first. `name_of` is asked for the name of
/// each profile by the tags of its outer loop, `provenance_of` by the tags of its curves.
std::vector<Profile> profiles_of(std::vector<arrange::Loop> loops,
                                 const std::function<std::string(const arrange::Loop&)>& name_of,
                                 const std::function<Provenance(int tag)>& provenance_of);

}  // namespace planform::merge
