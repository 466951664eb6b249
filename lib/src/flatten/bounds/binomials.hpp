#pragma once

/// Binomial coefficients, from a table.

namespace planform::flatten {

/// The greatest n of the table.
constexpr int most_binomials = 80;

/// The n + 1 coefficients n over k, n <= most_binomials.
const double* binomials(int n);

/// n over k, 0 <= k <= n <= most_binomials.
inline double binomial(int n, int k) { return binomials(n)[k]; }

/// The n + 1 coefficients n over k, of alternating sign, the last positive.
const double* alternating_binomials(int n);

}  // namespace planform::flatten
