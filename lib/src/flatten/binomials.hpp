#pragma once

/// Binomial coefficients, from a table.

namespace planform::flatten {

/// The greatest n of the table.
constexpr int most_binomials = 80;

/// n over k, 0 <= k <= n <= most_binomials.
double binomial(int n, int k);

/// The n + 1 coefficients n over k, of alternating sign, the last positive.
const double* alternating_binomials(int n);

}  // namespace planform::flatten
