#pragma once

/// Which layer or group each role goes to: the format's own, or what the caller says.

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "planform/write.hpp"
#include "write/outline.hpp"

namespace planform::write {

/// All roles, in the order of layers and groups in a file.
inline constexpr std::array<Role, 3> roles = {Role::outer, Role::inner, Role::mark};

/// What a format draws a role with unless it is told otherwise.
struct OwnLayer {
    std::string_view name;
    int color_index;
    std::uint32_t rgb;
};

/// A layer as a file holds it.
struct Layer {
    std::string name;
    int color_index = 0;
    std::uint32_t rgb = 0;
    bool is_true_color = false;  ///< the caller gave red, green and blue
    std::optional<double> line_width;
    std::vector<Role> roles;

    bool holds(Role role) const;
};

/// The layers of a file: roles with one name (case ignored) share one. Throws GeometryError
/// (invalid_argument, unknown_option) for a role that does not exist, an empty name, a colour or a
/// width out of range, and for one name with two colours or widths.
std::vector<Layer> layers_of(const DrawingLayers& wanted, const std::array<OwnLayer, 3>& own);

/// That of a role.
const Layer& layer_of(const std::vector<Layer>& layers, Role role);

}  // namespace planform::write
