#include "planform/inspect.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <tuple>

#include "inspect/checks.hpp"
#include "planform/error.hpp"

namespace planform {
namespace {

void require(bool condition, const std::string& what, double value) {
    if (!condition || !std::isfinite(value))
        throw GeometryError(ErrorKind::invalid_argument,
                            what + " " + inspection::number(value) + " mm makes no sense");
}

void require_valid(const InspectOptions& options) {
    if (options.thickness) require(*options.thickness > 0.0, "a thickness of", *options.thickness);
    if (options.sheet) {
        const Sheet& sheet = *options.sheet;
        require(sheet.width > 0.0, "a sheet's width of", sheet.width);
        require(sheet.height > 0.0, "a sheet's height of", sheet.height);
        require(sheet.margin >= 0.0, "a sheet's margin of", sheet.margin);
    }
}

}  // namespace

namespace inspection {

std::string number(double value) {
    char text[40];
    std::snprintf(text, sizeof text, "%.4f", value);
    std::string digits = text;
    if (digits.find('.') != std::string::npos) {
        digits.erase(digits.find_last_not_of('0') + 1);
        if (digits.back() == '.') digits.pop_back();
    }
    return digits == "-0" ? "0" : digits;
}

Finding finding_of(const Job& job, RuleKind kind, const Point2& place, std::string text) {
    Finding finding;
    finding.rule = kind;
    finding.severity = job.rule(kind).severity;
    finding.place = place;
    finding.text = std::move(text);
    return finding;
}

std::string contour_name(const Job& job, int profile, int contour) {
    std::string name = contour == 0 ? "the outer contour" : "hole " + std::to_string(contour);
    if (job.profiles.profiles().size() > 1) name += " of profile " + std::to_string(profile + 1);
    return name;
}

}  // namespace inspection

std::vector<Finding> inspect(const ProfileSet& profiles, const InspectOptions& options) {
    require_valid(options);
    const inspection::Job job{profiles, options};
    std::vector<Finding> findings = options.further;
    inspection::check_widths(job, findings);
    inspection::check_contours(job, findings);
    inspection::check_loose_pieces(job, findings);
    inspection::check_sizes(job, findings);
    const auto key = [](const Finding& finding) {
        return std::tuple(-static_cast<int>(finding.severity), static_cast<int>(finding.rule),
                          finding.place.x(), finding.place.y(), finding.profile, finding.contour);
    };
    std::stable_sort(findings.begin(), findings.end(),
                     [&](const Finding& a, const Finding& b) { return key(a) < key(b); });
    return findings;
}

}  // namespace planform
