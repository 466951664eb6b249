/// A contour is simple if the points inside are wound round once and all others not at all: a lobe
/// that is run the wrong way has -1, an overlap 2. Of a profile's contours the outer one winds once
/// round all that the holes wind round, and no two holes wind round the same. The arrangement finds
/// where that fails; what it can't tell apart (touching contours) is no failure.

#include "profile/validity.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <sstream>
#include <string>

#include "arrange/arrange.hpp"

namespace planform::detail {
namespace {

using arrange::Winding;
using Inside = std::function<bool(const Winding&)>;

/// Crossings count from here on: a share of the size, no more than the default tolerance. The grid
/// is a thousand times finer, the gaps that a contour may have a hundred times.
constexpr double tolerance_share = 1e-4;
/// mean width of a contour, relative to its size, below which it is a line there and back.
constexpr double least_width = 1e-9;

void add(arrange::Input& input, const Contour& contour, int operand, int tag) {
    const auto first = static_cast<int>(input.nodes.size());
    const auto count = static_cast<int>(contour.curves().size());
    for (int i = 0; i < count; ++i) {
        const Curve& curve = contour.curves()[static_cast<std::size_t>(i)];
        input.nodes.push_back(start_point(curve));
        input.curves.push_back({curve, first + i, first + (i + 1) % count, 1, operand, tag});
    }
}

std::vector<arrange::Loop> where(const arrange::Input& input, double size, const Inside& inside) {
    arrange::Options options;
    options.tolerance = std::min(default_tolerance, tolerance_share * size);
    options.inside = inside;
    try {
        return arrange::arrange(input, options);
    } catch (const arrange::ArrangementError&) {
        options.tolerance /= 16.0;
        return arrange::arrange(input, options);
    }
}

std::string place(const arrange::Loop& loop) {
    const Point2 point = start_point(loop.curves.front());
    std::ostringstream text;
    text.precision(6);
    text << "(" << point.x() << ", " << point.y() << ") mm";
    return text.str();
}

constexpr const char* advice = "; validate=False takes it as it is";

/// A whole circle or ellipse, or corners that all turn the same way and once round in all.
bool is_plainly_simple(const Contour& contour) {
    const std::vector<Curve>& curves = contour.curves();
    if (curves.size() == 1) return !std::holds_alternative<Spline>(curves.front());
    double turn = 0.0;
    for (std::size_t i = 0; i < curves.size(); ++i) {
        const Line* line = std::get_if<Line>(&curves[i]);
        const Line* next = std::get_if<Line>(&curves[(i + 1) % curves.size()]);
        if (!line || !next) return false;
        const Vector2 u = line->end - line->start, v = next->end - next->start;
        const double angle = std::atan2(cross(u, v), u.dot(v));
        if (angle == 0.0 || (i > 0 && (angle > 0.0) != (turn > 0.0))) return false;
        turn += angle;
    }
    return std::abs(turn) < 2.5 * pi;
}

}  // namespace

void require_simple(const Contour& contour) {
    const double size = contour.bounds().diagonal().norm();
    const bool is_thin = std::abs(contour.area()) <= least_width * size * contour.length();
    if (!is_thin && is_plainly_simple(contour)) return;
    arrange::Input input;
    add(input, contour, 0, 0);
    const int sense = contour.area() < 0.0 ? -1 : 1;
    const std::vector<arrange::Loop> wrong = where(input, size, [&](const Winding& winding) {
        return winding[0] * sense < 0 || winding[0] * sense > 1;
    });
    if (!wrong.empty())
        throw GeometryError(ErrorKind::contour_crosses_itself,
                            "the contour crosses itself near " + place(wrong.front()) +
                                ": close_contours makes sound contours of loose curves" + advice);
    if (is_thin)
        throw GeometryError(
            ErrorKind::contour_without_area,
            std::string("the contour encloses no area: its curves run there and back") + advice);
}

void require_holes_inside(const Contour& outer, const std::vector<Contour>& holes) {
    if (holes.empty()) return;
    Box2 box = outer.bounds();
    arrange::Input input;
    add(input, outer, 0, 0);
    for (std::size_t i = 0; i < holes.size(); ++i) {
        box.extend(holes[i].bounds());
        add(input, holes[i], 1, static_cast<int>(i) + 1);
    }
    const double size = box.diagonal().norm();
    const Inside outside = [](const Winding& w) { return w[1] < 0 && w[0] <= 0; };
    const Inside twice = [](const Winding& w) { return w[1] < -1; };
    if (where(input, size, [&](const Winding& w) { return outside(w) || twice(w); }).empty())
        return;
    for (const arrange::Loop& loop : where(input, size, outside)) {
        const int hole = *std::max_element(loop.tags.begin(), loop.tags.end());
        throw GeometryError(ErrorKind::hole_not_inside,
                            "hole " + std::to_string(hole) +
                                " of the profile reaches outside the outer contour near " +
                                place(loop) + "; subtract it from the profile instead (a - b)");
    }
    for (const arrange::Loop& loop : where(input, size, twice)) {
        const int hole = *std::max_element(loop.tags.begin(), loop.tags.end());
        throw GeometryError(ErrorKind::holes_overlap,
                            "hole " + std::to_string(hole) +
                                " of the profile overlaps another one near " + place(loop) +
                                "; unite them first (a | b)");
    }
}

}  // namespace planform::detail
