#pragma once

/// From the outline of a part to the way of the tool: width of cut, fits, reliefs.
///
/// Millimetres throughout. Values are immutable.

#include <compare>
#include <string>
#include <string_view>
#include <vector>

#include "planform/offset.hpp"
#include "planform/profile.hpp"

namespace planform {

/// Which curve of a profile set.
struct CurveAddress {
    int profile = 0;
    int contour = 0;  ///< 0: the outer contour; n: hole n - 1
    int curve = 0;

    auto operator<=>(const CurveAddress&) const = default;
};

/// Which part gets the fit where a wall in a slot meets one of a tab.
enum class FitOn { slot, tab, both };

/// What a curve gives of its material for a fit.
struct CurveFit {
    CurveAddress at;
    double distance = 0.0;  ///< mm, positive takes material away, negative adds it
};

/// What lies between the outline of a part and the way of the tool.
struct Allowance {
    /// Width of material that the tool removes, mm. Half of it goes outward all round: outer
    /// contours and islands grow, holes shrink. Marks stay.
    double kerf = 0.0;
    /// The gap between walls that meet, on each side, mm; negative for a press fit. What it makes
    /// of the curves stands in `fits`.
    double fit = 0.0;
    /// Diameter of the tool that inner corners are relieved for, mm; 0: they are not.
    double relief = 0.0;
    ReliefStyle relief_style = ReliefStyle::corner;
    /// No curve stands twice.
    std::vector<CurveFit> fits;

    bool is_none() const { return kerf == 0.0 && relief == 0.0 && fits.empty(); }
};

/// The fit on all inner contours: all of it, or half of it for `FitOn::both`. Throws GeometryError
/// (invalid_argument) for `FitOn::tab`: without an assembly no tab is known.
std::vector<CurveFit> inner_fits(const ProfileSet& outline, double fit, FitOn fit_on = FitOn::slot);

/// The way of the tool for the outline: first the fits, then the reliefs, then the width of cut. A
/// part cut along it has walls at the outline's, moved by its fits, lines and arcs to 1e-9 of the
/// coordinates, all else within a tenth of the tolerance. Curves beside each other that move
/// differently meet where they cross, led on; corners stay sharp, unless the outline has a tip
/// sharper than 29 degrees or tips led on would meet others: then arcs run around its corners. The
/// notes say what is in it.
///
/// Throws GeometryError: (invalid_argument) for a kerf or relief that is negative, numbers that are
/// not finite, a relief no wider than the width of cut, a fit at a curve that there is not, an
/// allowance that is in the outline already, as its notes say; (no_room_for_allowance) with the
/// name and the place where a hole, a slot, a notch or the gap between two outlines is no wider
/// than the cut, where a fit leaves nothing of a tab or a slot; else as offset(). A tip that the
/// tool can't reach is a note.
ProfileSet as_cut(const ProfileSet& outline, const Allowance& allowance);

/// Those of the notes of a way that say what as_cut() has put into it. None: it is an outline as it
/// was drawn.
std::vector<std::string> allowance_notes(const ProfileSet& outline);

/// The words of the JSON schema and of Python for a style of relief.
std::string_view word_for(ReliefStyle style);

}  // namespace planform
