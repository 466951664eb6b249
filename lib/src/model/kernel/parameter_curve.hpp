#pragma once

/// Where an edge of a face runs in the parameters of the face's surface.

#include <Geom2d_Curve.hxx>

namespace planform::model {

/// Of the boundary of a face in its parameters: the curve of one use of an edge, with the edge's
/// range.
struct ParameterCurve {
    Handle(Geom2d_Curve) curve;  ///< null if the model has none
    double first = 0.0;
    double last = 0.0;
};

}  // namespace planform::model
