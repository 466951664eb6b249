#include "write/layers.hpp"

#include <algorithm>
#include <cmath>

#include "planform/error.hpp"
#include "write/palette.hpp"

namespace planform::write {

namespace {

constexpr std::array<std::string_view, 3> words = {"outer", "inner", "mark"};

std::string lower(std::string_view text) {
    std::string result(text);
    for (char& letter : result)
        if (letter >= 'A' && letter <= 'Z') letter = static_cast<char>(letter - 'A' + 'a');
    return result;
}

[[noreturn]] void refuse(const std::string& role, const std::string& what) {
    throw GeometryError(ErrorKind::invalid_argument, "layers: " + role + ": " + what);
}

void check(const std::string& role, const DrawingLayer& layer) {
    if (std::find(words.begin(), words.end(), role) == words.end())
        throw GeometryError(ErrorKind::unknown_option,
                            "layers: '" + role + "' is no role; valid: outer, inner, mark");
    if (layer.color_index && (*layer.color_index < 1 || *layer.color_index > 255))
        refuse(role, "a colour index is from 1 to 255");
    if (layer.rgb && *layer.rgb > 0xFFFFFFU) refuse(role, "a colour is 0xRRGGBB");
    if (layer.line_width && !(std::isfinite(*layer.line_width) && *layer.line_width > 0.0))
        refuse(role, "a line width is a positive finite number of millimetres");
}

Layer resolved(const DrawingLayer* wanted, const OwnLayer& own) {
    Layer layer{std::string(own.name), own.color_index, own.rgb, false, {}, {}};
    if (wanted == nullptr) return layer;
    if (!wanted->name.empty()) layer.name = wanted->name;
    if (wanted->rgb) {
        layer.rgb = *wanted->rgb;
        layer.is_true_color = true;
        layer.color_index = nearest_index(layer.rgb);
    }
    if (wanted->color_index) {
        layer.color_index = *wanted->color_index;
        if (!wanted->rgb) layer.rgb = rgb_of_index(layer.color_index);
    }
    layer.line_width = wanted->line_width;
    return layer;
}

}  // namespace

bool Layer::holds(Role role) const {
    return std::find(roles.begin(), roles.end(), role) != roles.end();
}

std::vector<Layer> layers_of(const DrawingLayers& wanted, const std::array<OwnLayer, 3>& own) {
    for (const auto& [role, layer] : wanted) check(role, layer);
    std::vector<Layer> layers;
    for (std::size_t i = 0; i < roles.size(); ++i) {
        const auto found = wanted.find(std::string(words[i]));
        Layer layer = resolved(found == wanted.end() ? nullptr : &found->second, own[i]);
        const auto same = std::find_if(layers.begin(), layers.end(), [&](const Layer& other) {
            return lower(other.name) == lower(layer.name);
        });
        if (same == layers.end()) {
            layer.roles.push_back(roles[i]);
            layers.push_back(std::move(layer));
            continue;
        }
        // A role whose colour nobody gave takes that of the layer that it is put on.
        const bool has_color =
            found != wanted.end() && (found->second.rgb || found->second.color_index);
        const bool has_width = layer.line_width.has_value();
        if ((has_color && (same->rgb != layer.rgb || same->color_index != layer.color_index)) ||
            (has_width && same->line_width != layer.line_width))
            refuse(
                std::string(words[i]),
                "'" + layer.name + "' is the layer of another role, with another colour or width");
        same->roles.push_back(roles[i]);
    }
    return layers;
}

const Layer& layer_of(const std::vector<Layer>& layers, Role role) {
    return *std::find_if(layers.begin(), layers.end(),
                         [role](const Layer& layer) { return layer.holds(role); });
}

}  // namespace planform::write
