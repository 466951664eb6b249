#pragma once

/// Closed plane splines of every kind, and the prisms on them, with the area they enclose.

#include <Geom_BSplineCurve.hxx>
#include <Geom_Curve.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <cstdint>
#include <gp_Trsf.hxx>
#include <random>
#include <string>
#include <vector>

namespace planform::test {

enum class OutlineKind {
    clamped,               ///< B-spline from and to one point
    periodic,              ///< B-spline, periodic
    interpolated,          ///< through points, clamped
    interpolated_periodic  ///< through points, periodic
};

/// What a closed plane spline is made from.
struct OutlineRecipe {
    OutlineKind kind = OutlineKind::clamped;
    int degree = 3;
    int poles = 8;             ///< or points to go through
    bool is_rational = false;  ///< not for those that go through points
    int creases = 0;       ///< knots at which the direction may jump; not for those through points
    double radius = 20.0;  ///< mm
    double wave = 0.2;     ///< share of the radius by which poles stray
    std::string describe() const;
};

/// A recipe drawn at random: degrees 1 to 9, 4 to `most_poles` poles, all kinds.
OutlineRecipe random_recipe(std::mt19937_64& random, int most_poles);

/// The curve, counter-clockwise around the origin in the plane z = 0. Each ray from the origin
/// meets it once: so do the poles' polygon and, as splines vary no more than their polygons, the
/// curve (I. J. Schoenberg, Quarterly of Applied Mathematics 4 (1946)); of curves through points
/// the test checks it.
Handle(Geom_BSplineCurve) outline_curve(const OutlineRecipe& recipe, std::mt19937_64& random);

/// True if the angle about the origin grows all along.
bool is_star_shaped(const Geom_BSplineCurve& curve);

/// Area inside, mm^2: Green's theorem, Gauss' rule with 16 nodes on each span of the knots.
double enclosed_area(const Geom_BSplineCurve& curve);

/// Its length, mm, by the same rule on shares of each span.
double arc_length(const Geom_BSplineCurve& curve);

/// Integral of x over the inside, mm^3.
double first_moment(const Geom_BSplineCurve& curve);

/// The plane face inside.
TopoDS_Face outline_face(const Handle(Geom_BSplineCurve) & curve);
/// The body over that face, `height` mm high.
TopoDS_Shape outline_prism(const Handle(Geom_BSplineCurve) & curve, double height);

/// Curves head to tail around the origin, counter-clockwise: lines, Bezier curves and clamped
/// splines of degree 1 to 9, rational or not, some of them flat to 1e-8 .. 1e-3 mm. Star-shaped as
/// above.
std::vector<Handle(Geom_Curve)> random_chain(std::mt19937_64& random);
/// Area inside a chain, mm^2, by the same rule.
double enclosed_area(const std::vector<Handle(Geom_Curve)>& chain);
/// The prism over its inside, `height` mm high.
TopoDS_Shape outline_prism(const std::vector<Handle(Geom_Curve)>& chain, double height);

/// A turn about a slanted axis and a shift of up to `reach` mm along each axis.
gp_Trsf random_motion(std::mt19937_64& random, double reach);

}  // namespace planform::test
