#include "offset/changes.hpp"

#include <algorithm>
#include <cstdio>
#include <tuple>
#include <utility>

namespace planform::offset_detail {
namespace {

std::string number(double value, int decimals) {
    char text[64];
    std::snprintf(text, sizeof text, "%.*f", decimals, value);
    std::string digits = text;
    digits.erase(digits.find_last_not_of('0') + 1);
    if (digits.back() == '.') digits.pop_back();
    return digits == "-0" ? "0" : digits;
}

}  // namespace

Finding finding_of(RuleKind kind, const Point2& place, std::string text) {
    static const RuleSet defaults;
    Finding finding;
    finding.rule = kind;
    finding.severity = defaults.rule(kind).severity;
    finding.place = place;
    finding.text = std::move(text);
    return finding;
}

std::string millimetres(double value) { return number(value, 4) + " mm"; }

std::string at_place(const Point2& place) {
    std::string text = "(";
    text += number(place.x(), 3);
    text += ", ";
    text += number(place.y(), 3);
    return text + ")";
}

Allowed with_findings(ProfileSet set, std::vector<Finding> findings) {
    const auto key = [](const Finding& finding) {
        return std::tuple(static_cast<int>(finding.rule), finding.place.x(), finding.place.y(),
                          finding.profile, finding.contour);
    };
    std::stable_sort(findings.begin(), findings.end(),
                     [&](const Finding& a, const Finding& b) { return key(a) < key(b); });
    if (findings.empty()) return {std::move(set), {}};
    std::vector<std::string> notes = set.notes();
    for (const Finding& finding : findings)
        notes.push_back(finding.text + " at " + at_place(finding.place));
    ProfileSet noted(set.profiles(), set.marks(), set.datum(), set.tolerance(), set.name(),
                     std::move(notes));
    return {std::move(noted), std::move(findings)};
}

}  // namespace planform::offset_detail
