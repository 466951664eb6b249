#include "offset/closed_chain.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

namespace planform::offset_detail {
namespace {

/// Lines go on by no more than so many times their gap.
constexpr double most_of_gap = 4.0;

std::optional<Point2> crossing_beside_gap(const Line& before, const Line& after) {
    const Vector2 u = before.end - before.start, v = after.end - after.start;
    const Vector2 gap = after.start - before.end;
    const double turn = cross(u, v);
    if (turn == 0.0) return std::nullopt;
    const Vector2 on = cross(gap, v) / turn * u;
    const Point2 place = before.end + on;
    const double far = std::max(on.norm(), (place - after.start).norm());
    if (!(far <= most_of_gap * gap.norm())) return std::nullopt;
    return place;
}

bool is_crumb(const Element& element) {
    const Line* line = std::get_if<Line>(&element.curve);
    return line && (line->end - line->start).norm() <= joint;
}

}  // namespace

std::vector<Element> closed_chain(std::vector<Element> elements) {
    if (!std::all_of(elements.begin(), elements.end(), is_crumb)) std::erase_if(elements, is_crumb);
    std::vector<Element> chain;
    chain.reserve(elements.size());
    const std::size_t count = elements.size();
    for (std::size_t i = 0; i < count; ++i) {
        Element& next = elements[(i + 1) % count];
        Curve& before = elements[i].curve;
        const Point2 end = end_point(before), start = start_point(next.curve);
        Line* line_before = std::get_if<Line>(&before);
        Line* line_after = std::get_if<Line>(&next.curve);
        std::optional<Point2> crossing;
        if (end != start && line_before && line_after && line_before != line_after)
            crossing = crossing_beside_gap(*line_before, *line_after);
        if (crossing) {
            line_before->end = line_after->start = *crossing;
            // The first line stands in the chain already.
            if (i + 1 == count) std::get<Line>(chain.front().curve).start = *crossing;
        }
        chain.push_back(elements[i]);
        if (!crossing && (end - start).norm() > joint)
            chain.push_back({Line{end, start}, elements[i].distance, elements[i].tag});
    }
    return chain;
}

}  // namespace planform::offset_detail
