#pragma once

/// Where each plate of the station stands.

#include <TDocStd_Document.hxx>
#include <map>
#include <string>

#include "planform/model.hpp"

namespace planform::demo {

struct Station {
    /// Three assemblies (stand, tray, house) under one root, with names and places.
    Handle(TDocStd_Document) document;
    /// sRGB, by the name of the part.
    std::map<std::string, Color> color_of_part;
};

Station station();

}  // namespace planform::demo
