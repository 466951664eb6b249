#include "curve/spline.hpp"

#include <algorithm>
#include <string>

#include "planform/error.hpp"

namespace planform::detail {
namespace {

template <int Dimension>
using Pole = Eigen::Matrix<double, Dimension, 1>;

template <int Dimension>
Pole<Dimension> pole(const Spline& spline, int index) {
    if constexpr (Dimension == 2) {
        return spline.poles[index];
    } else {
        const double weight = spline.weights[index];
        const Point2& point = spline.poles[index];
        return {weight * point.x(), weight * point.y(), weight};
    }
}

/// Is the span between knots that stand degree times each, so that its poles are those of its
/// Bernstein form?
bool is_bernstein(const Spline& spline, int k) {
    const double* u = spline.knots.data();
    return u[k - spline.degree + 1] == u[k] && u[k + 1] == u[k + spline.degree];
}

/// De Boor's triangle in place (The NURBS Book, section 5.2; C. de Boor, "A Practical Guide to
/// Splines", ch. X). The last two rows hold what the derivatives need: with f the blossom of the
/// piece, row p-1 is f(t,...,t,u_k), f(t,...,t,u_{k+1}), whence C' = p (difference)/(u_{k+1}-u_k),
/// and row p-2 gives C'' in the same way.
template <int Dimension>
void de_boor(const Spline& spline, double t, int order, Pole<Dimension>* derivatives) {
    const int p = spline.degree;
    const int k = find_span(spline, t);
    const double* u = spline.knots.data();
    std::array<Pole<Dimension>, max_degree + 1> d;
    for (int j = 0; j <= p; ++j) d[j] = pole<Dimension>(spline, k - p + j);
    const double width = u[k + 1] - u[k];
    if (order >= 2) derivatives[2].setZero();
    if (is_bernstein(spline, k)) {
        // All blends are the same: de Casteljau's triangle.
        const double alpha = (t - u[k]) / width;
        for (int r = 1; r <= p; ++r) {
            if (order >= 2 && r == p - 1) {
                const Pole<Dimension> before = (d[p - 1] - d[p - 2]) / width;
                const Pole<Dimension> after = (d[p] - d[p - 1]) / width;
                derivatives[2] = (p * (p - 1) / width) * (after - before);
            }
            if (order >= 1 && r == p) derivatives[1] = (p / width) * (d[p] - d[p - 1]);
            for (int j = p; j >= r; --j) d[j] = (1.0 - alpha) * d[j - 1] + alpha * d[j];
        }
        derivatives[0] = d[p];
        return;
    }
    for (int r = 1; r <= p; ++r) {
        if (order >= 2 && r == p - 1) {
            const Pole<Dimension> before = (d[p - 1] - d[p - 2]) / (u[k + 1] - u[k - 1]);
            const Pole<Dimension> after = (d[p] - d[p - 1]) / (u[k + 2] - u[k]);
            derivatives[2] = (p * (p - 1) / width) * (after - before);
        }
        if (order >= 1 && r == p) derivatives[1] = (p / width) * (d[p] - d[p - 1]);
        for (int j = p; j >= r; --j) {
            const int i = k - p + j;
            const double alpha = (t - u[i]) / (u[i + p - r + 1] - u[i]);
            d[j] = (1.0 - alpha) * d[j - 1] + alpha * d[j];
        }
    }
    derivatives[0] = d[p];
}

/// Quotient rule on homogeneous derivatives: The NURBS Book, eq. (4.8).
Jet projected(const std::array<Homogeneous, 3>& d) {
    const double w = d[0].z();
    Jet jet;
    jet.point = d[0].head<2>() / w;
    jet.first = (d[1].head<2>() - d[1].z() * jet.point) / w;
    jet.second = (d[2].head<2>() - 2.0 * d[1].z() * jet.first - d[2].z() * jet.point) / w;
    return jet;
}

}  // namespace

void require_consistent(const Spline& spline) {
    const bool degree_fits = spline.degree >= 1 && spline.degree <= max_degree;
    const std::size_t poles = spline.poles.size();
    if (degree_fits && poles > static_cast<std::size_t>(spline.degree) &&
        spline.knots.size() == poles + spline.degree + 1 &&
        (spline.weights.empty() || spline.weights.size() == poles))
        return;
    throw GeometryError(ErrorKind::invalid_argument,
                        "spline of degree " + std::to_string(spline.degree) + " with " +
                            std::to_string(poles) + " poles, " +
                            std::to_string(spline.knots.size()) + " knots and " +
                            std::to_string(spline.weights.size()) +
                            " weights: degree 1 to 25, poles > degree, knots = poles + degree + 1 "
                            "and no weights or "
                            "one a pole are needed");
}

int find_span(const Spline& spline, double t) {
    const auto first = spline.knots.begin() + spline.degree;
    const auto last = spline.knots.begin() + static_cast<std::ptrdiff_t>(spline.poles.size());
    // The first knot above t, at most the last one; knots equal to the last are passed over
    // backwards so that the end of the domain belongs to the last non-empty span.
    auto above = std::upper_bound(first + 1, last, t);
    if (t >= *last) above = std::lower_bound(first + 1, last, *last);
    return static_cast<int>(above - spline.knots.begin()) - 1;
}

Jet evaluate(const Spline& spline, double t, int order) {
    require_consistent(spline);
    t = std::clamp(t, spline.knots.front(), spline.knots.back());
    Jet jet{Point2::Zero(), Vector2::Zero(), Vector2::Zero()};
    if (spline.weights.empty()) {
        std::array<Pole<2>, 3> d{Point2::Zero(), Point2::Zero(), Point2::Zero()};
        de_boor<2>(spline, t, order, d.data());
        jet.point = d[0];
        if (order >= 1) jet.first = d[1];
        if (order >= 2) jet.second = d[2];
        return jet;
    }
    std::array<Pole<3>, 3> d{Homogeneous::Zero(), Homogeneous::Zero(), Homogeneous::Zero()};
    de_boor<3>(spline, t, order, d.data());
    return projected(d);
}

int knot_multiplicity(const Spline& spline, double t) {
    const auto range = std::equal_range(spline.knots.begin(), spline.knots.end(), t);
    return static_cast<int>(range.second - range.first);
}

Spline insert_knot(const Spline& spline, double t, int times) {
    if (times <= 0) return spline;
    // W. Boehm, "Inserting new knots into B-spline curves", CAD 12 (1980); The NURBS Book, section
    // 5.2, algorithm A5.1, with s the multiplicity that t has already. Weights are blended in
    // homogeneous coordinates.
    const int p = spline.degree;
    const int k = find_span(spline, t);
    const int s = knot_multiplicity(spline, t);
    const bool rational = !spline.weights.empty();
    const int count = static_cast<int>(spline.poles.size());
    const std::vector<double>& u = spline.knots;
    std::array<Homogeneous, max_degree + 1> local;
    for (int j = 0; j <= p - s; ++j) {
        const int index = k - p + j;
        local[j] = rational ? pole<3>(spline, index)
                            : Homogeneous(spline.poles[index].x(), spline.poles[index].y(), 1.0);
    }
    Spline result;
    result.degree = p;
    result.knots.reserve(u.size() + times);
    result.knots.assign(u.begin(), u.begin() + k + 1);
    result.knots.insert(result.knots.end(), times, t);
    result.knots.insert(result.knots.end(), u.begin() + k + 1, u.end());

    std::vector<Homogeneous> blended(count + times);
    for (int i = 0; i < count; ++i) {
        const Homogeneous original =
            rational ? pole<3>(spline, i)
                     : Homogeneous(spline.poles[i].x(), spline.poles[i].y(), 1.0);
        if (i <= k - p) blended[i] = original;
        if (i >= k - s) blended[i + times] = original;
    }
    for (int r = 1; r <= times; ++r) {
        const int left = k - p + r;
        for (int j = 0; j <= p - r - s; ++j) {
            const double alpha = (t - u[left + j]) / (u[j + k + 1] - u[left + j]);
            local[j] = alpha * local[j + 1] + (1.0 - alpha) * local[j];
        }
        blended[left] = local[0];
        blended[k + times - r - s] = local[p - r - s];
    }
    const int left = k - p + times;
    for (int i = left + 1; i < k - s; ++i) blended[i] = local[i - left];

    result.poles.reserve(blended.size());
    for (const Homogeneous& h : blended) {
        result.poles.push_back(rational ? Point2(h.head<2>() / h.z()) : Point2(h.head<2>()));
        if (rational) result.weights.push_back(h.z());
    }
    return result;
}

Jet BezierPiece::evaluate(double t) const {
    // De Casteljau's triangle: its last rows but one and two hold the differences that make the
    // derivatives.
    const double width = last - first;
    const double fraction = (t - first) / width;
    // Eigen leaves it as it is, and no more than is used is filled.
    std::array<Homogeneous, max_degree + 1> row;
    std::copy_n(control.begin(), degree + 1, row.begin());
    if (degree < 2) row[2] = Homogeneous::Zero();
    std::array<Homogeneous, 3> d{Homogeneous::Zero(), Homogeneous::Zero(), Homogeneous::Zero()};
    for (int count = degree; count >= 1; --count) {
        if (count == 2)
            d[2] = degree * (degree - 1) / (width * width) * (row[0] - 2.0 * row[1] + row[2]);
        if (count == 1) d[1] = degree / width * (row[1] - row[0]);
        for (int j = 0; j < count; ++j) row[j] = (1.0 - fraction) * row[j] + fraction * row[j + 1];
    }
    d[0] = row[0];
    return projected(d);
}

void BezierPiece::split(double fraction, BezierPiece& left, BezierPiece& right) const {
    const double middle = first + fraction * (last - first);
    std::array<Homogeneous, max_degree + 1> row;
    std::copy_n(control.begin(), degree + 1, row.begin());
    const double from = first, to = last;
    // One of the halves may be this piece itself.
    const int p = degree;
    left.degree = right.degree = p;
    left.rational = right.rational = rational;
    left.first = from;
    left.last = right.first = middle;
    right.last = to;
    for (int r = 0; r <= p; ++r) {
        left.control[r] = row[0];
        right.control[p - r] = row[p - r];
        for (int j = 0; j < p - r; ++j) row[j] = (1.0 - fraction) * row[j] + fraction * row[j + 1];
    }
}

BezierPiece bezier_piece(const Spline& spline, int span) {
    // Control point j is the blossom at p - j times the left and j times the right end of the span
    // (L. Ramshaw, "Blossoms are polar forms", CAGD 6 (1989)).
    const int p = spline.degree;
    const double* u = spline.knots.data();
    BezierPiece piece;
    piece.first = u[span];
    piece.last = u[span + 1];
    piece.degree = p;
    piece.rational = !spline.weights.empty();
    std::array<Homogeneous, max_degree + 1> poles;
    for (int j = 0; j <= p; ++j) {
        const Point2& point = spline.poles[span - p + j];
        const double weight = piece.rational ? spline.weights[span - p + j] : 1.0;
        poles[j] = Homogeneous(weight * point.x(), weight * point.y(), weight);
    }
    if (is_bernstein(spline, span)) {
        std::copy_n(poles.begin(), p + 1, piece.control.begin());
        return piece;
    }
    for (int index = 0; index <= p; ++index) {
        std::array<Homogeneous, max_degree + 1> d;
        std::copy_n(poles.begin(), p + 1, d.begin());
        for (int r = 1; r <= p; ++r) {
            const double argument = r <= p - index ? piece.first : piece.last;
            for (int j = p; j >= r; --j) {
                const int i = span - p + j;
                const double alpha = (argument - u[i]) / (u[i + p - r + 1] - u[i]);
                d[j] = (1.0 - alpha) * d[j - 1] + alpha * d[j];
            }
        }
        piece.control[index] = d[p];
    }
    return piece;
}

}  // namespace planform::detail
