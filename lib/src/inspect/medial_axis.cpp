/// A point of the medial axis has the same distance r from two sites (chords or their ends). With
/// unit vectors a, b from it to its two feet, r changes along the axis by -(a + b) / 2 (its
/// gradient): it does not change where the feet lie opposite each other. On the chords' own diagram
/// r falls and rises smoothly where walls bulge towards each other and has a kink, never a minimum,
/// where they don't, so a minimum lies on an edge whose ends both see r rise, or stay, outwards.

#include "inspect/medial_axis.hpp"

#include <algorithm>
#include <array>
#include <boost/polygon/voronoi.hpp>
#include <cmath>
#include <cstdint>
#include <optional>
#include <tuple>

#include "arrange/sweep/snap_rounding.hpp"
#include "curve/angles.hpp"
#include "grid/grid.hpp"

namespace planform::inspection {
namespace {

struct IntegerPoint {
    std::int32_t x, y;
};
struct IntegerSegment {
    IntegerPoint low, high;
};

}  // namespace
}  // namespace planform::inspection

namespace boost::polygon {

template <>
struct geometry_concept<planform::inspection::IntegerPoint> {
    using type = point_concept;
};
template <>
struct point_traits<planform::inspection::IntegerPoint> {
    using coordinate_type = std::int32_t;
    static coordinate_type get(const planform::inspection::IntegerPoint& point,
                               orientation_2d axis) {
        return axis == HORIZONTAL ? point.x : point.y;
    }
};
template <>
struct geometry_concept<planform::inspection::IntegerSegment> {
    using type = segment_concept;
};
template <>
struct segment_traits<planform::inspection::IntegerSegment> {
    using coordinate_type = std::int32_t;
    using point_type = planform::inspection::IntegerPoint;
    static point_type get(const planform::inspection::IntegerSegment& segment, direction_1d end) {
        return end == LOW ? segment.low : segment.high;
    }
};

}  // namespace boost::polygon

namespace planform::inspection {
namespace {

using Diagram = boost::polygon::voronoi_diagram<double>;

/// How far r may rise towards a place along the axis that is taken for a minimum (it is checked on
/// the exact curves): rounding of parallel walls on the grid.
constexpr double level = 1e-3;
/// Angle beyond which three feet don't hold the centre between them even nearly, over pi: walls of
/// a notch that open by up to 30 degrees.
constexpr double widest_notch = pi / 6.0;

/// A chord, or a part of one, between two vertices of the snapped graph.
struct GraphChord {
    std::int32_t from, to;  ///< vertices
    int stretch;            ///< number in `pieces`, -1: the frame around all
};

/// A foot seen from a place of the axis.
struct Direction {
    double angle;
    Foot foot;
};

/// One side of an edge of the diagram: a chord or one of its ends.
struct Site {
    std::int32_t chord;
    std::int32_t vertex;  ///< -1: the chord itself
};

class AxisFinder {
  public:
    AxisFinder(const CurveIndex& index, double reach) : index_(index), reach_(reach) {}

    MedialAxis run(const NearCurves& near, double cell) {
        collect(near);
        if (pieces_.empty()) return {};
        snap(cell);
        std::vector<IntegerSegment> segments;
        segments.reserve(chords_.size());
        const auto integer = [&](std::int32_t vertex) {
            const grid::GridPoint& point = graph_.vertices[static_cast<std::size_t>(vertex)];
            return IntegerPoint{static_cast<std::int32_t>(point.x),
                                static_cast<std::int32_t>(point.y)};
        };
        for (const GraphChord& chord : chords_)
            segments.push_back({integer(chord.from), integer(chord.to)});
        Diagram diagram;
        boost::polygon::construct_voronoi(segments.begin(), segments.end(), &diagram);
        for (const Diagram::edge_type& edge : diagram.edges())
            if (&edge < edge.twin() && edge.is_primary() && edge.is_finite())
                look_at(edge, diagram);
        for (const Diagram::vertex_type& vertex : diagram.vertices()) look_at(vertex);
        return std::move(axis_);
    }

  private:
    /// The chords of all near curves; those of rounds are made here.
    void collect(const NearCurves& near) {
        stray_ = index_.chord_error();
        for (const Stretch& stretch : index_.stretches())
            if (stretch.round < 0 && near.is_near[static_cast<std::size_t>(stretch.curve)])
                pieces_.push_back(stretch);
        for (std::size_t i = 0; i < index_.rounds().size(); ++i) {
            const double tolerance = near.round_tolerance[i];
            if (tolerance <= 0.0) continue;
            stray_ = std::max(stray_, tolerance);
            const Round& round = index_.rounds()[i];
            for (int k = 0; k < round.curve_count; ++k)
                collect_arc(round.first_curve + k, tolerance, static_cast<int>(i));
        }
    }

    void collect_arc(int number, double tolerance, int round) {
        const Curve& curve = *index_.curves()[static_cast<std::size_t>(number)].curve;
        const std::vector<double> parameters = chord_parameters(curve, tolerance);
        for (std::size_t i = 1; i < parameters.size(); ++i)
            pieces_.push_back({number, parameters[i - 1], parameters[i],
                               point_at(curve, parameters[i - 1]), point_at(curve, parameters[i]),
                               round});
    }

    void snap(double cell) {
        Box2 box;
        for (const Stretch& piece : pieces_) {
            box.extend(piece.start);
            box.extend(piece.end);
        }
        // A frame far outside bounds all cells, so that no edge of interest runs to infinity.
        const Vector2 margin = Vector2::Constant(reach_ + box.sizes().maxCoeff());
        const Box2 frame(box.min() - margin, box.max() + margin);
        grid_.emplace(frame, cell);
        std::vector<arrange::GridSegment> segments;
        std::vector<int> tags;
        const auto append = [&](const Point2& start, const Point2& end, int tag) {
            const arrange::GridSegment segment{grid_->snap(start), grid_->snap(end)};
            if (segment.start == segment.end) return;
            segments.push_back(segment);
            tags.push_back(tag);
        };
        for (std::size_t i = 0; i < pieces_.size(); ++i)
            append(pieces_[i].start, pieces_[i].end, static_cast<int>(i));
        using Box = Box2;
        const std::array<Point2, 4> corners{
            frame.corner(Box::BottomLeft), frame.corner(Box::BottomRight),
            frame.corner(Box::TopRight), frame.corner(Box::TopLeft)};
        for (std::size_t i = 0; i < 4; ++i) append(corners[i], corners[(i + 1) % 4], -1);
        graph_ = arrange::snap_round(segments);
        for (const arrange::GraphEdge& edge : graph_.edges)
            chords_.push_back({edge.from, edge.to, tags[static_cast<std::size_t>(edge.segment)]});
        drop_shared_chords();
        touch_at_vertices();
    }

    /// Chords that two stretches share are one site; the two stretches face each other there.
    void drop_shared_chords() {
        const auto key = [](const GraphChord& chord) {
            return std::tuple(std::min(chord.from, chord.to), std::max(chord.from, chord.to),
                              chord.stretch);
        };
        std::sort(chords_.begin(), chords_.end(),
                  [&](const GraphChord& a, const GraphChord& b) { return key(a) < key(b); });
        std::vector<GraphChord> kept;
        for (const GraphChord& chord : chords_) {
            if (!kept.empty() && std::get<0>(key(kept.back())) == std::get<0>(key(chord)) &&
                std::get<1>(key(kept.back())) == std::get<1>(key(chord))) {
                add_touch(kept.back().stretch, chord.stretch, chord.from);
                continue;
            }
            kept.push_back(chord);
        }
        chords_ = std::move(kept);
    }

    /// Where chains of chords meet in a vertex, their curves touch or cross.
    void touch_at_vertices() {
        std::vector<std::pair<std::int32_t, int>> ends;
        for (const GraphChord& chord : chords_) {
            ends.emplace_back(chord.from, chord.stretch);
            ends.emplace_back(chord.to, chord.stretch);
        }
        std::sort(ends.begin(), ends.end());
        for (std::size_t first = 0; first < ends.size();) {
            std::size_t last = first;
            while (last < ends.size() && ends[last].first == ends[first].first) ++last;
            if (last - first > 2)
                for (std::size_t i = first; i < last; ++i)
                    for (std::size_t j = i + 1; j < last; ++j)
                        add_touch(ends[i].second, ends[j].second, ends[i].first);
            first = last;
        }
    }

    void add_touch(int a, int b, std::int32_t vertex) {
        if (a < 0 || b < 0 || a == b) return;
        const Stretch& first = pieces_[static_cast<std::size_t>(a)];
        const Stretch& second = pieces_[static_cast<std::size_t>(b)];
        const OutlineCurve& outline = index_.curves()[static_cast<std::size_t>(first.curve)];
        if (first.curve == second.curve && (first.to == second.from || first.from == second.to))
            return;
        if (outline.next == second.curve || outline.previous == second.curve) return;
        const Point2 place = grid_->position(graph_.vertices[static_cast<std::size_t>(vertex)]);
        const std::size_t alone = no_place_ + axis_.facing.size();
        axis_.facing.push_back({foot_on(first, place), foot_on(second, place), alone, alone, 0.0});
    }

    Site site_of(const Diagram::cell_type& cell) const {
        const auto chord = static_cast<std::int32_t>(cell.source_index());
        if (cell.contains_segment()) return {chord, -1};
        const bool low =
            cell.source_category() == boost::polygon::SOURCE_CATEGORY_SEGMENT_START_POINT;
        const GraphChord& source = chords_[static_cast<std::size_t>(chord)];
        return {chord, low ? source.from : source.to};
    }

    bool is_frame(const Site& site) const {
        return chords_[static_cast<std::size_t>(site.chord)].stretch < 0;
    }
    const Stretch& stretch_of(const Site& site) const {
        return pieces_[static_cast<std::size_t>(
            chords_[static_cast<std::size_t>(site.chord)].stretch)];
    }

    /// The axis between chords that meet runs into their common end.
    bool meet(const Site& a, const Site& b) const {
        const GraphChord& first = chords_[static_cast<std::size_t>(a.chord)];
        const GraphChord& second = chords_[static_cast<std::size_t>(b.chord)];
        const auto has = [](const Site& site, const GraphChord& chord, std::int32_t vertex) {
            return site.vertex >= 0 ? site.vertex == vertex
                                    : chord.from == vertex || chord.to == vertex;
        };
        return has(b, second, first.from) ? has(a, first, first.from)
                                          : has(b, second, first.to) && has(a, first, first.to);
    }

    Point2 position(std::int32_t vertex) const {
        return grid_->position(graph_.vertices[static_cast<std::size_t>(vertex)]);
    }
    Point2 position(const Diagram::vertex_type& vertex) const {
        return grid_->position({0, 0}) + grid_->cell() * Point2(vertex.x(), vertex.y());
    }

    Point2 nearest(const Site& site, const Point2& point) const {
        if (site.vertex >= 0) return position(site.vertex);
        const GraphChord& chord = chords_[static_cast<std::size_t>(site.chord)];
        return nearest_on_segment(point, position(chord.from), position(chord.to));
    }

    static Foot foot_on(const Stretch& stretch, const Point2& point) {
        const Vector2 chord = stretch.end - stretch.start;
        const double squared = chord.squaredNorm();
        const double along =
            squared > 0.0 ? std::clamp(chord.dot(point - stretch.start) / squared, 0.0, 1.0) : 0.0;
        return {stretch.curve, stretch.from + along * (stretch.to - stretch.from)};
    }

    void look_at(const Diagram::edge_type& edge, const Diagram& diagram) {
        const Site a = site_of(*edge.cell()), b = site_of(*edge.twin()->cell());
        if (is_frame(a) || is_frame(b) || meet(a, b)) return;
        if (stretch_of(a).round >= 0 && stretch_of(a).round == stretch_of(b).round) return;
        const Point2 v0 = position(*edge.vertex0()), v1 = position(*edge.vertex1());
        const Point2 a0 = nearest(a, v0), a1 = nearest(a, v1);
        const Point2 b0 = nearest(b, v0), b1 = nearest(b, v1);
        const auto [p, q] = closest(a0, a1, b0, b1);
        if ((p - q).norm() > reach_ + 2.0 * stray_) return;
        const double step = (v1 - v0).norm();
        const Vector2 along = step > 0.0 ? Vector2((v1 - v0) / step) : Vector2(Vector2::Zero());
        const auto growth = [](const Point2& v, const Point2& foot_a, const Point2& foot_b) {
            const Vector2 to_a = foot_a - v, to_b = foot_b - v;
            const double length_a = to_a.norm(), length_b = to_b.norm();
            if (length_a == 0.0 || length_b == 0.0) return Vector2(Vector2::Zero());
            return Vector2(-0.5 * (to_a / length_a + to_b / length_b));
        };
        if (growth(v0, a0, b0).dot(along) > level || growth(v1, a1, b1).dot(along) < -level) return;
        if (step == 0.0 && growth(v0, a0, b0).norm() > level) return;
        const auto number = [&](const Diagram::vertex_type* vertex) {
            return static_cast<std::size_t>(vertex - diagram.vertices().data());
        };
        axis_.facing.push_back({foot_on(stretch_of(a), p), foot_on(stretch_of(b), q),
                                number(edge.vertex0()), number(edge.vertex1()), step});
    }

    /// The nearest points of two segments that don't cross; in the middle where they are parallel.
    static std::pair<Point2, Point2> closest(const Point2& a0, const Point2& a1, const Point2& b0,
                                             const Point2& b1) {
        // The feet of an edge's ends belong together, so the middles do where walls are parallel.
        std::pair<Point2, Point2> best(0.5 * (a0 + a1), 0.5 * (b0 + b1));
        double least = (best.first - best.second).norm() * (1.0 - 1e-6);
        const auto offer = [&](const Point2& p, const Point2& q) {
            const double distance = (p - q).norm();
            if (distance >= least) return;
            least = distance;
            best = {p, q};
        };
        for (const Point2& end : {a0, a1}) offer(end, nearest_on_segment(end, b0, b1));
        for (const Point2& end : {b0, b1}) offer(nearest_on_segment(end, a0, a1), end);
        return best;
    }

    void look_at(const Diagram::vertex_type& vertex) {
        const Point2 center = position(vertex);
        std::vector<Direction> directions;
        bool first = true;
        const Diagram::edge_type* edge = vertex.incident_edge();
        do {
            const Site site = site_of(*edge->cell());
            if (is_frame(site)) return;
            const Point2 foot = nearest(site, center);
            const Vector2 away = foot - center;
            if (first && 2.0 * away.norm() > reach_ + 2.0 * stray_) return;
            first = false;
            directions.push_back({std::atan2(away.y(), away.x()), foot_on(stretch_of(site), foot)});
            edge = edge->rot_next();
        } while (edge != vertex.incident_edge());
        std::stable_sort(directions.begin(), directions.end(),
                         [](const Direction& a, const Direction& b) { return a.angle < b.angle; });
        const std::size_t count = directions.size();
        double widest = 0.0;
        std::size_t after_widest = 0;
        for (std::size_t i = 0; i < count; ++i) {
            const std::size_t next = (i + 1) % count;
            const double gap =
                directions[next].angle - directions[i].angle + (next == 0 ? full_turn : 0.0);
            if (gap > widest) {
                widest = gap;
                after_widest = next;
            }
        }
        if (widest > pi + widest_notch || all_of_one_round(directions)) return;
        AxisPlace place{center, {}, widest};
        for (std::size_t i = 0; i < count; ++i)
            place.feet.push_back(directions[(after_widest + i) % count].foot);
        axis_.places.push_back(std::move(place));
    }

    /// The middle of a round is no news.
    bool all_of_one_round(const std::vector<Direction>& directions) const {
        const auto round_of = [&](const Direction& direction) {
            return index_.curves()[static_cast<std::size_t>(direction.foot.curve)].round;
        };
        return round_of(directions.front()) >= 0 &&
               std::all_of(directions.begin(), directions.end(), [&](const Direction& direction) {
                   return round_of(direction) == round_of(directions.front());
               });
    }

    /// Numbers beyond those of the diagram's vertices.
    static constexpr std::size_t no_place_ = std::size_t{1} << 40;

    const CurveIndex& index_;
    double reach_;
    double stray_ = 0.0;
    std::vector<Stretch> pieces_;
    std::optional<grid::Grid> grid_;
    arrange::PlanarGraph graph_;
    std::vector<GraphChord> chords_;
    MedialAxis axis_;
};

}  // namespace

MedialAxis medial_axis(const CurveIndex& index, const NearCurves& near, double reach, double cell) {
    return AxisFinder(index, reach).run(near, cell);
}

}  // namespace planform::inspection
