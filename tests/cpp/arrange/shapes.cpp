#include "arrange/shapes.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>
#include <variant>

namespace planform::arrange::test {

Shapes& Shapes::chain(const std::vector<Curve>& curves, int operand, int weight) {
    const auto first = static_cast<int>(input_.nodes.size());
    const auto count = static_cast<int>(curves.size());
    for (int i = 0; i < count; ++i) {
        const Curve& curve = curves[static_cast<std::size_t>(i)];
        input_.nodes.push_back(start_point(curve));
        input_.curves.push_back({curve, first + i, first + (i + 1) % count, weight, operand,
                                 static_cast<int>(input_.curves.size())});
    }
    return *this;
}

Shapes& Shapes::polygon(const std::vector<Point2>& corners, int operand, int weight) {
    return chain(polygon_curves(corners), operand, weight);
}

Shapes& Shapes::rectangle(double left, double bottom, double right, double top, int operand,
                          int weight) {
    return polygon({{left, bottom}, {right, bottom}, {right, top}, {left, top}}, operand, weight);
}

Shapes& Shapes::circle(const Point2& center, double radius, int operand, int weight,
                       double start_angle) {
    return chain({full_circle(center, radius, start_angle)}, operand, weight);
}

Shapes& Shapes::ellipse(const Point2& center, const Vector2& major, double ratio, int operand,
                        int weight) {
    return chain({EllipticalArc{center, major, ratio, 0.0, 2.0 * pi}}, operand, weight);
}

Shapes& Shapes::add(const Input& other) {
    const auto shift = static_cast<int>(input_.nodes.size());
    input_.nodes.insert(input_.nodes.end(), other.nodes.begin(), other.nodes.end());
    for (DirectedCurve curve : other.curves) {
        curve.start_node += shift;
        curve.end_node += shift;
        curve.tag = static_cast<int>(input_.curves.size());
        input_.curves.push_back(std::move(curve));
    }
    return *this;
}

std::vector<Curve> polygon_curves(const std::vector<Point2>& corners) {
    std::vector<Curve> curves;
    for (std::size_t i = 0; i < corners.size(); ++i)
        curves.push_back(Line{corners[i], corners[(i + 1) % corners.size()]});
    return curves;
}

Curve full_circle(const Point2& center, double radius, double start_angle) {
    return Arc{center, radius, start_angle, 2.0 * pi};
}

Curve cubic(const Point2& a, const Point2& b, const Point2& c, const Point2& d) {
    return Spline{3, {0, 0, 0, 0, 1, 1, 1, 1}, {a, b, c, d}, {}};
}

Curve cubic_spline(const std::vector<Point2>& poles) {
    Spline spline{3, {0, 0, 0, 0}, poles, {}};
    const auto spans = static_cast<int>(poles.size()) - 3;
    for (int i = 1; i < spans; ++i) spline.knots.push_back(i);
    spline.knots.insert(spline.knots.end(), 4, spans);
    return spline;
}

Input turned_round(const Input& input) {
    Input result = input;
    for (DirectedCurve& curve : result.curves) {
        curve.curve = reversed(curve.curve);
        std::swap(curve.start_node, curve.end_node);
    }
    return result;
}

Input transformed(const Input& input, const Transform2& transform) {
    Input result = input;
    for (Point2& node : result.nodes) node = transform * node;
    for (DirectedCurve& curve : result.curves)
        curve.curve = planform::transformed(curve.curve, transform);
    return result;
}

Input with_operand(const Input& input, int operand) {
    Input result = input;
    for (DirectedCurve& curve : result.curves) curve.operand = operand;
    return result;
}

bool either(const Winding& w) { return w[0] > 0 || w[1] > 0; }
bool both(const Winding& w) { return w[0] > 0 && w[1] > 0; }
bool first_only(const Winding& w) { return w[0] > 0 && w[1] <= 0; }

double area(const Loop& loop) {
    if (loop.curves.empty()) return 0.0;
    const Point2 pivot = start_point(loop.curves.front());
    double sum = 0.0;
    for (std::size_t i = 0; i < loop.curves.size(); ++i) {
        sum += swept_area(loop.curves[i], pivot);
        const Point2 end = end_point(loop.curves[i]);
        const Point2 next = start_point(loop.curves[(i + 1) % loop.curves.size()]);
        sum += 0.5 * cross(end - pivot, next - pivot);
    }
    return sum;
}

double area(const std::vector<Loop>& loops) {
    double sum = 0.0;
    for (const Loop& loop : loops) sum += area(loop);
    return sum;
}

std::size_t count_curves(const std::vector<Loop>& loops) {
    std::size_t count = 0;
    for (const Loop& loop : loops) count += loop.curves.size();
    return count;
}

double largest_gap(const std::vector<Loop>& loops) {
    double gap = 0.0;
    for (const Loop& loop : loops)
        for (std::size_t i = 0; i < loop.curves.size(); ++i)
            gap = std::max(gap, (end_point(loop.curves[i]) -
                                 start_point(loop.curves[(i + 1) % loop.curves.size()]))
                                    .norm());
    return gap;
}

double segment_area(double radius, double half_angle) {
    return radius * radius * (half_angle - std::sin(half_angle) * std::cos(half_angle));
}

namespace {

struct LoopChord {
    Point2 start;
    Point2 end;
    std::size_t loop;
    std::size_t index;  ///< along the loop
    std::size_t count;  ///< chords of the loop
};

std::vector<LoopChord> chords_of(const std::vector<Loop>& loops, double tolerance) {
    std::vector<LoopChord> chords;
    for (std::size_t i = 0; i < loops.size(); ++i) {
        std::vector<Point2> outline;
        for (const Curve& curve : loops[i].curves) {
            const std::vector<Point2> part = points(curve, tolerance);
            outline.insert(outline.end(), part.begin(), part.end() - 1);
        }
        for (std::size_t k = 0; k < outline.size(); ++k)
            chords.push_back({outline[k], outline[(k + 1) % outline.size()], i, k, outline.size()});
    }
    return chords;
}

/// Do two chords cross by more than `slack`, seen from both?
bool cross_each_other(const LoopChord& a, const LoopChord& b, double slack) {
    const auto side = [](const LoopChord& c, const Point2& p) {
        return cross(c.end - c.start, p - c.start) / (c.end - c.start).norm();
    };
    const auto splits = [&](const LoopChord& c, const LoopChord& d) {
        const double first = side(c, d.start), second = side(c, d.end);
        return std::min(std::abs(first), std::abs(second)) > slack && first * second < 0.0;
    };
    return splits(a, b) && splits(b, a);
}

bool are_neighbours(const LoopChord& a, const LoopChord& b) {
    return a.loop == b.loop &&
           ((a.index + 1) % a.count == b.index || (b.index + 1) % b.count == a.index);
}

/// A point of the loop's polygon and whether it lies in another's, by the crossing rule.
bool contains(const std::vector<LoopChord>& chords, std::size_t loop, const Point2& point) {
    bool inside = false;
    for (const LoopChord& c : chords) {
        if (c.loop != loop || (c.start.y() > point.y()) == (c.end.y() > point.y())) continue;
        const double t = (point.y() - c.start.y()) / (c.end.y() - c.start.y());
        if (point.x() < c.start.x() + t * (c.end.x() - c.start.x())) inside = !inside;
    }
    return inside;
}

std::string crossing_fault(std::vector<LoopChord> chords, double slack) {
    const auto low = [](const LoopChord& c) { return std::min(c.start.x(), c.end.x()); };
    const auto high = [](const LoopChord& c) { return std::max(c.start.x(), c.end.x()); };
    std::sort(chords.begin(), chords.end(),
              [&](const LoopChord& a, const LoopChord& b) { return low(a) < low(b); });
    for (std::size_t a = 0; a < chords.size(); ++a) {
        for (std::size_t b = a + 1; b < chords.size() && low(chords[b]) <= high(chords[a]); ++b) {
            if (are_neighbours(chords[a], chords[b])) continue;
            if (!cross_each_other(chords[a], chords[b], slack)) continue;
            std::ostringstream text;
            text.precision(17);
            text << "crossing of loops " << chords[a].loop << " and " << chords[b].loop << " near ("
                 << chords[a].start.transpose() << ")";
            return text.str();
        }
    }
    return {};
}

std::string parent_fault(const std::vector<Loop>& loops, const std::vector<LoopChord>& chords) {
    for (std::size_t i = 0; i < loops.size(); ++i) {
        const int parent = loops[i].parent;
        std::ostringstream text;
        text << "loop " << i << ": ";
        if (loops[i].hole && parent < 0) return text.str() + "a hole without parent";
        if (parent < 0) continue;
        if (static_cast<std::size_t>(parent) >= loops.size() ||
            loops[static_cast<std::size_t>(parent)].hole)
            return text.str() + "its parent is no outer loop";
        // Loops may touch: most of the vertices decide.
        int votes = 0;
        for (const LoopChord& c : chords)
            if (c.loop == i)
                votes += contains(chords, static_cast<std::size_t>(parent), 0.5 * (c.start + c.end))
                             ? 1
                             : -1;
        if (votes < 0) return text.str() + "lies outside its parent";
    }
    return {};
}

}  // namespace

std::string fault(const std::vector<Loop>& loops, double closure, double chord) {
    std::ostringstream text;
    text.precision(17);
    for (std::size_t i = 0; i < loops.size(); ++i) {
        if (loops[i].curves.empty()) return "an empty loop";
        if (loops[i].curves.size() != loops[i].tags.size())
            return "tags and curves differ in number";
        if (loops[i].hole != (area(loops[i]) < 0.0)) {
            text << "loop " << i << ": area " << area(loops[i]) << (loops[i].hole ? " hole" : "");
            return text.str();
        }
    }
    if (largest_gap(loops) > closure) {
        text << "gap of " << largest_gap(loops);
        return text.str();
    }
    const std::vector<LoopChord> chords = chords_of(loops, chord);
    if (const std::string crossing = crossing_fault(chords, 2.0 * chord); !crossing.empty())
        return crossing;
    return parent_fault(loops, chords);
}

}  // namespace planform::arrange::test
