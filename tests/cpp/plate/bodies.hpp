#pragma once

/// Parts made with the kernel, and ways to copy them as separate bodies, for the tests of this
/// floor.

#include <TopoDS_Shape.hxx>
#include <gp_Trsf.hxx>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "planform/plate.hpp"

namespace parts {

using Corners = std::vector<std::pair<double, double>>;

/// A straight prism over a polygon in the xy plane.
TopoDS_Shape prism(const Corners& corners, double height);
TopoDS_Shape box(double x, double y, double z);
TopoDS_Shape cylinder(double radius, double height);
/// The body without an upright round hole through everything.
TopoDS_Shape drilled(const TopoDS_Shape& body, double x, double y, double diameter);
/// The body without a blind round pocket from `from` up.
TopoDS_Shape pocketed(const TopoDS_Shape& body, double x, double y, double diameter, double from);
/// Another body of the same shape elsewhere: no instance, its geometry is copied and moved.
TopoDS_Shape copied(const TopoDS_Shape& body, const gp_Trsf& motion);
gp_Trsf random_motion(std::mt19937_64& random);
/// The mirror image in the yz plane, as a body of its own.
TopoDS_Shape mirrored(const TopoDS_Shape& body);
/// The same body with some faces split by an imprinted plane at x, faces in another order.
TopoDS_Shape split_faces(const TopoDS_Shape& body, double x);
TopoDS_Shape compound(const std::vector<TopoDS_Shape>& bodies);

/// The plates of some bodies in memory.
planform::PlateList plates_of(const std::vector<TopoDS_Shape>& bodies,
                              const planform::PlateOptions& options = {});
/// Why a single body is no plate.
planform::OtherPart refused(const TopoDS_Shape& body);

}  // namespace parts
