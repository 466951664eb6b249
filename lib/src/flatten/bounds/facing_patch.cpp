#include "flatten/bounds/facing_patch.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "curve/index.hpp"
#include "flatten/bounds/binomials.hpp"

namespace planform::flatten {
namespace {

constexpr int highest = most_binomials / 2;
using Weights = std::array<double, highest + 1>;

using detail::index;

/// Coefficients of the polynomial with t^n that is least on 0..1, T_n / 2^(2n - 1), in Bernstein
/// form: (-1)^(n - i) C(2n, 2i) / C(n, i) / 2^(2n - 1) (A. Rababah, Comput. Methods Appl. Math. 3
/// (2003) 608-622).
const Weights& chebyshev(int n) {
    static const auto table = [] {
        std::array<Weights, highest + 1> t{};
        for (int k = 1; k <= highest; ++k)
            for (int i = 0; i <= k; ++i)
                t[index(k)][index(i)] =
                    std::ldexp(binomial(2 * k, 2 * i) / alternating_binomials(k)[i], 1 - 2 * k);
        return t;
    }();
    return table[index(n)];
}

/// Rows of coefficients side by side: entry i of row k.
struct Rows {
    double* first;
    int count;              ///< of the rows
    std::ptrdiff_t across;  ///< from a row to the next
    std::ptrdiff_t along;   ///< from an entry to the next

    double& at(int k, int i) const { return first[k * across + i * along]; }
};

/// Coefficients of t^n of all rows: their n-th differences.
Weights leading(const Rows& rows, int n) {
    const double* weights = alternating_binomials(n);
    Weights result;
    std::fill_n(result.begin(), rows.count, 0.0);
    for (int i = 0; i <= n; ++i)
        for (int k = 0; k < rows.count; ++k) result[index(k)] += weights[i] * rows.at(k, i);
    return result;
}

/// Takes the multiple of the least polynomial away that leaves degree n - 1, off by the coefficient
/// of t^n / 2^(2n - 1): the nearest of that degree (P. L. Chebyshev). The first n entries become
/// the coefficients of degree n - 1, each from its own end, which is stable.
void lower_degree(const Rows& rows, int n, const Weights& leading) {
    const Weights& least = chebyshev(n);
    const int middle = (n + 1) / 2;
    for (int i = 0; i <= n; ++i)
        for (int k = 0; k < rows.count; ++k) rows.at(k, i) -= leading[index(k)] * least[index(i)];
    for (int i = 1; i < middle; ++i) {
        const double here = static_cast<double>(n) / (n - i);
        const double before = static_cast<double>(i) / (n - i);
        for (int k = 0; k < rows.count; ++k)
            rows.at(k, i) = here * rows.at(k, i) - before * rows.at(k, i - 1);
    }
    // From the right: at its place each waits in entry n until the place below it is done.
    for (int i = n - 1; i >= middle; --i) {
        const double here = static_cast<double>(n) / i;
        const double after = static_cast<double>(n - i) / i;
        for (int k = 0; k < rows.count; ++k) {
            const double old = rows.at(k, i);
            rows.at(k, i) = rows.at(k, n);
            rows.at(k, n) = here * old - after * rows.at(k, n);
        }
    }
}

/// De Casteljau at a share of the way: along it the ends of each level are the poles of the parts.
void cut_rows(const Rows& first, const Rows& second, int n, double share) {
    for (int k = 0; k < first.count; ++k) second.at(k, n) = first.at(k, n);
    for (int level = 1; level <= n; ++level) {
        for (int i = n; i >= level; --i)
            for (int k = 0; k < first.count; ++k)
                first.at(k, i) += (1.0 - share) * (first.at(k, i - 1) - first.at(k, i));
        for (int k = 0; k < first.count; ++k) second.at(k, n - level) = first.at(k, n);
    }
}

/// De Casteljau: what is left of the place, or right of it, takes the place of the whole.
void keep_left(const Rows& rows, int n, double share) {
    for (int level = 1; level <= n; ++level)
        for (int i = n; i >= level; --i)
            for (int k = 0; k < rows.count; ++k)
                rows.at(k, i) += (1.0 - share) * (rows.at(k, i - 1) - rows.at(k, i));
}
void keep_right(const Rows& rows, int n, double share) {
    for (int level = 1; level <= n; ++level)
        for (int i = 0; i <= n - level; ++i)
            for (int k = 0; k < rows.count; ++k)
                rows.at(k, i) += share * (rows.at(k, i + 1) - rows.at(k, i));
}

Rows rows_of(std::vector<double>& coefficients, int degree_u, int degree_v, bool in_u) {
    const int columns = degree_v + 1;
    if (in_u) return {coefficients.data(), columns, 1, columns};
    return {coefficients.data(), degree_u + 1, columns, 1};
}

}  // namespace

FacingPatch::FacingPatch(Box2 box, int degree_u, int degree_v, std::vector<double> coefficients)
    : box_(std::move(box)),
      degree_u_(degree_u),
      degree_v_(degree_v),
      coefficients_(std::move(coefficients)) {
    set_bounds();
}

void FacingPatch::set_bounds() {
    const auto [low, high] = std::minmax_element(coefficients_.begin(), coefficients_.end());
    low_ = *low - error_;
    high_ = *high + error_;
}

void FacingPatch::reduce(bool in_u) {
    int& degree = in_u ? degree_u_ : degree_v_;
    while (degree > 0) {
        const Rows rows = rows_of(coefficients_, degree_u_, degree_v_, in_u);
        const Weights wanted = leading(rows, degree);
        double largest = 0.0;
        for (int k = 0; k < rows.count; ++k)
            largest = std::max(largest, std::abs(wanted[index(k)]));
        // The least polynomial takes its greatest value, 1 / 2^(2n - 1), at t = 1.
        const double error = error_ + largest * chebyshev(degree)[index(degree)];
        if (!(error <= allowance_)) break;
        error_ = error;
        lower_degree(rows, degree, wanted);
        if (!in_u)
            for (int i = 1; i <= degree_u_; ++i)
                std::copy_n(coefficients_.begin() + i * (degree + 1), degree,
                            coefficients_.begin() + i * degree);
        --degree;
        coefficients_.resize(index((degree_u_ + 1) * (degree_v_ + 1)));
    }
    set_bounds();
}

std::pair<FacingPatch, FacingPatch> FacingPatch::cut(bool across_u, double share) const {
    std::pair<FacingPatch, FacingPatch> result(*this, *this);
    auto& [first, second] = result;
    cut_rows(rows_of(first.coefficients_, degree_u_, degree_v_, across_u),
             rows_of(second.coefficients_, degree_u_, degree_v_, across_u),
             across_u ? degree_u_ : degree_v_, share);
    const Eigen::Index axis = across_u ? 0 : 1;
    first.box_.max()[axis] = second.box_.min()[axis] =
        box_.min()[axis] + share * box_.sizes()[axis];
    first.reduce(across_u);
    second.reduce(across_u);
    return result;
}

void FacingPatch::reduce() {
    reduce(true);
    reduce(false);
}

std::pair<FacingPatch, FacingPatch> FacingPatch::halves(bool across_u) const {
    return cut(across_u, 0.5);
}

FacingPatch FacingPatch::within(const Box2& box) const {
    FacingPatch part = *this;
    for (const Eigen::Index axis : {0, 1}) {
        const double low = box.min()[axis], high = box.max()[axis];
        const auto share = [&](double at) {
            return (at - part.box_.min()[axis]) / part.box_.sizes()[axis];
        };
        if (low > part.box_.min()[axis]) part = part.cut(axis == 0, share(low)).second;
        if (high < part.box_.max()[axis]) part = part.cut(axis == 0, share(high)).first;
    }
    return part;
}

Range FacingPatch::over(const Box2& box) const {
    std::vector<double> part = coefficients_;
    int degrees[] = {degree_u_, degree_v_};
    // First the way across which the box is thin: along a line of constant u or v one row is left.
    const Vector2 shares = box.sizes().cwiseQuotient(box_.sizes());
    const int thin = shares.x() <= shares.y() ? 0 : 1;
    for (const int axis : {thin, 1 - thin}) {
        const int n = degrees[axis];
        if (n == 0) continue;
        const Rows rows = rows_of(part, degrees[0], degrees[1], axis == 0);
        const double low = (box.min()[axis] - box_.min()[axis]) / box_.sizes()[axis];
        const double high = (box.max()[axis] - box_.min()[axis]) / box_.sizes()[axis];
        if (low > 0.0 || high <= low) keep_right(rows, n, low);
        if (high <= low) {
            for (int k = 0; k < rows.count; ++k) part[index(k)] = rows.at(k, 0);
            part.resize(index(rows.count));
            degrees[axis] = 0;
        } else if (high < 1.0) {
            keep_left(rows, n, (high - low) / (1.0 - low));
        }
    }
    const auto [least, largest] = std::minmax_element(part.begin(), part.end());
    return {*least - error_, *largest + error_};
}

}  // namespace planform::flatten
