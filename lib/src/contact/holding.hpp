#pragma once

/// Which of two solids that touch lies around the other.

#include <span>
#include <vector>

#include "planform/contact.hpp"

namespace planform::contact {

/// Of one contact among those of its two solids.
struct Holding {
    bool by_first = false;   ///< walls of the first solid face each other, the second in between
    bool by_second = false;  ///< the other way round

    bool is_held() const { return by_first || by_second; }
};

/// One for each contact; all of them between the same two solids. Walls face each other if their
/// normals differ by more than 120 degrees: a tapered tab is held, the shoulder beside it is not.
std::vector<Holding> holdings(std::span<const Contact> contacts);

}  // namespace planform::contact
