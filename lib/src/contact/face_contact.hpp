#pragma once

/// What two faces have in common.

#include <optional>

#include "contact/touch_face.hpp"
#include "planform/contact.hpp"

namespace planform::contact {

/// The contact of two faces, without the numbers of their solids; nothing if they don't touch:
/// not on one surface within `within` mm, not looking at each other, or with nothing broader than
/// `within` in common. Throws what the kernel throws.
std::optional<Contact> face_contact(const TouchFace& first, const TouchFace& second, double within);

}  // namespace planform::contact
