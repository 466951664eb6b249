#pragma once

/// Where each plate of the station stands.

#include <TopoDS_Shape.hxx>
#include <map>
#include <string>
#include <vector>

#include "planform/model.hpp"

namespace planform::demo {

/// A shape of the station and what it is called.
struct Named {
    std::string name;
    TopoDS_Shape shape;
};

struct Station {
    /// Three assemblies (stand, tray, house) under one root, each a compound of placed shapes.
    TopoDS_Shape root;
    std::vector<TopoDS_Shape> assemblies;  ///< Other compounds are parts of several bodies.
    std::vector<Named> products;           ///< Parts and assemblies, not placed.
    std::vector<Named> instances;          ///< As they are placed in their assembly.
    /// sRGB, by the name of the part.
    std::map<std::string, Color> color_of_part;
};

Station station();

}  // namespace planform::demo
