#include "offset/raw_loop.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <tuple>
#include <utility>

#include "offset/cut_corner.hpp"
#include "offset/parallel.hpp"
#include "planform/profile.hpp"

namespace planform::offset_detail {
namespace {

/// Of a curve's length no more than this share is cut off at one end, so that something is left.
constexpr double most_cut = 0.499;

Corner corner_between(const Curve& before, const Curve& after) {
    const Place start = start_place(after);
    return {start.point, end_place(before), start};
}

/// The parallel of an element; the curve itself for the distance 0.
Parallel way_of(const Element& element, double bound) {
    if (element.distance == 0.0) return {{element.curve}, true, true};
    return parallel(element.curve, element.distance, bound);
}

ParallelEnd end_of(const Element& element, const Parallel& way) {
    return {element.distance, way.ends_apart, way.curves.back()};
}

ParallelEnd start_of(const Element& element, const Parallel& way) {
    return {element.distance, way.starts_apart, way.curves.front()};
}

/// Collects curves under the tag of the element at hand.
class Path {
  public:
    void tag(int tag) { tag_ = tag; }
    void add(Curve curve) {
        loop.curves.push_back(std::move(curve));
        loop.tags.push_back(tag_);
    }
    void add(std::vector<Curve> curves) {
        for (Curve& curve : curves) add(std::move(curve));
    }
    void line(const Point2& from, const Point2& to) {
        if ((to - from).norm() > joint) add(Line{from, to});
    }
    void add_reversed(const RawLoop& other) {
        for (std::size_t i = other.curves.size(); i-- > 0;) {
            loop.curves.push_back(reversed(other.curves[i]));
            loop.tags.push_back(other.tags[i]);
        }
    }

    RawLoop loop;

  private:
    int tag_ = 0;
};

/// Are parallels of one distance cut off where they cross, and the piece of the loop beyond left
/// out? Lines and arcs only: their crossing has a closed form. What is left out has the winding
/// number 1 and lies in both bands.
bool may_be_cut(const Curve& before, const Curve& after) {
    return before.index() < 2 && after.index() < 2;
}

/// Sharp corners between lines need no curves of their own.
bool may_be_led_on(const Curve& before, const Curve& after, const CornerStyle& style) {
    return style.corners == Corners::sharp && before.index() == 0 && after.index() == 0;
}

/// Moves an end of a parallel curve along its own line or circle; others go on straight.
void lead(std::vector<Curve>& curves, bool at_end, const Point2& to, double way) {
    Curve& curve = at_end ? curves.back() : curves.front();
    if (lead_end(curve, at_end, to, way) || way == 0.0) return;
    if (at_end)
        curves.push_back(Line{end_point(curve), to});
    else
        curves.insert(curves.begin(), Line{to, start_point(curve)});
}

/// Where the parallels of two lines at one distance meet. Unlike an intersection, this is exact for
/// lines that are all but one, too.
std::optional<Meeting> tip_of(const Corner& corner, double distance, const Curve& before,
                              const Curve& after, double reach) {
    const Vector2 n = corner.before.normal(), m = corner.after.normal();
    const double sum = 1.0 + n.dot(m);
    if (!(sum > 1e-12)) return std::nullopt;
    const Vector2 out = distance / sum * (n + m);
    const double way_before = out.dot(corner.before.tangent);
    const double way_after = out.dot(corner.after.tangent);
    if (out.norm() > reach || -way_before > most_cut * length(before) ||
        way_after > most_cut * length(after))
        return std::nullopt;
    return Meeting{corner.point + out, way_before, way_after, {}, {}};
}

/// A corner at which two parallels meet in a point: their ends are there afterwards.
bool meets(const Corner& corner, const Element& before, Parallel& way_before, const Element& after,
           Parallel& way_after, const LoopStyle& loop_style) {
    const CornerStyle& style = loop_style.corners;
    if (!way_before.ends_apart || !way_after.starts_apart) return false;
    const double e = before.distance, f = after.distance;
    const Point2 from = corner.point + e * corner.before.normal();
    const Point2 to = corner.point + f * corner.after.normal();
    if ((from - to).norm() <= joint) return true;
    double reach = style.limit * std::max(std::abs(e), std::abs(f));
    const bool parts = e == f && bands_part(corner, e, joint);
    if (parts && !may_be_led_on(before.curve, after.curve, style)) return false;
    if (e == f && !parts && !loop_style.cuts_corners) return false;
    if (e == f && !parts) {
        Curve &end = way_before.curves.back(), &start = way_after.curves.front();
        if (!may_be_cut(end, start)) {
            if (&end == &start) return false;
            std::optional<std::pair<Curve, Curve>> cut = cut_at_crossing(corner, e, end, start);
            if (!cut) return false;
            std::tie(end, start) = std::move(*cut);
            return true;
        }
        reach = std::numeric_limits<double>::infinity();
    }
    const bool lines = before.curve.index() == 0 && after.curve.index() == 0;
    const std::optional<Meeting> met =
        e == f && lines
            ? tip_of(corner, e, way_before.curves.front(), way_after.curves.back(), reach)
            : meeting(corner, end_of(before, way_before), start_of(after, way_after), reach);
    if (!met) return false;
    const bool cuts = met->way_before <= 0.0 && met->way_after >= 0.0;
    if (e == f && !parts && !cuts) return false;
    lead(way_before.curves, true, met->point, met->way_before);
    lead(way_after.curves, false, met->point, met->way_after);
    return true;
}

/// The way at a corner from the parallel of the element before to that of the one after, where
/// they don't meet. It goes out and back from each curve's own end, which may miss the other's by a
/// trace: what it goes along twice is then the same line.
void pass_corner(Path& path, const Corner& corner, const Element& before,
                 const Parallel& way_before, const Element& after, const Parallel& way_after,
                 const CornerStyle& style) {
    const double e = before.distance, f = after.distance;
    const Point2 &end = corner.before.point, &start = corner.after.point;
    const Point2 from = end + e * corner.before.normal();
    const Point2 to = start + f * corner.after.normal();
    if (e == f && bands_part(corner, e, joint)) {
        if (!way_before.ends_apart) path.line(end, from);
        path.add(join(corner, e, style));
        if (!way_after.starts_apart) path.line(to, start);
        return;
    }
    if (way_before.ends_apart) path.line(from, end);
    if (way_after.starts_apart) path.line(start, to);
}

/// The way at a corner between bands that reach differently far, along the normals, round a join
/// that reaches by `reach` where the bands part.
void pass_step(Path& path, const Corner& corner, const Element& before, const Parallel& way_before,
               const Element& after, const Parallel& way_after, double reach,
               const CornerStyle& style) {
    const Vector2 n = corner.before.normal(), m = corner.after.normal();
    const Point2 &end = corner.before.point, &start = corner.after.point;
    const double e = before.distance, f = after.distance;
    const Point2 from = way_before.ends_apart ? Point2(end + e * n) : end;
    const Point2 to = way_after.starts_apart ? Point2(start + f * m) : start;
    const double furthest = std::max({std::abs(e), std::abs(f), std::abs(reach)});
    if ((n - m).norm() * furthest <= joint) {
        path.line(from, to);
    } else if (bands_part(corner, reach, joint)) {
        path.line(from, end + reach * n);
        path.add(join(corner, reach, style));
        path.line(start + reach * m, to);
    } else {
        path.line(from, end);
        path.line(start, to);
    }
}

/// Adds the parallels of elements and what joins them; of a closed chain also what joins the last
/// to the first.
void add_ways(Path& path, const std::vector<Element>& chain, std::vector<Parallel>& ways,
              bool closed, const LoopStyle& style) {
    const std::size_t count = chain.size();
    const std::size_t corners = closed ? count : count - 1;
    std::vector<char> met(corners, 0);
    std::vector<Corner> all;
    all.reserve(corners);
    for (std::size_t i = 0; i < corners; ++i) {
        const std::size_t next = (i + 1) % count;
        all.push_back(corner_between(chain[i].curve, chain[next].curve));
        met[i] = meets(all[i], chain[i], ways[i], chain[next], ways[next], style);
    }
    for (std::size_t i = 0; i < count; ++i) {
        path.tag(chain[i].tag);
        path.add(ways[i].curves);
        if (i < corners && !met[i])
            pass_corner(path, all[i], chain[i], ways[i], chain[(i + 1) % count],
                        ways[(i + 1) % count], style.corners);
    }
}

std::vector<Parallel> ways_of(const std::vector<Element>& chain, double bound) {
    std::vector<Parallel> ways;
    ways.reserve(chain.size());
    for (const Element& element : chain) ways.push_back(way_of(element, bound));
    return ways;
}

/// The band to the left of a run of elements that all take, as one loop.
class TakenRun {
  public:
    /// `first` and `count`: the run in the closed chain, with a neighbour that doesn't take on
    /// both sides.
    TakenRun(const std::vector<Element>& chain, std::size_t first, std::size_t count,
             const LoopStyle& style)
        : style_(style),
          before_(chain[(first + chain.size() - 1) % chain.size()]),
          after_(chain[(first + count) % chain.size()]) {
        for (std::size_t i = 0; i < count; ++i) run_.push_back(chain[(first + i) % chain.size()]);
        ways_ = ways_of(run_, style.bound);
    }

    RawLoop run() {
        Path loop, far_side;
        add_start(loop, far_side);
        for (const Element& element : run_) {
            loop.tag(element.tag);
            loop.add(element.curve);
        }
        add_ways(far_side, run_, ways_, false, style_);
        add_end(loop, far_side);
        loop.add_reversed(far_side.loop);
        return std::move(loop.loop);
    }

  private:
    double reach(const Element& neighbour, const Element& own) const {
        return style_.corners.limit *
               std::max(std::abs(neighbour.distance), std::abs(own.distance));
    }

    /// From where the neighbour's parallel meets the run's first curve to the corner; and, on the
    /// far side, from there to where it meets the first parallel, to its start.
    void add_start(Path& loop, Path& far_side) {
        const Element& own = run_.front();
        const Parallel& way = ways_.front();
        const Corner corner = corner_between(before_.curve, own.curve);
        const Point2 start = corner.point + own.distance * corner.after.normal();
        loop.tag(own.tag);
        far_side.tag(own.tag);
        const Parallel neighbour = way_of(before_, style_.bound);
        const std::optional<Meeting> far =
            meeting(corner, end_of(before_, neighbour), start_of(own, way), reach(before_, own));
        const ParallelEnd itself{0.0, true, own.curve};
        const std::optional<Meeting> near =
            meeting(corner, end_of(before_, neighbour), itself, reach(before_, own));
        if (far && near) {
            loop.add(near->from_point);
            far_side.line(near->point, far->point);
            far_side.add(far->from_point);
        } else if (way.starts_apart) {
            far_side.line(corner.point, start);
        }
    }

    void add_end(Path& loop, Path& far_side) {
        const Element& own = run_.back();
        const Parallel& way = ways_.back();
        const Corner corner = corner_between(own.curve, after_.curve);
        const Point2 end = corner.point + own.distance * corner.before.normal();
        loop.tag(own.tag);
        far_side.tag(own.tag);
        const Parallel neighbour = way_of(after_, style_.bound);
        const std::optional<Meeting> far =
            meeting(corner, end_of(own, way), start_of(after_, neighbour), reach(after_, own));
        const ParallelEnd itself{0.0, true, own.curve};
        const std::optional<Meeting> near =
            meeting(corner, itself, start_of(after_, neighbour), reach(after_, own));
        if (far && near) {
            loop.add(near->to_point);
            far_side.add(far->to_point);
            far_side.line(far->point, near->point);
        } else if (way.ends_apart) {
            far_side.line(end, corner.point);
        }
    }

    LoopStyle style_;
    const Element& before_;
    const Element& after_;
    std::vector<Element> run_;
    std::vector<Parallel> ways_;
};

}  // namespace

RawLoop raw_loop(const BandedChain& chain, const LoopStyle& style) {
    const std::vector<Element>& parts = chain.parts;
    const std::size_t count = parts.size();
    std::vector<Parallel> ways = ways_of(parts, style.bound);
    std::vector<Corner> corners;
    std::vector<char> met;
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t next = (i + 1) % count;
        corners.push_back(corner_between(parts[i].curve, parts[next].curve));
        const bool is_level =
            parts[i].distance == parts[next].distance && parts[i].distance == chain.corners[i];
        met.push_back(is_level &&
                      meets(corners[i], parts[i], ways[i], parts[next], ways[next], style));
    }
    Path path;
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t next = (i + 1) % count;
        path.tag(parts[i].tag);
        path.add(ways[i].curves);
        if (!met[i])
            pass_step(path, corners[i], parts[i], ways[i], parts[next], ways[next],
                      chain.corners[i], style.corners);
    }
    return std::move(path.loop);
}

RawLoop raw_loop(const std::vector<Element>& chain, const LoopStyle& style) {
    std::vector<Parallel> ways = ways_of(chain, style.bound);
    // A circle that closes is a way to its centre and back.
    if (chain.size() == 1 && !ways.front().starts_apart &&
        std::holds_alternative<Arc>(chain.front().curve))
        return {};
    Path path;
    add_ways(path, chain, ways, true, style);
    return std::move(path.loop);
}

std::vector<RawLoop> taken_loops(const std::vector<Element>& chain, const LoopStyle& style) {
    const auto takes = [&](std::size_t i) { return chain[i % chain.size()].distance < 0.0; };
    std::size_t start = 0;
    while (start < chain.size() && takes(start)) ++start;
    std::vector<RawLoop> loops;
    if (start == chain.size()) {
        RawLoop itself;
        for (const Element& element : chain) {
            itself.curves.push_back(element.curve);
            itself.tags.push_back(element.tag);
        }
        Path far_side;
        far_side.add_reversed(raw_loop(chain, style));
        loops.push_back(std::move(itself));
        loops.push_back(std::move(far_side.loop));
        return loops;
    }
    for (std::size_t i = start; i < start + chain.size();) {
        std::size_t count = 0;
        while (takes(i + count)) ++count;
        if (count > 0) loops.push_back(TakenRun(chain, i % chain.size(), count, style).run());
        i += count + 1;
    }
    return loops;
}

void close_gaps(RawLoop& loop) {
    if (loop.curves.empty()) return;
    std::optional<double> known_widest;
    // Gaps that are rounding for a contour as small as one of its curves are so for all of it.
    const auto widest = [&] {
        if (!known_widest) {
            Box2 box;
            for (const Curve& curve : loop.curves) box.extend(bounds(curve));
            known_widest = 0.5 * Contour::closure * box.diagonal().norm();
        }
        return *known_widest;
    };
    Point2 first_start = start_point(loop.curves.front());
    const auto gives_way = [](const Curve& curve) {
        return curve.index() == 0 || curve.index() == 3;
    };
    for (std::size_t i = 0; i < loop.curves.size(); ++i) {
        const std::size_t next = (i + 1) % loop.curves.size();
        const Point2 end = end_point(loop.curves[i]), start = start_point(loop.curves[next]);
        const double gap = (end - start).norm();
        if (gap <= Contour::closure * 1e-3 * (start - first_start).norm() || gap <= widest())
            continue;
        // A line that is led aside at one end is off all along, a spline only beside it.
        const bool spline_next = loop.curves[i].index() == 0 && loop.curves[next].index() == 3;
        if (gives_way(loop.curves[i]) && !spline_next) {
            loop.curves[i] = with_ends(loop.curves[i], start_point(loop.curves[i]), start);
        } else if (gives_way(loop.curves[next])) {
            loop.curves[next] = with_ends(loop.curves[next], end, end_point(loop.curves[next]));
        } else {
            const auto place = static_cast<std::ptrdiff_t>(i + 1);
            loop.curves.insert(loop.curves.begin() + place, Line{end, start});
            loop.tags.insert(loop.tags.begin() + place, loop.tags[i]);
            ++i;
        }
    }
}

void add_loop(arrange::Input& input, const RawLoop& loop, int weight, int operand) {
    const auto first = static_cast<int>(input.nodes.size());
    const auto count = static_cast<int>(loop.curves.size());
    for (int i = 0; i < count; ++i) {
        const auto index = static_cast<std::size_t>(i);
        input.nodes.push_back(start_point(loop.curves[index]));
        input.curves.push_back({loop.curves[index], first + i, first + (i + 1) % count, weight,
                                operand, loop.tags[index]});
    }
}

}  // namespace planform::offset_detail
