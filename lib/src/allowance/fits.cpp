#include "planform/allowance.hpp"
#include "planform/error.hpp"

namespace planform {

std::vector<CurveFit> inner_fits(const ProfileSet& outline, double fit, FitOn fit_on) {
    if (fit_on == FitOn::tab)
        throw GeometryError(ErrorKind::invalid_argument,
                            "without an assembly no tab is known: put the fit on the slots, or "
                            "half of it with both");
    std::vector<CurveFit> fits;
    const double distance = fit_on == FitOn::both ? fit / 2.0 : fit;
    if (distance == 0.0) return fits;
    int profile = 0;
    for (const Profile& part : outline.profiles()) {
        int contour = 0;
        for (const Contour& hole : part.holes()) {
            ++contour;
            for (std::size_t i = 0; i < hole.curves().size(); ++i)
                fits.push_back({{profile, contour, static_cast<int>(i)}, distance});
        }
        ++profile;
    }
    return fits;
}

std::string_view word_for(ReliefStyle style) {
    return style == ReliefStyle::side ? "side" : "corner";
}

}  // namespace planform
