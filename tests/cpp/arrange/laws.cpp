#include "arrange/laws.hpp"

#include <algorithm>
#include <cmath>
#include <exception>
#include <sstream>

#include "arrange/scanline.hpp"
#include "arrange/shapes.hpp"

namespace planform::arrange::test {
namespace {

constexpr double closure = 1e-7;
constexpr double chord = 1e-3;

double total_length(const Input& input) {
    double sum = 0.0;
    for (const DirectedCurve& c : input.curves) sum += length(c.curve);
    return sum;
}

double area_scale(const Input& input) {
    Box2 box;
    for (const DirectedCurve& c : input.curves) box.extend(bounds(c.curve));
    return box.isEmpty() ? 0.0 : box.sizes().prod();
}

bool first(const Winding& w) { return w[0] > 0; }
bool second(const Winding& w) { return w[1] > 0; }

struct Boolean {
    const char* name;
    bool (*inside)(const Winding&);
};

}  // namespace

std::string broken_law(const Input& input, bool strict) {
    const Boolean booleans[] = {
        {"first", first}, {"second", second}, {"either", either}, {"both", both}};
    const double bound = (chord + Options{}.tolerance / 2) * total_length(input);
    double areas[4];
    std::ostringstream text;
    text.precision(17);
    for (int i = 0; i < 4; ++i) {
        Options options;
        options.inside = booleans[i].inside;
        std::vector<Loop> loops;
        try {
            loops = arrange(input, options);
        } catch (const std::exception& error) {
            return std::string(booleans[i].name) + ": " + error.what();
        }
        if (const std::string wrong = fault(loops, closure, chord); !wrong.empty())
            return std::string(booleans[i].name) + ": " + wrong;
        areas[i] = area(loops);
        const double expected = scanline_area(input, booleans[i].inside, chord);
        if (std::abs(areas[i] - expected) <= bound) continue;
        text << booleans[i].name << ": area " << areas[i] << ", scanline " << expected;
        return text.str();
    }
    const double excess = areas[0] + areas[1] - areas[2] - areas[3];
    if (std::abs(excess) > (strict ? 1e-9 * area_scale(input) : bound)) {
        text << "inclusion-exclusion is off by " << excess;
        return text.str();
    }
    return {};
}

std::string broken_symmetry(const Input& input, double angle, bool strict) {
    const double bound =
        strict ? 1e-9 * area_scale(input) : Options{}.tolerance * total_length(input);
    Options union_of_both, negative;
    union_of_both.inside = either;
    negative.inside = [](const Winding& w) { return w[0] < 0 || w[1] < 0; };
    std::ostringstream text;
    text.precision(17);
    try {
        const double expected = area(arrange(input, union_of_both));
        const auto differs = [&](const char* what, const Input& changed, const Options& options) {
            const double found = area(arrange(changed, options));
            if (std::abs(found - expected) <= bound) return false;
            text << what << ": area " << found << " instead of " << expected;
            return true;
        };
        const Transform2 turn{Eigen::Rotation2Dd(angle)};
        if (differs("turned", transformed(input, turn), union_of_both)) return text.str();
        Transform2 mirror = Transform2::Identity();
        mirror.linear() << -1, 0, 0, 1;
        if (differs("mirrored", turned_round(transformed(input, mirror)), union_of_both))
            return text.str();
        Input backwards = input;
        std::reverse(backwards.curves.begin(), backwards.curves.end());
        if (differs("in another order", backwards, union_of_both)) return text.str();
        if (differs("reversed", turned_round(input), negative)) return text.str();
        if (differs("doubled", Shapes().add(input).add(input).input(), union_of_both))
            return text.str();
    } catch (const std::exception& error) {
        return error.what();
    }
    return {};
}

}  // namespace planform::arrange::test
