#pragma once

/// What a tolerance may be for a part of a certain size.

namespace planform {

/// mm: a tenth of the width of a laser's cut (common practice, no source).
inline constexpr double default_tolerance = 0.01;
/// The largest share of a part's extent, the diagonal of its box, that a tolerance may be. Above it
/// holes and whole parts could be lost within tolerance.
inline constexpr double largest_tolerance_share = 0.01;
/// The smallest: below it the arrangement's grid of 2^30 cells can't tell what the tolerance asks.
inline constexpr double smallest_tolerance_share = 1e-9;

/// The tolerance to work with: `tolerance` if it is fit for a part of this extent (mm), a hundredth
/// of the extent in place of a default tolerance that is larger. Throws GeometryError
/// (invalid_argument) if it is not a positive finite number, (tolerance_out_of_range) with what to
/// ask for instead if it is above a hundredth of the extent or below a thousand-millionth. An
/// extent of nought, that of nothing, fits any tolerance.
double fit_tolerance(double tolerance, double extent);

/// The tolerance, or a hundredth of the extent (mm) where that is less: for what is part of a whole
/// that the tolerance fits.
double limited_tolerance(double tolerance, double extent);

}  // namespace planform
