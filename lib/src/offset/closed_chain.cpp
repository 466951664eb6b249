#include "offset/closed_chain.hpp"

#include <cstddef>
#include <optional>
#include <utility>

#include "offset/corner.hpp"

namespace planform::offset_detail {
namespace {

/// Lines and arcs are led to where they cross if that is within so many times their gap.
constexpr double most_of_gap = 100.0;
/// mm: gaps up to here are left, the arrangement takes them for points.
constexpr double least_bridged = 1e-6;

/// A line too short to say where it leads; or a short one that steps back to where the next curve
/// starts, which overlaps the one before.
bool is_crumb(const Element& before, const Element& element, const Element& after) {
    const Line* line = std::get_if<Line>(&element.curve);
    if (!line) return false;
    const Vector2 way = line->end - line->start;
    if (way.norm() <= joint) return true;
    return way.norm() <= least_bridged && way.dot(end_place(before.curve).tangent) < 0.0 &&
           way.dot(start_place(after.curve).tangent) < 0.0;
}

std::vector<Element> without_crumbs(const std::vector<Element>& elements) {
    const std::size_t count = elements.size();
    std::vector<Element> kept;
    kept.reserve(count);
    for (std::size_t i = 0; i < count; ++i)
        if (!is_crumb(elements[(i + count - 1) % count], elements[i], elements[(i + 1) % count]))
            kept.push_back(elements[i]);
    return kept.empty() ? elements : kept;
}

/// Leads two lines or arcs to where they cross, if that is near.
bool meet(Curve& before, Curve& after, double gap) {
    if (before.index() > 1 || after.index() > 1 || &before == &after) return false;
    const Corner corner{start_point(after), end_place(before), start_place(after)};
    const std::optional<Meeting> met =
        meeting(corner, {0.0, true, before}, {0.0, true, after}, most_of_gap * gap);
    if (!met) return false;
    lead_end(before, true, met->point, met->way_before);
    lead_end(after, false, met->point, met->way_after);
    return true;
}

/// Moves a spline's end to the other curve.
bool give_way(Curve& before, Curve& after) {
    if (std::holds_alternative<Spline>(before))
        before = with_ends(before, start_point(before), start_point(after));
    else if (std::holds_alternative<Spline>(after))
        after = with_ends(after, end_point(before), end_point(after));
    else
        return false;
    return true;
}

}  // namespace

std::vector<Element> closed_chain(std::vector<Element> elements) {
    elements = without_crumbs(elements);
    const std::size_t count = elements.size();
    std::vector<char> is_bridged(count, 0);
    for (std::size_t i = 0; i < count; ++i) {
        Curve &before = elements[i].curve, &after = elements[(i + 1) % count].curve;
        const double gap = (end_point(before) - start_point(after)).norm();
        if (gap == 0.0 || meet(before, after, gap) || gap <= least_bridged) continue;
        is_bridged[i] = !give_way(before, after);
    }
    std::vector<Element> chain;
    chain.reserve(count);
    for (std::size_t i = 0; i < count; ++i) {
        const Point2 end = end_point(elements[i].curve),
                     start = start_point(elements[(i + 1) % count].curve);
        chain.push_back(elements[i]);
        if (is_bridged[i])
            chain.push_back({Line{end, start}, elements[i].distance, elements[i].tag});
    }
    return chain;
}

}  // namespace planform::offset_detail
