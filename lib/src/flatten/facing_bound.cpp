#include "flatten/facing_bound.hpp"

#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierSurface.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

#include "flatten/binomials.hpp"
#include "flatten/spline_direction.hpp"
#include "planform/curve.hpp"

namespace planform::flatten {
namespace {

/// Degrees above this make the products larger than what they save.
constexpr int highest_degree = 12;

/// Bivariate polynomial in Bernstein form on the unit square.
struct Bernstein {
    int m = 0, n = 0;  ///< degrees
    std::vector<double> c;

    Bernstein(int degree_u, int degree_v)
        : m(degree_u), n(degree_v), c(static_cast<std::size_t>((m + 1) * (n + 1)), 0.0) {}
    double& at(int i, int j) { return c[static_cast<std::size_t>(i * (n + 1) + j)]; }
    double at(int i, int j) const { return c[static_cast<std::size_t>(i * (n + 1) + j)]; }
    const double* row(int i) const { return c.data() + i * (n + 1); }
};

/// Coefficients times their binomials: products are then plain convolutions.
Bernstein scaled(const Bernstein& p, bool back) {
    Bernstein result = p;
    const double *in_u = binomials(p.m), *in_v = binomials(p.n);
    for (int i = 0; i <= p.m; ++i)
        for (int j = 0; j <= p.n; ++j) {
            const double factor = in_u[i] * in_v[j];
            result.at(i, j) = back ? p.at(i, j) / factor : p.at(i, j) * factor;
        }
    return result;
}

/// a += sign * p q, all in scaled form.
void add_product(Bernstein& a, double sign, const Bernstein& p, const Bernstein& q) {
    for (int i = 0; i <= p.m; ++i)
        for (int j = 0; j <= p.n; ++j) {
            const double factor = sign * p.at(i, j);
            if (factor == 0.0) continue;
            for (int k = 0; k <= q.m; ++k)
                Eigen::Map<Eigen::VectorXd>(&a.at(i + k, j), q.n + 1) +=
                    factor * Eigen::Map<const Eigen::VectorXd>(q.row(k), q.n + 1);
        }
}

Bernstein by_u(const Bernstein& p) {
    Bernstein d(p.m - 1, p.n);
    for (int i = 0; i < p.m; ++i)
        for (int j = 0; j <= p.n; ++j) d.at(i, j) = p.m * (p.at(i + 1, j) - p.at(i, j));
    return d;
}

Bernstein by_v(const Bernstein& p) {
    Bernstein d(p.m, p.n - 1);
    for (int i = 0; i <= p.m; ++i)
        for (int j = 0; j < p.n; ++j) d.at(i, j) = p.n * (p.at(i, j + 1) - p.at(i, j));
    return d;
}

/// Poles in homogeneous datum coordinates: x, y and z times the weight, and the weight.
struct Net {
    SplineDirection u, v;
    std::vector<Eigen::Vector4d> poles;
    int rows = 0, columns = 0;
    bool rational = false;

    const Eigen::Vector4d& pole(int i, int j) const {
        return poles[static_cast<std::size_t>(i * columns + j)];
    }
};

Eigen::Vector4d homogeneous(gp_Pnt p, const gp_Trsf& placement, double weight) {
    p.Transform(placement);
    return {weight * p.X(), weight * p.Y(), weight * p.Z(), weight};
}

std::vector<double> values_of(const TColStd_Array1OfReal& array) {
    return {array.begin(), array.end()};
}

template <class Surface>
void take_poles(const Surface& surface, const gp_Trsf& placement, Net& net) {
    net.rows = surface.NbUPoles();
    net.columns = surface.NbVPoles();
    net.rational = surface.IsURational() || surface.IsVRational();
    for (int i = 1; i <= net.rows; ++i)
        for (int j = 1; j <= net.columns; ++j)
            net.poles.push_back(homogeneous(surface.Pole(i, j), placement, surface.Weight(i, j)));
    net.u.degree = surface.UDegree();
    net.v.degree = surface.VDegree();
}

Net net_of(const GeomAdaptor_Surface& surface, const gp_Trsf& placement) {
    Net net;
    if (surface.GetType() == GeomAbs_BezierSurface) {
        take_poles(*surface.Bezier(), placement, net);
        for (SplineDirection* d : {&net.u, &net.v}) {
            d->knots.assign(static_cast<std::size_t>(d->degree + 1), 0.0);
            d->knots.insert(d->knots.end(), static_cast<std::size_t>(d->degree + 1), 1.0);
        }
        return net;
    }
    Handle(Geom_BSplineSurface) spline = surface.BSpline();
    if (spline->IsUPeriodic() || spline->IsVPeriodic()) {
        spline = Handle(Geom_BSplineSurface)::DownCast(spline->Copy());
        if (spline->IsUPeriodic()) spline->SetUNotPeriodic();
        if (spline->IsVPeriodic()) spline->SetVNotPeriodic();
    }
    take_poles(*spline, placement, net);
    net.u.knots = values_of(spline->UKnotSequence());
    net.v.knots = values_of(spline->VKnotSequence());
    return net;
}

/// The homogeneous coordinates of one span as Bernstein polynomials: X, Y, Z, W.
std::vector<Bernstein> bezier_of(const Net& net, int span_u, int span_v,
                                 const std::vector<std::vector<double>>& left,
                                 const std::vector<std::vector<double>>& right) {
    const int p = net.u.degree, q = net.v.degree;
    std::vector<Bernstein> result(4, Bernstein(p, q));
    for (int i = 0; i <= p; ++i) {
        std::vector<Eigen::Vector4d> row(static_cast<std::size_t>(q + 1), Eigen::Vector4d::Zero());
        for (int l = 0; l <= q; ++l)
            for (int k = 0; k <= p; ++k)
                row[static_cast<std::size_t>(l)] +=
                    left[static_cast<std::size_t>(i)][static_cast<std::size_t>(k)] *
                    net.pole(span_u - p + k, span_v - q + l);
        for (int j = 0; j <= q; ++j) {
            Eigen::Vector4d sum = Eigen::Vector4d::Zero();
            for (int l = 0; l <= q; ++l)
                sum += right[static_cast<std::size_t>(j)][static_cast<std::size_t>(l)] *
                       row[static_cast<std::size_t>(l)];
            for (int c = 0; c < 4; ++c) result[static_cast<std::size_t>(c)].at(i, j) = sum[c];
        }
    }
    return result;
}

/// The polynomial as one of u or of v alone, if it does not change along the other: the weights of
/// a blend of arcs don't, but for the digits of a file.
std::optional<Bernstein> of_one_alone(const Bernstein& w, bool of_u) {
    constexpr double digits = 2e-12;
    Bernstein result(of_u ? w.m : 0, of_u ? 0 : w.n);
    const int along = of_u ? w.m : w.n, across = of_u ? w.n : w.m;
    for (int i = 0; i <= along; ++i) {
        const double value = of_u ? w.at(i, 0) : w.at(0, i);
        result.c[static_cast<std::size_t>(i)] = value;
        for (int j = 1; j <= across; ++j) {
            const double other = of_u ? w.at(i, j) : w.at(j, i);
            if (std::abs(other - value) > digits * std::abs(value)) return std::nullopt;
        }
    }
    return result;
}

/// a d - b c, in scaled form.
Bernstein determinant(const Bernstein& a, const Bernstein& b, const Bernstein& c,
                      const Bernstein& d) {
    Bernstein result(a.m + d.m, a.n + d.n);
    add_product(result, 1.0, a, d);
    add_product(result, -1.0, b, c);
    return result;
}

/// X, Y and W of a piece, in scaled form, and their derivatives.
struct Columns {
    std::vector<Bernstein> value, along_u, along_v;

    void add(const Bernstein& column) {
        value.push_back(scaled(column, false));
        along_u.push_back(scaled(by_u(column), false));
        along_v.push_back(scaled(by_v(column), false));
    }
};

/// The determinant [(X, Y, W), (X_u, Y_u, W_u), (X_v, Y_v, W_v)].
Bernstein projective_jacobian(const Columns& c) {
    const auto minor = [&](std::size_t a, std::size_t b) {
        return determinant(c.along_u[a], c.along_u[b], c.along_v[a], c.along_v[b]);
    };
    const Bernstein last = minor(0, 1);
    Bernstein sum(c.value[0].m + last.m, c.value[0].n + last.n);
    add_product(sum, 1.0, c.value[0], minor(1, 2));
    add_product(sum, -1.0, c.value[1], minor(0, 2));
    add_product(sum, 1.0, c.value[2], last);
    return sum;
}

/// X_u Y_v - Y_u X_v of the surface (X, Y) / W, but for a power of W. Where W changes along one
/// parameter only, it stays out of the derivative along the other, and the degrees stay lower.
Bernstein jacobian(const std::vector<Bernstein>& h, bool rational) {
    Columns c;
    c.add(h[0]);
    c.add(h[1]);
    if (!rational)
        return scaled(determinant(c.along_u[0], c.along_u[1], c.along_v[0], c.along_v[1]), true);
    // (x / w)' times the square of w is the determinant x' w - x w'.
    if (const auto weight = of_one_alone(h[3], true)) {
        const Bernstein w = scaled(*weight, false), slope = scaled(by_u(*weight), false);
        return scaled(determinant(determinant(c.along_u[0], c.value[0], slope, w),
                                  determinant(c.along_u[1], c.value[1], slope, w), c.along_v[0],
                                  c.along_v[1]),
                      true);
    }
    if (const auto weight = of_one_alone(h[3], false)) {
        const Bernstein w = scaled(*weight, false), slope = scaled(by_v(*weight), false);
        return scaled(
            determinant(c.along_u[0], c.along_u[1], determinant(c.along_v[0], c.value[0], slope, w),
                        determinant(c.along_v[1], c.value[1], slope, w)),
            true);
    }
    c.add(h[3]);
    return scaled(projective_jacobian(c), true);
}

}  // namespace

FacingBound bound_facing(const GeomAdaptor_Surface& surface, const gp_Trsf& placement,
                         const Box2& box, double edge_on) {
    FacingBound bound;
    if (std::max(surface.UDegree(), surface.VDegree()) > highest_degree) return bound;
    Net net = net_of(surface, placement);
    // About their own middle: moving the surface does not change the determinant, but its rounding.
    Eigen::Vector4d sum = Eigen::Vector4d::Zero();
    for (const Eigen::Vector4d& pole : net.poles) sum += pole;
    const Vector3 middle = sum.head<3>() / sum.w();
    for (Eigen::Vector4d& pole : net.poles) pole.head<3>() -= pole.w() * middle;
    net.u.low = box.min().x();
    net.u.high = box.max().x();
    net.v.low = box.min().y();
    net.v.high = box.max().y();
    const std::vector<int> rows = net.u.spans(), columns = net.v.spans();
    if (rows.empty() || columns.empty()) return bound;
    constexpr double slack = 1e-9;  // of the box: rounding of parameters in files
    const double beyond_u = slack * (net.u.high - net.u.low);
    const double beyond_v = slack * (net.v.high - net.v.low);
    if (net.u.low < net.u.knot(rows.front()) - beyond_u ||
        net.u.high > net.u.knot(rows.back() + 1) + beyond_u ||
        net.v.low < net.v.knot(columns.front()) - beyond_v ||
        net.v.high > net.v.knot(columns.back() + 1) + beyond_v)
        return bound;
    double largest = 0.0;
    std::vector<std::vector<std::vector<double>>> across;
    for (const int l : columns) across.push_back(net.v.to_bezier(l, net.v.clipped(l)));
    for (const int k : rows) {
        const Interval u = net.u.clipped(k);
        const auto left = net.u.to_bezier(k, u);
        for (std::size_t c = 0; c < columns.size(); ++c) {
            const Interval v = net.v.clipped(columns[c]);
            const std::vector<Bernstein> h = bezier_of(net, k, columns[c], left, across[c]);
            Bernstein j = jacobian(h, net.rational);
            // Derivatives with respect to u and v themselves, so that patches compare.
            const double factor = 1.0 / ((u.last - u.first) * (v.last - v.first));
            for (double& value : j.c) value *= factor;
            double steepest_u = 0.0, steepest_v = 0.0;
            for (int i = 0; i <= h[0].m; ++i)
                for (int l = 0; l <= h[0].n; ++l) {
                    const auto difference = [&](int di, int dl) {
                        Vector3 d;
                        for (Eigen::Index a = 0; a < 3; ++a)
                            d[a] = h[static_cast<std::size_t>(a)].at(i + di, l + dl) -
                                   h[static_cast<std::size_t>(a)].at(i, l);
                        return d.norm();
                    };
                    if (i < h[0].m) steepest_u = std::max(steepest_u, h[0].m * difference(1, 0));
                    if (l < h[0].n) steepest_v = std::max(steepest_v, h[0].n * difference(0, 1));
                }
            largest = std::max(largest, steepest_u * steepest_v * factor);
            bound.patches.emplace_back(Box2(Point2(u.first, v.first), Point2(u.last, v.last)), j.m,
                                       j.n, std::move(j.c));
        }
    }
    bound.noise = edge_on * largest;
    for (FacingPatch& patch : bound.patches) {
        patch.allow(0.1 * bound.noise);
        // What its own bounds don't tell will be cut: fewer coefficients, once.
        if (patch.low() <= bound.noise && patch.high() >= -bound.noise) patch.reduce();
    }
    return bound;
}

}  // namespace planform::flatten
