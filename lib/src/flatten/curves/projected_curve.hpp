#pragma once

/// The shadow of an edge on the datum: exact curves, not chords.

#include <vector>

#include "planform/curve.hpp"
#include "solid/shape_graph.hpp"

namespace planform::flatten {

/// Curves head to tail that are the projection of edge(from..to), from < to, along the datum's
/// normal: a line stays a line, a circle becomes a circle, an ellipse or lines, a spline stays a
/// spline (projected control points are exact). Empty if the projection is a point. A spline that
/// is a line or an arc within 1e-7 mm becomes one. `tolerance` (mm) holds for the kinds of curve
/// that have no exact form here (offset curves).
std::vector<Curve> project_edge(const solid::GraphEdge& edge, double from, double to,
                                double tolerance);

/// The ellipse, circle or straight pieces center + a cos t + b sin t, from <= t <= to or from >= t
/// >= to.
std::vector<Curve> project_conjugate_arc(const Point2& center, const Vector2& a, const Vector2& b,
                                         double from, double to);

}  // namespace planform::flatten
