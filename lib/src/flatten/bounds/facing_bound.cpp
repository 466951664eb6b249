#include "flatten/bounds/facing_bound.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <utility>

#include "flatten/bounds/binomials.hpp"
#include "flatten/bounds/spline_net.hpp"
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

/// The homogeneous coordinates of one span as Bernstein polynomials: X, Y, Z, W.
std::vector<Bernstein> bezier_of(const SplineNet& net, int span_u, int span_v,
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

/// X' D_y - Y' D_x of the curve (X, Y) / W that is moved along D, but for a power of W: of u alone.
Bernstein extruded_jacobian(const std::vector<Bernstein>& h, bool rational, const Vector3& d) {
    Bernstein x = by_u(h[0]), y = by_u(h[1]);
    if (rational) {
        const Bernstein w = scaled(h[3], false), slope = scaled(by_u(h[3]), false);
        const auto direction = [&](const Bernstein& value, const Bernstein& derivative) {
            return scaled(determinant(scaled(derivative, false), scaled(value, false), slope, w),
                          true);
        };
        x = direction(h[0], x);
        y = direction(h[1], y);
    }
    for (std::size_t i = 0; i < x.c.size(); ++i) x.c[i] = x.c[i] * d.y() - y.c[i] * d.x();
    return x;
}

/// Largest derivative of the poles over one step of u, and of v.
Vector2 steepest(const std::vector<Bernstein>& h) {
    Vector2 result = Vector2::Zero();
    for (int i = 0; i <= h[0].m; ++i)
        for (int l = 0; l <= h[0].n; ++l) {
            const auto difference = [&](int di, int dl) {
                Vector3 d;
                for (Eigen::Index a = 0; a < 3; ++a)
                    d[a] = h[static_cast<std::size_t>(a)].at(i + di, l + dl) -
                           h[static_cast<std::size_t>(a)].at(i, l);
                return d.norm();
            };
            if (i < h[0].m) result.x() = std::max(result.x(), h[0].m * difference(1, 0));
            if (l < h[0].n) result.y() = std::max(result.y(), h[0].n * difference(0, 1));
        }
    return result;
}

std::vector<double> ends_of(const std::vector<NetSpan>& spans) {
    std::vector<double> ends = {spans.front().part.first + spans.front().shift};
    for (const NetSpan& span : spans) ends.push_back(span.part.last + span.shift);
    return ends;
}

void add_patch(FacingBound& bound, const NetSpan& u, const Interval& v, Bernstein j,
               double factor) {
    // Derivatives with respect to u and v themselves, so that patches compare.
    for (double& value : j.c) value *= factor;
    bound.patches.emplace_back(
        Box2(Point2(u.part.first + u.shift, v.first), Point2(u.part.last + u.shift, v.last)), j.m,
        j.n, std::move(j.c));
}

/// The part of a box that lies in a patch's, or the place on its rim next to it.
Box2 clipped(const Box2& box, const Box2& patch) {
    return {box.min().cwiseMax(patch.min()).cwiseMin(patch.max()),
            box.max().cwiseMin(patch.max()).cwiseMax(patch.min())};
}

}  // namespace

FacingBound bound_facing(const GeomAdaptor_Surface& surface, const gp_Trsf& placement,
                         const Box2& box, double edge_on) {
    FacingBound bound;
    if (!has_spline_net(surface)) return bound;
    const bool is_extruded = surface.GetType() == GeomAbs_SurfaceOfExtrusion;
    if (!is_extruded && std::max(surface.UDegree(), surface.VDegree()) > highest_degree)
        return bound;
    SplineNet net = spline_net(surface, placement);
    if (net.u.degree > highest_degree) return bound;
    net.centre();
    bound.extruded_along = net.extruded_along();
    const std::vector<NetSpan> rows =
        spans_within(net.u, net.u_period, box.min().x(), box.max().x());
    const std::vector<NetSpan> columns =
        is_extruded ? std::vector<NetSpan>{{0, {box.min().y(), box.max().y()}, 0.0}}
                    : spans_within(net.v, net.v_period, box.min().y(), box.max().y());
    if (rows.empty() || columns.empty()) return bound;
    double largest = 0.0;
    std::vector<std::vector<std::vector<double>>> across;
    for (const NetSpan& l : columns)
        across.push_back(is_extruded ? std::vector<std::vector<double>>{{1.0}}
                                     : net.v.to_bezier(l.index, l.part));
    for (const NetSpan& k : rows) {
        const auto left = net.u.to_bezier(k.index, k.part);
        const double length = k.part.last - k.part.first;
        for (std::size_t c = 0; c < columns.size(); ++c) {
            const Interval& part = columns[c].part;
            const Interval v{part.first + columns[c].shift, part.last + columns[c].shift};
            const std::vector<Bernstein> h =
                bezier_of(net, k.index, columns[c].index, left, across[c]);
            const Vector2 slopes = steepest(h);
            if (is_extruded) {
                largest = std::max(largest, slopes.x() / length);
                add_patch(bound, k, v, extruded_jacobian(h, net.rational, net.extrusion),
                          1.0 / length);
                continue;
            }
            const double factor = 1.0 / (length * (part.last - part.first));
            largest = std::max(largest, slopes.x() * slopes.y() * factor);
            add_patch(bound, k, v, jacobian(h, net.rational), factor);
        }
    }
    bound.u = ends_of(rows);
    bound.v = ends_of(columns);
    bound.noise = edge_on * largest;
    for (FacingPatch& patch : bound.patches) {
        patch.allow(0.1 * bound.noise);
        // What its own bounds don't tell will be cut: fewer coefficients, once.
        if (patch.low() <= bound.noise && patch.high() >= -bound.noise) patch.reduce();
    }
    return bound;
}

FacingBound::Cells FacingBound::cells(const Box2& box) const {
    const auto first_at = [](const std::vector<double>& ends, double at) {
        const auto above = std::upper_bound(ends.begin() + 1, ends.end() - 1, at);
        return static_cast<std::size_t>(above - ends.begin() - 1);
    };
    // What only touches the next patch lies in the one before.
    const auto last_at = [](const std::vector<double>& ends, double at) {
        const auto above = std::lower_bound(ends.begin() + 1, ends.end() - 1, at);
        return static_cast<std::size_t>(above - ends.begin() - 1);
    };
    const std::size_t row = first_at(u, box.min().x()), column = first_at(v, box.min().y());
    return {row, std::max(row, last_at(u, box.max().x())), column,
            std::max(column, last_at(v, box.max().y()))};
}

Range FacingBound::over(const Box2& box) const {
    const Cells met = cells(box);
    Range range{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
    for (std::size_t i = met.first_row; i <= met.last_row; ++i)
        for (std::size_t j = met.first_column; j <= met.last_column; ++j) {
            const FacingPatch& whole = patch(i, j);
            const bool is_told = whole.low() > noise || whole.high() < -noise;
            const Range part = is_told || box.contains(whole.box())
                                   ? Range{whole.low(), whole.high()}
                                   : whole.over(clipped(box, whole.box()));
            range = {std::min(range.low, part.low), std::max(range.high, part.high)};
        }
    return range;
}

FacingBound FacingBound::within(const Box2& box) const {
    FacingBound result;
    result.noise = noise;
    result.extruded_along = extruded_along;
    const Cells met = cells(box);
    for (std::size_t i = met.first_row; i <= met.last_row; ++i)
        for (std::size_t j = met.first_column; j <= met.last_column; ++j)
            result.patches.push_back(patch(i, j).within(clipped(box, patch(i, j).box())));
    for (std::size_t i = met.first_row; i <= met.last_row + 1; ++i)
        result.u.push_back(std::clamp(u[i], box.min().x(), box.max().x()));
    for (std::size_t j = met.first_column; j <= met.last_column + 1; ++j)
        result.v.push_back(std::clamp(v[j], box.min().y(), box.max().y()));
    return result;
}

}  // namespace planform::flatten
