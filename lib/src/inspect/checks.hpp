#pragma once

/// The checks behind inspect(), one function a subject. All append findings.

#include <string>
#include <vector>

#include "planform/inspect.hpp"

namespace planform::inspection {

/// What a check needs.
struct Job {
    const ProfileSet& profiles;
    const InspectOptions& options;

    const Rule& rule(RuleKind kind) const { return options.rules.rule(kind); }
    /// False if the rule is off, or counts in thicknesses and none is given.
    bool applies(RuleKind kind) const {
        return rule(kind).enabled &&
               (rule(kind).unit != LimitUnit::thicknesses || options.thickness);
    }
    /// In mm where the rule counts in thicknesses.
    double limit(RuleKind kind) const {
        return rule(kind).unit == LimitUnit::thicknesses ? rule(kind).limit * *options.thickness
                                                         : rule(kind).limit;
    }
};

/// Measured values this near to a limit (mm) keep it: files round.
inline constexpr double at_limit = 1e-6;

/// A finding of a rule, with its severity.
Finding finding_of(const Job& job, RuleKind kind, const Point2& place, std::string text);

/// Up to four decimals, no trailing zeros.
std::string number(double value);
/// "hole 3" or "outer contour", of which profile if there are several.
std::string contour_name(const Job& job, int profile, int contour);

void check_widths(const Job& job, std::vector<Finding>& findings);
void check_contours(const Job& job, std::vector<Finding>& findings);
void check_loose_pieces(const Job& job, std::vector<Finding>& findings);
void check_sizes(const Job& job, std::vector<Finding>& findings);

}  // namespace planform::inspection
