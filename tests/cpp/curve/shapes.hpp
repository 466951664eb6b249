#pragma once

/// Curves that the tests share, and distances measured without the library's own searches.

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "planform/curve.hpp"

namespace shapes {

using namespace planform;

/// L. Piegl, W. Tiller, "The NURBS Book", 2nd ed., section 1.4 (from memory): a quarter of the unit
/// circle with poles (1,0), (1,1), (0,1) and weights 1, cos 45 degrees, 1.
inline Spline quarter_circle() {
    return {2, {0, 0, 0, 1, 1, 1}, {{1, 0}, {1, 1}, {0, 1}}, {1.0, std::sqrt(0.5), 1.0}};
}

/// The whole unit circle in four such quarters, counter-clockwise (The NURBS Book, section 7.5, the
/// nine-point circle; from memory).
inline Spline nine_point_circle() {
    const double w = std::sqrt(0.5);
    return {2,
            {0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4},
            {{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}, {1, 0}},
            {1, w, 1, w, 1, w, 1, w, 1}};
}

/// A cubic with inflections, a double knot and uneven spans.
inline Spline wave() {
    return {3,
            {0, 0, 0, 0, 1, 2, 2, 4, 5, 5, 5, 5},
            {{0, 0}, {1, 3}, {2, -1}, {4, 4}, {5, 0}, {7, 2}, {6, -3}, {9, 1}},
            {}};
}

inline Spline rational_wave() {
    Spline spline = wave();
    spline.weights = {1.0, 0.5, 2.0, 1.0, 3.0, 0.7, 1.2, 1.0};
    return spline;
}

/// Two cubics that meet in a corner at t = 1.
inline Spline kinked() {
    return {3,
            {0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 2},
            {{0, 0}, {1, 2}, {2, 2}, {3, 0}, {4, 2}, {5, -2}, {6, 0}},
            {}};
}

/// A cubic with a cusp at t = 1/2: the hodograph is zero there by symmetry.
inline Spline cusped() {
    return {3, {0, 0, 0, 0, 1, 1, 1, 1}, {{0, 0}, {10, 10}, {0, 10}, {10, 0}}, {}};
}

/// A closed quintic, smooth inside, with a corner at its seam.
inline Spline closed_quintic() {
    return {5,
            {0, 0, 0, 0, 0, 0, 2, 3, 7, 7, 7, 7, 7, 7},
            {{0, 0}, {6, -2}, {14, 3}, {10, 12}, {2, 9}, {-7, 8}, {-4, -1}, {0, 0}},
            {}};
}

inline std::vector<std::pair<std::string, Curve>> all() {
    return {
        {"line", Line{{1, 2}, {7, -3}}},
        {"arc", Arc{{3, 1}, 4.0, 0.7, 2.5}},
        {"clockwise arc", Arc{{-3, 2}, 11.0, -2.0, -5.5}},
        {"circle", Arc{{100, 50}, 6.0, 1.0, 2.0 * pi}},
        {"elliptical arc", EllipticalArc{{1, -2}, {5, 2}, 0.4, -1.0, 3.0}},
        {"clockwise thin elliptical arc", EllipticalArc{{0, 0}, {20, 5}, 0.01, 0.3, -4.0}},
        {"ellipse", EllipticalArc{{5, 5}, {-3, 6}, 0.6, 2.0, 2.0 * pi}},
        {"quarter circle", quarter_circle()},
        {"nine-point circle", nine_point_circle()},
        {"wave", wave()},
        {"rational wave", rational_wave()},
        {"kinked", kinked()},
        {"cusped", cusped()},
        {"closed quintic", closed_quintic()},
    };
}

inline double parameter(const Curve& curve, double fraction) {
    const Interval range = domain(curve);
    return range.first + fraction * (range.last - range.first);
}

/// count + 1 points, evenly in the parameter.
inline std::vector<Point2> sampled(const Curve& curve, int count) {
    std::vector<Point2> result;
    for (int i = 0; i <= count; ++i)
        result.push_back(point_at(curve, parameter(curve, static_cast<double>(i) / count)));
    return result;
}

inline std::vector<Point2> sampled(const std::vector<Curve>& chain, int count) {
    std::vector<Point2> result;
    for (const Curve& curve : chain)
        for (const Point2& point : sampled(curve, count)) result.push_back(point);
    return result;
}

inline double squared_distance_to_segment(const Point2& point, const Point2& start,
                                          const Point2& end) {
    const Vector2 chord = end - start;
    const Vector2 offset = point - start;
    const double squared = chord.squaredNorm();
    const double along = squared > 0.0 ? std::clamp(offset.dot(chord) / squared, 0.0, 1.0) : 0.0;
    return (offset - along * chord).squaredNorm();
}

/// Largest distance of the points from the polyline. Runs of legs whose box is further away than
/// the nearest leg so far are passed over, which changes the time and not the result.
inline double one_sided_distance(const std::vector<Point2>& points,
                                 const std::vector<Point2>& polyline) {
    constexpr std::size_t run = 32;
    std::vector<Box2> boxes;
    for (std::size_t first = 0; first + 1 < polyline.size(); first += run) {
        Box2 box;
        for (std::size_t i = first; i <= std::min(first + run, polyline.size() - 1); ++i)
            box.extend(polyline[i]);
        boxes.push_back(box);
    }
    double worst = 0.0;
    for (const Point2& point : points) {
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t block = 0; block < boxes.size(); ++block) {
            if (boxes[block].squaredExteriorDistance(point) >= least) continue;
            const std::size_t last = std::min((block + 1) * run, polyline.size() - 1);
            for (std::size_t i = block * run; i < last; ++i)
                least = std::min(least,
                                 squared_distance_to_segment(point, polyline[i], polyline[i + 1]));
        }
        worst = std::max(worst, least);
    }
    return std::sqrt(worst);
}

/// Extra points on the legs of a polyline.
inline std::vector<Point2> refined(const std::vector<Point2>& polyline, int parts) {
    std::vector<Point2> result;
    for (std::size_t i = 0; i + 1 < polyline.size(); ++i)
        for (int part = 0; part < parts; ++part)
            result.push_back(polyline[i] +
                             (polyline[i + 1] - polyline[i]) * (static_cast<double>(part) / parts));
    result.push_back(polyline.back());
    return result;
}

/// Random map x -> A x + b with 0.2 < |det A| and entries up to 2.
inline Transform2 random_map(std::mt19937& generator) {
    std::uniform_real_distribution<double> entry(-2.0, 2.0);
    Transform2 map = Transform2::Identity();
    do {
        for (int i = 0; i < 4; ++i) map.linear()(i / 2, i % 2) = entry(generator);
    } while (std::abs(map.linear().determinant()) < 0.2);
    map.translation() = Vector2(10.0 * entry(generator), 10.0 * entry(generator));
    return map;
}

}  // namespace shapes
