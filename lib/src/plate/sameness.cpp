#include "plate/sameness.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "planform/congruence.hpp"

namespace planform::plate {

namespace {

/// Sections follow curved walls so much closer than the tolerance of the comparison.
constexpr double section_share = 1.0 / 8.0;

bool agree(double a, double b, double within) { return std::abs(a - b) <= within; }

/// Numbers that the same body has wherever it lies. A surface moved by at most `same_within` sweeps
/// at most that times its area.
bool may_be_same(const Likeness& first, const Likeness& second, double same_within) {
    const Plate& a = *first.plate;
    const Plate& b = *second.plate;
    const double swept = same_within * std::max(first.surface, second.surface);
    return agree(a.thickness, b.thickness, same_within) && agree(a.volume, b.volume, swept) &&
           a.cut.is_straight() == b.cut.is_straight() &&
           agree(a.outline.area(), b.outline.area(),
                 same_within * std::max(a.outline.length(), b.outline.length()));
}

std::vector<double> levels_of(const StraightCut& cut, double same_within) {
    std::vector<double> levels{0.0, cut.thickness()};
    for (const UncuttableFeature& feature : cut.features) {
        levels.push_back(feature.low);
        levels.push_back(feature.high);
    }
    std::sort(levels.begin(), levels.end());
    std::vector<double> result;
    for (const double level : levels)
        if (result.empty() || level - result.back() > 2.0 * same_within) result.push_back(level);
    return result;
}

/// Sections at a quarter, the middle and three quarters between each two levels: flat steps show in
/// any of them, slanted and rounded faces in their differences.
void cut_layers(Likeness& likeness, double same_within) {
    if (!likeness.layers.empty()) return;
    likeness.levels = levels_of(likeness.plate->cut, same_within);
    SectionOptions options;
    options.tolerance = same_within * section_share;
    Box3 box;
    for (const Solid& solid : likeness.solids) box.extend(solid.bounds());
    options.tolerance = limited_tolerance(options.tolerance, box.diagonal().norm());
    const SectionStack stack(likeness.solids, likeness.plate->datum, options);
    for (std::size_t i = 0; i + 1 < likeness.levels.size(); ++i)
        for (const double share : {0.25, 0.5, 0.75})
            likeness.layers.push_back(stack.at(
                likeness.levels[i] + share * (likeness.levels[i + 1] - likeness.levels[i])));
}

bool same_levels(const std::vector<double>& a, const std::vector<double>& b, double same_within) {
    return a.size() == b.size() &&
           std::equal(a.begin(), a.end(), b.begin(),
                      [=](double x, double y) { return agree(x, y, same_within); });
}

/// Heights counted from the other side.
std::vector<double> turned(const std::vector<double>& levels, double thickness) {
    std::vector<double> result;
    for (auto level = levels.rbegin(); level != levels.rend(); ++level)
        result.push_back(thickness - *level);
    return result;
}

bool congruent(const std::vector<ProfileSet>& first, const std::vector<ProfileSet>& second,
               double same_within, Turning turning) {
    return find_congruence(first, second, {same_within, turning}).has_value();
}

Sameness compare_straight(const Plate& a, const Plate& b, double same_within) {
    const auto found = find_congruence(a.outline, b.outline, {same_within, Turning::allowed});
    if (!found) return Sameness::different;
    return found->mirrored ? Sameness::turned_over : Sameness::same;
}

Sameness compare_layers(Likeness& first, Likeness& second, double same_within) {
    cut_layers(first, same_within);
    cut_layers(second, same_within);
    const bool upright = same_levels(first.levels, second.levels, same_within);
    if (upright && congruent(first.layers, second.layers, same_within, Turning::never))
        return Sameness::same;
    const bool over =
        same_levels(turned(first.levels, first.plate->thickness), second.levels, same_within);
    const std::vector<ProfileSet> from_below(first.layers.rbegin(), first.layers.rend());
    // Seen from below everything is mirrored: the two together are a motion in space.
    if (over && congruent(from_below, second.layers, same_within, Turning::only))
        return Sameness::turned_over;
    if (upright && congruent(first.layers, second.layers, same_within, Turning::only))
        return Sameness::mirrored;
    if (over && congruent(from_below, second.layers, same_within, Turning::never))
        return Sameness::mirrored;
    return Sameness::different;
}

}  // namespace

Sameness compare(Likeness& first, Likeness& second, double same_within) {
    if (!may_be_same(first, second, same_within)) return Sameness::different;
    if (first.plate->bends.empty() != second.plate->bends.empty()) return Sameness::different;
    if (!first.plate->bends.empty()) return compare_bent(*first.plate, *second.plate, same_within);
    if (first.plate->cut.is_straight())
        return compare_straight(*first.plate, *second.plate, same_within);
    return compare_layers(first, second, same_within);
}

}  // namespace planform::plate
