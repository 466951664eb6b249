#pragma once

/// The poles of a spline surface in datum coordinates, and its polynomial pieces inside a box of
/// parameters.

#include <GeomAdaptor_Surface.hxx>
#include <gp_Trsf.hxx>
#include <optional>
#include <vector>

#include "flatten/bounds/spline_direction.hpp"
#include "planform/geometry.hpp"

namespace planform::flatten {

/// A span of one direction, or the part of it that is wanted.
struct NetSpan {
    int index;      ///< of the knot it begins at
    Interval part;  ///< in the knots' own parameters
    double shift;   ///< from those to the surface's: whole periods
};

/// Poles in homogeneous datum coordinates: x, y and z times the weight, and the weight. An
/// extruded curve has one column of poles, and a direction in which they are moved.
struct SplineNet {
    SplineDirection u, v;
    double u_period = 0.0, v_period = 0.0;  ///< 0: none
    std::vector<Eigen::Vector4d> poles;
    int rows = 0, columns = 0;
    bool rational = false;
    bool is_extruded = false;
    Vector3 extrusion = Vector3::Zero();  ///< unit

    const Eigen::Vector4d& pole(int i, int j) const {
        return poles[static_cast<std::size_t>(i * columns + j)];
    }
    /// Poles from their own middle: moving a surface does not change how it faces the viewer, but
    /// the rounding.
    void centre();
    /// The parameter along which all lines of the surface are parallel straight ones, moved copies
    /// of each other: how the surface faces the viewer then changes across them alone.
    std::optional<Parameter> extruded_along() const;
};

/// True for B-spline and Bezier surfaces, and for extrusions of such curves.
bool has_spline_net(const GeomAdaptor_Surface& surface);

/// Of a surface that has one.
SplineNet spline_net(const GeomAdaptor_Surface& surface, const gp_Trsf& placement);

/// The parts of the spans within low..high, ascending; on a periodic direction as often as the
/// range goes round. Parts below 1e-9 of the range are left out. Empty if the range leaves the
/// knots by more than that.
std::vector<NetSpan> spans_within(SplineDirection direction, double period, double low,
                                  double high);

}  // namespace planform::flatten
