#include <algorithm>

#include "inspect/checks.hpp"

namespace planform::inspection {
namespace {

RuleKind rule_for(NarrowPlace::Kind kind) {
    switch (kind) {
        case NarrowPlace::Kind::inner:
            return RuleKind::inner_width;
        case NarrowPlace::Kind::web:
            return RuleKind::web;
        case NarrowPlace::Kind::neck:
            return RuleKind::neck;
    }
    return RuleKind::inner_width;
}

bool between_profiles(const NarrowPlace& place) { return place.profile != place.other_profile; }

std::string subject(const Job& job, const NarrowPlace& place) {
    const std::string first = contour_name(job, place.profile, place.contour);
    const std::string second = contour_name(job, place.other_profile, place.other_contour);
    switch (place.kind) {
        case NarrowPlace::Kind::inner:
            if (between_profiles(place)) return "the gap between " + first + " and " + second;
            return place.contour == 0 ? "a notch in " + first : first;
        case NarrowPlace::Kind::web:
            return "the web between " + first + " and " + second;
        case NarrowPlace::Kind::neck:
            return "a neck within " + first;
    }
    return first;
}

std::string advice(const NarrowPlace& place) {
    if (place.kind != NarrowPlace::Kind::inner)
        return "leave more material, or check that it holds";
    return between_profiles(place) ? "move them apart" : "widen it, or take thinner material";
}

std::string text_for(const Job& job, const NarrowPlace& place, double limit) {
    std::string text = subject(job, place) + " is " + number(place.width) + " mm wide, less than " +
                       number(limit) + " mm";
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
    const Rule& rule = job.rule(rule_for(place.kind));
    if (rule.unit == LimitUnit::thicknesses) text += " (" + number(rule.limit) + " x thickness)";
    return text + ": " + advice(place) + ".";
}

std::string touch_text(const Job& job, const NarrowPlace& place) {
    const std::string first = contour_name(job, place.profile, place.contour);
    const std::string second = contour_name(job, place.other_profile, place.other_contour);
    const std::string what =
        first == second ? first + " meets itself" : first + " and " + second + " meet";
    std::string text = what + " in a point: move them apart, or join them by a strip.";
    if (first == second) text = what + " in a point: leave a gap, or material, there.";
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

}  // namespace

void check_widths(const Job& job, std::vector<Finding>& findings) {
    // Curves nearer than a cell of the grid on which outlines are made are one.
    const double touching = 1e-3 * job.profiles.tolerance();
    const bool touch = job.applies(RuleKind::point_touch);
    double widest = touch ? 2.0 * touching : 0.0;
    for (const RuleKind kind : {RuleKind::inner_width, RuleKind::web, RuleKind::neck})
        if (job.applies(kind)) widest = std::max(widest, job.limit(kind));
    if (widest <= 0.0) return;
    for (const NarrowPlace& place : narrow_places(job.profiles, widest)) {
        const bool touches = touch && place.width <= touching;
        const RuleKind kind = touches ? RuleKind::point_touch : rule_for(place.kind);
        if (!touches && (!job.applies(kind) || place.width >= job.limit(kind) - at_limit)) continue;
        Finding finding =
            finding_of(job, kind, place.center,
                       touches ? touch_text(job, place) : text_for(job, place, job.limit(kind)));
        finding.points = place.touching;
        finding.measured = place.width;
        if (!touches) finding.limit = job.limit(kind);
        finding.unit = "mm";
        finding.profile = place.profile;
        finding.contour = place.contour;
        findings.push_back(std::move(finding));
    }
}

}  // namespace planform::inspection
