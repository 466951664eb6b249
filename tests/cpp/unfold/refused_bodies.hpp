#pragma once

/// Bodies that no flat sheet bends to, each with the one reason for which it is refused.

#include <TopoDS_Shape.hxx>
#include <string>
#include <utility>
#include <vector>

#include "planform/unfold.hpp"

namespace refused {

struct Body {
    std::string name;
    TopoDS_Shape shape;
    planform::NotUnfolded reason;
};

// By what they are.
std::vector<Body> flat_sheets();
std::vector<Body> blocks_and_turned_parts();
std::vector<Body> castings();
std::vector<Body> tubes_and_boxes();
std::vector<Body> drawn_and_twisted_sheets();
std::vector<Body> brackets_of_two_thicknesses();
std::vector<Body> formed_walls();
std::vector<Body> corners_without_room();
/// The blanks of these lie on themselves.
std::vector<Body> overlapping();

// For other tests:
TopoDS_Shape box(double x, double y, double z, double dx, double dy, double dz);
TopoDS_Shape cylinder(double x, double y, double z, double radius, double height);
TopoDS_Shape cut(const TopoDS_Shape& body, const TopoDS_Shape& tool);
TopoDS_Shape fused(const TopoDS_Shape& body, const TopoDS_Shape& tool);
/// A section in the plane of x and z, `width` along y.
TopoDS_Shape prism(const std::vector<std::pair<double, double>>& section, double width);
/// With rounds at edges along y: place (x, z) and radius of each.
TopoDS_Shape rounded(const TopoDS_Shape& body,
                     const std::vector<std::pair<std::pair<double, double>, double>>& rounds);

}  // namespace refused
