#include "arrange/laws.hpp"

#include <algorithm>
#include <cmath>
#include <exception>
#include <sstream>
#include <utility>

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
bool one_only(const Winding& w) { return first(w) != second(w); }

/// Do two chords of different curves come within `near` mm of each other in nearly the same
/// direction? Such curves may cross twice where chords at the tolerance don't; the difference is of
/// the size of the tolerance, not of rounding.
bool has_near_tangency(const Input& input) {
    constexpr double near = 0.02, most_sine = 0.2;
    struct Chord {
        Point2 start, end;
        std::size_t curve, place;
    };
    std::vector<Chord> chords;
    for (std::size_t c = 0; c < input.curves.size(); ++c) {
        const std::vector<Point2> outline = points(input.curves[c].curve, chord);
        for (std::size_t i = 0; i + 1 < outline.size(); ++i) {
            chords.push_back({outline[i], outline[i + 1], c, i});
            const Vector2 before = i > 0 ? outline[i] - outline[i - 1] : outline[1] - outline[0];
            const Vector2 after = outline[i + 1] - outline[i];
            if (after.dot(before) < 0.5 * before.norm() * after.norm()) return true;
        }
    }
    const auto distance = [](const Point2& p, const Chord& c) {
        const Vector2 along = c.end - c.start;
        const double t = std::clamp((p - c.start).dot(along) / along.squaredNorm(), 0.0, 1.0);
        return (c.start + t * along - p).norm();
    };
    for (const Chord& a : chords)
        for (const Chord& b : chords) {
            if (a.curve == b.curve &&
                (a.place > b.place ? a.place - b.place : b.place - a.place) < 3)
                continue;
            const Vector2 u = (a.end - a.start).normalized(), v = (b.end - b.start).normalized();
            if (std::abs(cross(u, v)) < most_sine &&
                std::min(distance(a.start, b), distance(a.end, b)) < near)
                return true;
        }
    return false;
}

struct Boolean {
    const char* name;
    bool (*inside)(const Winding&);
};

}  // namespace

std::string broken_law(const Input& input, bool strict) {
    const Boolean booleans[] = {{"first", first},           {"second", second},
                                {"either", either},         {"both", both},
                                {"first only", first_only}, {"one only", one_only}};
    const double bound = (chord + Options{}.tolerance / 2) * total_length(input);
    double areas[6];
    std::ostringstream text;
    text.precision(17);
    for (int i = 0; i < 6; ++i) {
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
    const std::pair<const char*, double> excesses[] = {
        {"inclusion-exclusion", areas[0] + areas[1] - areas[2] - areas[3]},
        {"difference", areas[0] - areas[3] - areas[4]},
        {"symmetric difference", areas[2] - areas[3] - areas[5]}};
    for (const auto& [law, excess] : excesses) {
        if (std::abs(excess) <= 1e-9 * area_scale(input)) continue;
        if (std::abs(excess) <= bound && (!strict || has_near_tangency(input))) continue;
        text << law << " is off by " << excess;
        return text.str();
    }
    return {};
}

std::string broken_symmetry(const Input& input, double angle, bool strict) {
    const double bound = Options{}.tolerance * total_length(input);
    const double strict_bound = 1e-9 * area_scale(input);
    Options union_of_both, negative;
    union_of_both.inside = either;
    negative.inside = [](const Winding& w) { return w[0] < 0 || w[1] < 0; };
    std::ostringstream text;
    text.precision(17);
    try {
        const double expected = area(arrange(input, union_of_both));
        const auto differs = [&](const char* what, const Input& changed, const Options& options) {
            const double found = area(arrange(changed, options));
            const double difference = std::abs(found - expected);
            if (difference <= bound &&
                (!strict || difference <= strict_bound || has_near_tangency(input)))
                return false;
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
