#pragma once

/// B-spline machinery shared by the curve functions; nothing here allocates except insert_knot.
///
/// Notation, as in L. Piegl, W. Tiller, "The NURBS Book", 2nd ed., Springer 1997:
///   p   degree                     U   knots u_0 <= u_1 <= ...
///   k   span: u_k <= t < u_{k+1}   P_i poles, w_i weights; homogeneous poles (w_i P_i, w_i)

#include <array>

#include "planform/curve.hpp"

namespace planform::detail {

/// Highest degree that is evaluated; the limit of the exchange formats and kernels in use.
inline constexpr int max_degree = 25;

/// A homogeneous pole (w x, w y, w).
using Homogeneous = Eigen::Vector3d;

/// Position and derivatives with respect to the parameter.
struct Jet {
    Point2 point;
    Vector2 first;
    Vector2 second;
};

/// Throws GeometryError (invalid_argument) unless degree, knots, poles and weights fit together.
void require_consistent(const Spline& spline);

/// Index k with u_k <= t < u_{k+1} and u_k < u_{k+1}; the last such span for t = last knot.
int find_span(const Spline& spline, double t);

/// Position and the first `order` (0 to 2) derivatives at t, clamped to the domain.
Jet evaluate(const Spline& spline, double t, int order);

/// The same spline with knot t inserted `times` times (Boehm's algorithm).
Spline insert_knot(const Spline& spline, double t, int times);

/// How often t stands in the knot vector.
int knot_multiplicity(const Spline& spline, double t);

/// A polynomial or rational piece in Bernstein form over [first, last]: the curve lies in the
/// convex hull of its control points, as all weights are positive.
struct BezierPiece {
    double first = 0.0;
    double last = 1.0;
    int degree = 0;
    bool rational = false;
    std::array<Homogeneous, max_degree + 1> control;

    Point2 control_point(int index) const {
        return rational ? Point2(control[index].head<2>() / control[index].z())
                        : Point2(control[index].head<2>());
    }
    Point2 start() const { return control_point(0); }
    Point2 end() const { return control_point(degree); }
    /// Position and two derivatives at t in [first, last], from inside the piece at both ends.
    Jet evaluate(double t) const;
    /// The pieces left and right of the local parameter `fraction` in (0, 1) (de Casteljau).
    void split(double fraction, BezierPiece& left, BezierPiece& right) const;
};

/// The piece of the spline over the non-empty span k.
BezierPiece bezier_piece(const Spline& spline, int span);

/// Calls visit(span) for each non-empty knot span, in order.
template <class Visitor>
void for_each_span(const Spline& spline, Visitor&& visit) {
    const int last = static_cast<int>(spline.poles.size());
    for (int span = spline.degree; span < last; ++span)
        if (spline.knots[span] < spline.knots[span + 1]) visit(span);
}

}  // namespace planform::detail
