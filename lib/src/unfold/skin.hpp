#pragma once

/// The two sides of a sheet: which faces are walls and bends, and how thick it is.

#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "planform/unfold.hpp"
#include "unfold/sheet_body.hpp"

namespace planform::unfolding {

/// A face and another that lies opposite of it through the material.
struct Opposite {
    int face;
    double distance;  ///< mm
};

/// By face: those that lie opposite of it, over it.
using Opposites = std::vector<std::vector<Opposite>>;
Opposites find_opposites(const SheetBody& body);

/// Thicknesses that the body may have as a sheet, by falling area of the faces that lie so far
/// apart.
struct ThicknessShare {
    double thickness;  ///< mm
    double area;       ///< mm^2
};
std::vector<ThicknessShare> possible_thicknesses(const SheetBody& body, const Opposites& opposites);

/// Are two thicknesses the same sheet's?
bool is_same_thickness(double first, double second);

/// Has a face another that lies a thickness behind it?
bool lies_opposite(const Opposites& opposites, int face, double thickness);

struct Skin {
    double thickness = 0.0;
    std::vector<int> side;  ///< by face: 1 or 2, 0 for what is neither
    /// Bends of inside radius 0: the sharp inner edge, and the outer cylinder about it.
    std::map<int, int> outer_of_sharp_edge;
    /// Faces that go on smoothly from a wall or bend, but are neither, with the wall.
    struct Formed {
        int face;
        int from;
        /// It goes on as another wall of the thickness: the one side of a bend that has no other.
        bool joins_wall;
    };
    std::vector<Formed> formed;

    bool is_outer_of_sharp_edge(int face) const;
};

/// Grows both sides from the largest face that has another so far behind it.
Skin grow_skin(const SheetBody& body, const Opposites& opposites, double thickness);

}  // namespace planform::unfolding
