#pragma once

/// Where the pieces of surfaces and curves of many pieces end: what is sampled is sampled piece by
/// piece.

#include <Geom2d_Curve.hxx>
#include <vector>

#include "flatten/bounds/spline_direction.hpp"
#include "solid/face_surface.hpp"

namespace planform::flatten {

/// Parameters within low..high of the face's box at which the surface is not smooth, with both ends
/// of the box; on a periodic surface as often as the box goes round. Ascending.
std::vector<double> smooth_spans(const solid::FaceSurface& surface, Parameter along);

/// Parameters of a curve in the parameters of a face at which it is not smooth, with both ends.
std::vector<double> smooth_spans(const Handle(Geom2d_Curve) & curve, double first, double last);

/// So many places inside each span between ends, evenly: what bends between the knots of a spline
/// may be flat at all of them.
std::vector<double> places_inside(const std::vector<double>& ends, int a_span);

/// Parameters in both lists, ascending; those nearer than 1e-9 of the whole to the one before are
/// left out. Both have the same ends.
std::vector<double> merged(std::vector<double> ends, const std::vector<double>& others);

}  // namespace planform::flatten
