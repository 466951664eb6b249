/// What a feature is and what the silhouette shows there, in words.

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string>

#include "features/finder.hpp"

namespace planform {

std::string_view word_for(FeatureKind kind) {
    switch (kind) {
        case FeatureKind::pocket:
            return "blind pocket";
        case FeatureKind::step:
            return "step";
        case FeatureKind::groove:
            return "groove";
        case FeatureKind::boss:
            return "boss";
        case FeatureKind::chamfer:
            return "chamfer";
        case FeatureKind::countersink:
            return "countersink";
        case FeatureKind::counterbore:
            return "counterbore";
        case FeatureKind::rounded_edge:
            return "rounded edge";
        case FeatureKind::bevelled_wall:
            return "bevelled wall";
        case FeatureKind::cross_hole:
            return "cross hole";
        case FeatureKind::cavity:
            return "cavity";
        case FeatureKind::free_form:
            return "free-form surface";
    }
    return {};
}

const std::vector<FeatureKind>& all_feature_kinds() {
    static const std::vector<FeatureKind> kinds{
        FeatureKind::pocket,      FeatureKind::step,         FeatureKind::groove,
        FeatureKind::boss,        FeatureKind::chamfer,      FeatureKind::countersink,
        FeatureKind::counterbore, FeatureKind::rounded_edge, FeatureKind::bevelled_wall,
        FeatureKind::cross_hole,  FeatureKind::cavity,       FeatureKind::free_form};
    return kinds;
}

namespace features {
namespace {

/// At most three decimals, none that are nought.
std::string number(double value) {
    char text[32];
    std::snprintf(text, sizeof text, "%.3f", value);
    std::string digits = text;
    digits.erase(digits.find_last_not_of('0') + 1);
    if (digits.back() == '.') digits.pop_back();
    return digits == "-0" ? "0" : digits;
}

std::string mm(double value) { return number(value) + " mm"; }
std::string degrees(double radians) { return number(radians * 180.0 / pi) + " degrees"; }

std::string side_word(FeatureSide side) { return side == FeatureSide::bottom ? "bottom" : "top"; }

/// "at the top" or "at the bottom"; nothing for walls.
std::string where(FeatureSide side) {
    return side == FeatureSide::top      ? " at the top"
           : side == FeatureSide::bottom ? " at the bottom"
                                         : "";
}

std::string offered(FeatureSide side) { return "--at " + side_word(side); }

/// Does the narrow hole of a countersink or counterbore end in the material?
bool is_blind(const UncuttableFeature& feature, const std::vector<UncuttableFeature>& all) {
    return std::any_of(all.begin(), all.end(), [&](const UncuttableFeature& other) {
        return other.kind == FeatureKind::pocket && other.side == feature.side &&
               (other.place - feature.place).norm() < 1e-6;
    });
}

std::string sizes(const UncuttableFeature& f) {
    switch (f.kind) {
        case FeatureKind::pocket:
        case FeatureKind::step:
            return mm(f.depth) + " deep" + (f.diameter ? ", " + mm(*f.diameter) + " wide" : "") +
                   (f.angle && !f.diameter ? ", walls lean " + degrees(*f.angle) : "");
        case FeatureKind::groove:
            return mm(f.depth) + " deep" + (f.width ? ", " + mm(*f.width) + " high" : "");
        case FeatureKind::boss:
            return mm(f.depth) + " high" + (f.diameter ? ", diameter " + mm(*f.diameter) : "");
        case FeatureKind::chamfer:
            return mm(*f.width) + " wide, " + mm(f.depth) + " high, " + degrees(*f.angle) +
                   " from a straight wall";
        case FeatureKind::countersink:
            return degrees(*f.angle) + ", " + mm(*f.diameter) + " wide, hole " +
                   mm(*f.hole_diameter);
        case FeatureKind::counterbore:
            return mm(f.depth) + " deep, " + mm(*f.diameter) + " wide, hole " +
                   mm(*f.hole_diameter);
        case FeatureKind::rounded_edge:
            return "radius " + mm(*f.radius);
        case FeatureKind::bevelled_wall:
            return degrees(*f.angle) + " from a straight wall, " + mm(*f.width) + " wide" +
                   (f.diameter ? ", hole from " + mm(*f.hole_diameter) + " to " + mm(*f.diameter)
                               : "");
        case FeatureKind::cross_hole:
            return "diameter " + mm(*f.diameter) + ", axis " + mm(f.depth) + " below the top" +
                   (*f.angle > 1e-6 ? ", " + degrees(*f.angle) + " from the sheet" : "");
        case FeatureKind::cavity:
            return mm(f.depth) + " high";
        case FeatureKind::free_form:
            return f.radius ? "radius " + mm(*f.radius)
                            : mm(f.depth) + " high, up to " + degrees(f.angle.value_or(0.0)) +
                                  " from a straight wall";
    }
    return {};
}

std::string shown(const UncuttableFeature& f, const std::vector<UncuttableFeature>& all) {
    const std::string nothing = "the silhouette shows nothing of it";
    switch (f.kind) {
        case FeatureKind::countersink:
        case FeatureKind::counterbore:
            return (is_blind(f, all)
                        ? nothing
                        : "the silhouette shows the drilled hole (" + mm(*f.hole_diameter) + ")") +
                   ", " + offered(f.side) + " the wide circle (" + mm(*f.diameter) + ")";
        case FeatureKind::pocket:
        case FeatureKind::groove:
            if (f.side != FeatureSide::top && f.side != FeatureSide::bottom) return nothing;
            return nothing + ", " + offered(f.side) + " its mouth";
        case FeatureKind::step:
        case FeatureKind::chamfer:
        case FeatureKind::rounded_edge:
            if (f.side != FeatureSide::top && f.side != FeatureSide::bottom)
                return "the silhouette shows the widest outline";
            return "the silhouette shows the outline below it where that is wider, " +
                   offered(f.side) + " the edge of the flat face";
        case FeatureKind::bevelled_wall:
            return "the silhouette shows the end with more material, --at top and "
                   "--at bottom each end";
        case FeatureKind::boss:
            return "the silhouette shows only what stands out over the sheet's edge";
        case FeatureKind::cross_hole:
        case FeatureKind::cavity:
            return nothing + ", --at through leaves it out";
        case FeatureKind::free_form:
            return "the silhouette shows its widest outline";
    }
    return {};
}

}  // namespace

void write_texts(std::vector<UncuttableFeature>& features) {
    for (UncuttableFeature& feature : features)
        feature.text = std::string(word_for(feature.kind)) + where(feature.side) + ", " +
                       sizes(feature) + "; " + shown(feature, features);
}

}  // namespace features
}  // namespace planform
