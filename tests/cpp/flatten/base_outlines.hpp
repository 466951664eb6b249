#pragma once

/// Closed plane curves out of splines of every kind, prisms on them, and the shadows of such prisms
/// in closed form.

#include <TopoDS_Shape.hxx>
#include <TopoDS_Wire.hxx>
#include <cstdint>
#include <string>
#include <vector>

#include "planform/datum.hpp"
#include "planform/geometry.hpp"

namespace base_outlines {

/// A simple closed curve in the plane z = 0, counter-clockwise, star-shaped about the origin.
struct Base {
    TopoDS_Wire wire;
    std::string description;
    std::vector<planform::Vector2> wall_normals;  ///< unit, out of it: one a wall, in its middle
};

/// `points` points on r = radius + wave cos(lobes t), interpolated by one spline of degree 3.
Base waved(int points, double radius, double wave, int lobes);

/// A polygon of 3 to 7 walls, each a Bezier or B-spline curve of degree 1 to 9 that is straight or
/// bulges out by `sag` mm.
Base walled(std::uint64_t seed, double sag);

/// One closed spline of degree 1 to 9 with 4 to `most_poles` poles: uniform or random knots, some
/// of them creases, rational or not.
Base random_spline(std::uint64_t seed, int most_poles);

/// Samples all along the wire, each piece between knots in `steps` equal steps.
std::vector<planform::Point2> sampled(const TopoDS_Wire& wire, int steps);

/// Stands `height` mm on its base: with walls that are extrusions, or B-splines, or Beziers cut
/// from them.
enum class Walls { extrusions, splines };
TopoDS_Shape prism(const Base& base, double height, Walls walls);

/// Area of the shadow of the prism along the datum's normal d: |d_z| times the area that the base
/// sweeps when it is moved by height (d_x, d_y) / d_z; for d_z = 0 the height times the width of
/// the base across d. Of inscribed polygons with two spacings, carried on to nought (L. F.
/// Richardson, Phil. Trans. R. Soc. A 226 (1927)): within 1e-7 of it.
double prism_shadow(const Base& base, double height, const planform::Vector3& d);

/// Area that a simple polygon sweeps when it is moved by `way`.
double swept_area(const std::vector<planform::Point2>& polygon, const planform::Vector2& way);

}  // namespace base_outlines
