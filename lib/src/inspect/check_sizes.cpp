#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "inspect/checks.hpp"
#include "inspect/gauges.hpp"

namespace planform::inspection {
namespace {

std::string size_text(const Vector2& sizes, double factor) {
    return number(sizes.x() * factor) + " x " + number(sizes.y() * factor);
}

void check_sheet(const Job& job, const Box2& box, std::vector<Finding>& findings) {
    if (!job.options.sheet || !job.applies(RuleKind::sheet)) return;
    const Sheet& sheet = *job.options.sheet;
    const double width = std::max(0.0, sheet.width - 2.0 * sheet.margin);
    const double height = std::max(0.0, sheet.height - 2.0 * sheet.margin);
    const Vector2 sizes = box.sizes();
    const double long_side = std::max(width, height), short_side = std::min(width, height);
    const double longer = sizes.maxCoeff(), shorter = sizes.minCoeff();
    if (longer <= long_side + at_limit && shorter <= short_side + at_limit) return;
    Finding finding = finding_of(
        job, RuleKind::sheet, box.center(),
        "The drawing is " + size_text(sizes, 1.0) + " mm, larger than the " + number(width) +
            " x " + number(height) + " mm of the sheet within its margin, turned by 90 degrees, " +
            "too: split it, or take a larger sheet.");
    const bool is_long = longer > long_side + at_limit;
    finding.measured = is_long ? longer : shorter;
    finding.limit = is_long ? long_side : short_side;
    finding.unit = "mm";
    findings.push_back(std::move(finding));
}

void check_extent(const Job& job, const Box2& box, std::vector<Finding>& findings) {
    const double longer = box.sizes().maxCoeff();
    const auto add = [&](RuleKind kind, const std::string& relation, double factor,
                         const std::string& meant) {
        Finding finding = finding_of(job, kind, box.center(),
                                     "The drawing is " + size_text(box.sizes(), 1.0) + " mm (" +
                                         size_text(box.sizes(), 1.0 / millimetres_per_inch) +
                                         " inch), " + relation + " usual: if it was meant in " +
                                         meant + ", enlarge it by " + number(factor) + ".");
        finding.measured = longer;
        finding.limit = job.limit(kind);
        finding.unit = "mm";
        findings.push_back(std::move(finding));
    };
    if (job.applies(RuleKind::smallest_size) &&
        longer < job.limit(RuleKind::smallest_size) - at_limit)
        add(RuleKind::smallest_size, "smaller than", millimetres_per_inch, "inches");
    if (job.applies(RuleKind::largest_size) &&
        longer > job.limit(RuleKind::largest_size) + at_limit)
        add(RuleKind::largest_size, "larger than", 1.0 / millimetres_per_inch,
            "mm and read as inches");
}

void check_gauge(const Job& job, const Box2& box, std::vector<Finding>& findings) {
    if (!job.options.thickness || !job.applies(RuleKind::gauge)) return;
    const double thickness = *job.options.thickness;
    const double tolerance = job.limit(RuleKind::gauge);
    if (usual_thickness(thickness, tolerance)) return;
    struct Reading {
        double factor;
        const char* meant;
    };
    for (const Reading& reading : {Reading{millimetres_per_inch, "inches and read as mm"},
                                   Reading{1.0 / millimetres_per_inch, "mm and read as inches"}}) {
        const auto usual = usual_thickness(thickness * reading.factor, tolerance);
        if (!usual) continue;
        Finding finding =
            finding_of(job, RuleKind::gauge, box.center(),
                       "A thickness of " + number(thickness) + " mm is no usual one, but times " +
                           number(reading.factor) + " it is " + *usual +
                           ": check whether the model was meant in " + reading.meant +
                           ", then scale everything by that factor.");
        finding.measured = thickness;
        finding.limit = thickness * reading.factor;
        finding.unit = "mm";
        findings.push_back(std::move(finding));
        return;
    }
}

}  // namespace

void check_sizes(const Job& job, std::vector<Finding>& findings) {
    const Box2 box = job.profiles.bounds();
    if (box.isEmpty()) return;
    check_sheet(job, box, findings);
    check_extent(job, box, findings);
    check_gauge(job, box, findings);
}

}  // namespace planform::inspection
