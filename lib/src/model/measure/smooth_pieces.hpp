#pragma once

/// Where curves and surfaces are one smooth piece, and by which of Gauss' rules such a piece is
/// integrated.

#include <Geom2d_Curve.hxx>
#include <Geom_Curve.hxx>
#include <Geom_Surface.hxx>
#include <cstddef>
#include <limits>
#include <vector>

namespace planform::model {

/// One parameter of a curve or surface.
struct SmoothPieces {
    /// Ascending parameters at which a derivative of some order jumps; empty if none does.
    std::vector<double> breaks;
    /// The breaks come again after this; 0 if the parameter has no period.
    double period = 0.0;
    /// A piece no longer than this is integrated to rounding by the rule for angles.
    double longest = std::numeric_limits<double>::infinity();
    /// Position is a polynomial of this degree between breaks; 0 if it is none.
    int degree = 0;
    /// Position is a trigonometric polynomial of degree 1.
    bool is_angle = false;

    /// True if volumes over a piece need no second look: it is a polynomial, or an angle.
    bool is_exact() const;
    /// Number of nodes that integrates a product of position and its derivatives of joint degree
    /// `factors` * degree - 1; for what is no polynomial a number that suits smooth pieces.
    int nodes(int factors) const;
    /// `from`, `to` and the breaks between them in order, pieces no longer than `longest`;
    /// descending if from > to.
    std::vector<double> cover(double from, double to) const;
    /// The same with every so-many-th break alone, for a rough value in a bounded time.
    SmoothPieces thinned(std::size_t most_breaks) const;
};

/// Knots come from the curves themselves: the kernel's own intervals lack some of periodic splines.
SmoothPieces pieces_of(const Handle(Geom_Curve) & curve);
SmoothPieces pieces_along_u(const Handle(Geom_Surface) & surface);
SmoothPieces pieces_along_v(const Handle(Geom_Surface) & surface);
/// Of a curve in the parameters breaks alone.
SmoothPieces pieces_of(const Handle(Geom2d_Curve) & curve);

}  // namespace planform::model
