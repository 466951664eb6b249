#include "flatten/curves/interpolated_fit.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>

#include "flatten/bounds/binomials.hpp"

namespace planform::flatten {
namespace {

constexpr int degree = 5;
constexpr std::size_t count = degree + 1;
/// No piece is longer than this share of a turn, so that no symmetry hides an error.
constexpr double longest_piece = 0.25 * pi;
constexpr int deepest = 30;
/// Halving a piece takes this and more from the error of a smooth curve (2^6 in the limit). Where
/// it does not, and the error is within so many tolerances, what is left is the rounding of the
/// points.
constexpr double least_progress = 4.0;
constexpr double rounding_at_most = 1e3;

using Poles = std::array<Point2, count>;
using Matrix = Eigen::Matrix<double, degree + 1, degree + 1>;

double node(std::size_t i) { return 0.5 - 0.5 * std::cos(pi * static_cast<double>(i) / degree); }

double bernstein(int k, double t) {
    return binomial(degree, k) * std::pow(t, k) * std::pow(1.0 - t, degree - k);
}

/// From values at the nodes to Bezier poles.
const Matrix& poles_from_values() {
    static const Matrix inverse = [] {
        Matrix m;
        for (int i = 0; i <= degree; ++i)
            for (int k = 0; k <= degree; ++k)
                m(i, k) = bernstein(k, node(static_cast<std::size_t>(i)));
        return Matrix(m.inverse());
    }();
    return inverse;
}

class Fit {
  public:
    Fit(const std::function<Point2(double)>& point, double tolerance)
        : point_(point), tolerance_(tolerance) {
        spline_.degree = degree;
    }

    Spline run(double from, double to) {
        const int pieces = std::max(1, static_cast<int>(std::ceil((to - from) / longest_piece)));
        spline_.knots.assign(count, from);
        for (int i = 0; i < pieces; ++i)
            add(from + (to - from) * i / pieces,
                i + 1 == pieces ? to : from + (to - from) * (i + 1) / pieces, deepest,
                std::numeric_limits<double>::infinity());
        spline_.knots.push_back(to);
        return std::move(spline_);
    }

  private:
    void add(double from, double to, int depth, double error_of_double) {
        Poles values;
        for (std::size_t i = 0; i < count; ++i)
            values[i] = point_(i == degree ? to : from + node(i) * (to - from));
        Poles poles;
        for (std::size_t k = 0; k < count; ++k) {
            poles[k] = Point2::Zero();
            for (std::size_t i = 0; i < count; ++i)
                poles[k] +=
                    poles_from_values()(static_cast<int>(k), static_cast<int>(i)) * values[i];
        }
        poles.front() = values.front();
        poles.back() = values.back();
        const double error = error_of(poles, from, to);
        const bool is_rounding =
            error <= rounding_at_most * tolerance_ && error_of_double < least_progress * error;
        if (depth > 0 && !(error <= tolerance_) && !is_rounding) {
            const double middle = 0.5 * (from + to);
            add(from, middle, depth - 1, error);
            add(middle, to, depth - 1, error);
            return;
        }
        if (spline_.poles.empty()) spline_.poles.push_back(poles.front());
        spline_.poles.insert(spline_.poles.end(), poles.begin() + 1, poles.end());
        spline_.knots.insert(spline_.knots.end(), degree, to);
    }

    /// Looks between the first two nodes, where the error of interpolation is large, and about the
    /// middle.
    double error_of(const Poles& poles, double from, double to) const {
        double error = 0.0;
        for (const double t : {0.04, 0.5, 0.78}) {
            Point2 value = Point2::Zero();
            for (std::size_t k = 0; k < count; ++k)
                value += bernstein(static_cast<int>(k), t) * poles[k];
            error = std::max(error, (value - point_(from + t * (to - from))).norm());
        }
        return error;
    }

    const std::function<Point2(double)>& point_;
    double tolerance_;
    Spline spline_;
};

}  // namespace

std::vector<Curve> fit_interpolated(const std::function<Point2(double)>& point, double from,
                                    double to, double tolerance) {
    const Spline spline = Fit(point, tolerance).run(std::min(from, to), std::max(from, to));
    const Curve curve = canonical(spline, 10.0 * tolerance);
    return {from < to ? curve : reversed(curve)};
}

}  // namespace planform::flatten
