#include "flatten/bounds/revolution_bound.hpp"

#include <Geom_BSplineCurve.hxx>
#include <Geom_BezierCurve.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <type_traits>
#include <vector>

#include "curve/index.hpp"
#include "flatten/bounds/binomials.hpp"
#include "flatten/bounds/spline_direction.hpp"
#include "model/kernel/points.hpp"

namespace planform::flatten {
namespace {

// The curve C(v), turned about the axis through O along the unit vector A by u, has the normal
// N(u, v) = dS/du x dS/dv = N(0, v) turned by u, N(0, v) = (A x (C - O)) x C'. With B the part of
// the view direction z across A, the z component of N is
//     (N(0, v) . A) A_z + cos u (N(0, v) . B) - sin u (N(0, v) . (A x z)),
// a polynomial in v for every u. For a rational curve P / W, C' has the direction P' W - P W'.

/// A polynomial vector in Bernstein form on 0..1, and its weight.
struct MeridianPiece {
    std::vector<Vector3> p;
    std::vector<double> w;

    int degree() const { return static_cast<int>(p.size()) - 1; }
};

using detail::index;

/// Coefficients of what is bilinear in two polynomials: `product` of their coefficients.
template <class A, class B, class Product>
auto convolve(const std::vector<A>& a, const std::vector<B>& b, const Product& product) {
    const int m = static_cast<int>(a.size()) - 1, n = static_cast<int>(b.size()) - 1;
    using Value = std::decay_t<decltype(product(a[0], b[0]))>;
    std::vector<Value> result(index(m + n + 1), Value(0.0 * product(a[0], b[0])));
    for (int i = 0; i <= m; ++i)
        for (int k = 0; k <= n; ++k)
            result[index(i + k)] += binomial(m, i) * binomial(n, k) / binomial(m + n, i + k) *
                                    product(a[index(i)], b[index(k)]);
    return result;
}

template <class Value>
std::vector<Value> derivative(const std::vector<Value>& a) {
    std::vector<Value> result;
    for (std::size_t i = 0; i + 1 < a.size(); ++i)
        result.push_back(static_cast<double>(a.size() - 1) * (a[i + 1] - a[i]));
    return result;
}

/// Direction of the derivative.
std::vector<Vector3> slope_of(const MeridianPiece& piece, bool is_rational) {
    if (!is_rational) return derivative(piece.p);
    const auto times = [](const Vector3& a, double b) -> Vector3 { return b * a; };
    std::vector<Vector3> slope = convolve(derivative(piece.p), piece.w, times);
    const std::vector<Vector3> other = convolve(piece.p, derivative(piece.w), times);
    for (std::size_t i = 0; i < slope.size(); ++i) slope[i] -= other[i];
    return slope;
}

Vector3 placed(const gp_Pnt& point, const gp_Trsf& placement) {
    return model::from_kernel(point.Transformed(placement));
}

/// The spline that is turned: poles from a point of the axis, in datum coordinates, times their
/// weights.
struct Generator {
    SplineDirection knots;
    MeridianPiece poles;
    bool is_rational = false;
};

template <class Spline>
void take_poles(const Spline& spline, const gp_Trsf& placement, const Vector3& origin,
                Generator& generator) {
    generator.knots.degree = spline.Degree();
    generator.is_rational = spline.IsRational();
    for (int i = 1; i <= spline.NbPoles(); ++i) {
        const double weight = spline.Weight(i);
        generator.poles.p.push_back(weight * (placed(spline.Pole(i), placement) - origin));
        generator.poles.w.push_back(weight);
    }
}

std::optional<Generator> generator_of(const solid::FaceSurface& surface, const Vector3& origin) {
    Generator generator;
    const auto curve = surface.adaptor().BasisCurve();
    if (curve->GetType() == GeomAbs_BezierCurve) {
        const Handle(Geom_BezierCurve) bezier = curve->Bezier();
        take_poles(*bezier, surface.placement(), origin, generator);
        const std::size_t ends = index(bezier->Degree() + 1);
        generator.knots.knots.assign(ends, 0.0);
        generator.knots.knots.insert(generator.knots.knots.end(), ends, 1.0);
        return generator;
    }
    if (curve->GetType() != GeomAbs_BSplineCurve) return std::nullopt;
    const Handle(Geom_BSplineCurve) spline = curve->BSpline();
    if (spline->IsPeriodic()) return std::nullopt;
    take_poles(*spline, surface.placement(), origin, generator);
    const TColStd_Array1OfReal& knots = spline->KnotSequence();
    generator.knots.knots.assign(knots.begin(), knots.end());
    return generator;
}

MeridianPiece bezier_of(const Generator& generator, int span) {
    const SplineDirection& knots = generator.knots;
    MeridianPiece piece;
    for (const std::vector<double>& row : knots.to_bezier(span, knots.clipped(span))) {
        Vector3 p = Vector3::Zero();
        double w = 0.0;
        for (int k = 0; k <= knots.degree; ++k) {
            const std::size_t pole = index(span - knots.degree + k);
            p += row[index(k)] * generator.poles.p[pole];
            w += row[index(k)] * generator.poles.w[pole];
        }
        piece.p.push_back(p);
        piece.w.push_back(w);
    }
    return piece;
}

double largest(const std::vector<Vector3>& vectors) {
    double size = 0.0;
    for (const Vector3& v : vectors) size = std::max(size, v.norm());
    return size;
}

}  // namespace

bool has_revolution_bound(const solid::FaceSurface& surface) {
    if (surface.kind() != GeomAbs_SurfaceOfRevolution) return false;
    const auto curve = surface.adaptor().BasisCurve();
    if (curve->GetType() == GeomAbs_BezierCurve) return true;
    return curve->GetType() == GeomAbs_BSplineCurve && !curve->BSpline()->IsPeriodic();
}

std::optional<Range> bound_revolution(const solid::FaceSurface& surface, const Box2& box,
                                      double edge_on) {
    const gp_Ax1 placed_axis = surface.adaptor().AxeOfRevolution().Transformed(surface.placement());
    const Vector3 axis = model::from_kernel(placed_axis.Direction());
    std::optional<Generator> generator =
        generator_of(surface, model::from_kernel(placed_axis.Location()));
    if (!generator) return std::nullopt;
    generator->knots.low = box.min().y();
    generator->knots.high = box.max().y();
    const Vector3 across = Vector3::UnitZ() - axis.z() * axis;
    const Vector3 aside = axis.cross(Vector3::UnitZ());
    Range range{0.0, 0.0};
    double size = 0.0;
    bool is_first = true;
    for (const int span : generator->knots.spans()) {
        const MeridianPiece piece = bezier_of(*generator, span);
        std::vector<Vector3> arms;
        for (const Vector3& p : piece.p) arms.push_back(axis.cross(p));
        const std::vector<Vector3> slope = slope_of(piece, generator->is_rational);
        size = std::max(size, largest(arms) * largest(slope));
        const auto normal = [](const Vector3& a, const Vector3& b) -> Vector3 {
            return a.cross(b);
        };
        for (const Vector3& n : convolve(arms, slope, normal)) {
            const double constant = n.dot(axis) * axis.z();
            const Range all = Range{constant, constant} +
                              wave(n.dot(across), -n.dot(aside), box.min().x(), box.max().x());
            range = is_first ? all
                             : Range{std::min(range.low, all.low), std::max(range.high, all.high)};
            is_first = false;
        }
    }
    if (is_first || !(size > 0.0)) return std::nullopt;
    range = 1.0 / size * range;
    if (range.low <= edge_on && range.high >= -edge_on) return std::nullopt;
    return range;
}

}  // namespace planform::flatten
