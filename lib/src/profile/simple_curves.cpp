#include "planform/error.hpp"
#include "planform/motion.hpp"
#include "planform/tolerance.hpp"

namespace planform {

namespace {

std::vector<Curve> simple(const Curve& curve, SimpleCurves kind, double tolerance) {
    if (std::holds_alternative<Line>(curve)) return {curve};
    if (kind == SimpleCurves::arcs) return fit_arcs(curve, tolerance);
    std::vector<Curve> lines;
    const std::vector<Point2> vertices = points(curve, tolerance);
    for (std::size_t i = 1; i < vertices.size(); ++i)
        lines.push_back(Line{vertices[i - 1], vertices[i]});
    return lines;
}

Contour simple(const Contour& contour, SimpleCurves kind, double tolerance) {
    std::vector<Curve> curves;
    std::vector<Provenance> provenance;
    for (std::size_t i = 0; i < contour.curves().size(); ++i) {
        const std::vector<Curve> pieces = simple(contour.curves()[i], kind, tolerance);
        curves.insert(curves.end(), pieces.begin(), pieces.end());
        if (!contour.provenance().empty())
            provenance.insert(provenance.end(), pieces.size(), contour.provenance()[i]);
    }
    return Contour(std::move(curves), std::move(provenance));
}

Profile simple(const Profile& profile, SimpleCurves kind, double tolerance) {
    std::vector<Contour> holes;
    holes.reserve(profile.holes().size());
    for (const Contour& hole : profile.holes()) holes.push_back(simple(hole, kind, tolerance));
    return Profile(simple(profile.outer(), kind, tolerance), std::move(holes), profile.name(),
                   profile.parent());
}

Mark simple(const Mark& mark, SimpleCurves kind, double tolerance) {
    if (mark.is_closed())
        return Mark(simple(mark.contour(), kind, tolerance), mark.name(), mark.depth());
    std::vector<Curve> curves;
    for (const Curve& curve : mark.curves()) {
        const std::vector<Curve> pieces = simple(curve, kind, tolerance);
        curves.insert(curves.end(), pieces.begin(), pieces.end());
    }
    return Mark::open(std::move(curves), mark.name(), mark.depth());
}

}  // namespace

ProfileSet with_curves(const ProfileSet& set, SimpleCurves kind, double tolerance) {
    const double bound =
        fit_tolerance(tolerance, set.empty() ? 0.0 : set.bounds().diagonal().norm());
    std::vector<Profile> profiles;
    profiles.reserve(set.profiles().size());
    for (const Profile& profile : set.profiles()) profiles.push_back(simple(profile, kind, bound));
    std::vector<Mark> marks;
    marks.reserve(set.marks().size());
    for (const Mark& mark : set.marks()) marks.push_back(simple(mark, kind, bound));
    return ProfileSet(std::move(profiles), std::move(marks), set.datum(), set.tolerance() + bound,
                      set.name(), set.notes(), Validate::no)
        .with_data(set.data());
}

}  // namespace planform
