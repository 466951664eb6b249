#include <cctype>

#include "planform/features.hpp"

namespace planform {

std::optional<Finding> finding_of(const UncuttableFeature& feature, const RuleSet& rules) {
    const Rule& rule = rules.rule(RuleKind::straight_cut);
    if (!rule.enabled) return std::nullopt;
    Finding finding;
    finding.rule = rule.kind;
    finding.severity = rule.severity;
    finding.place = feature.place;
    const bool is_angle = feature.kind == FeatureKind::bevelled_wall && feature.angle;
    finding.measured = is_angle ? *feature.angle * 180.0 / pi : feature.depth;
    finding.unit = is_angle ? "degrees" : "mm";
    finding.text = feature.text + ". Make it in a second step, or leave it out.";
    finding.text.front() =
        static_cast<char>(std::toupper(static_cast<unsigned char>(finding.text.front())));
    return finding;
}

}  // namespace planform
