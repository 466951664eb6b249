#include "arrange/carriers/carriers.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <queue>

#include "grid/fuzzy_index.hpp"

namespace planform::arrange {
namespace {

/// A curve of the input as a range of its carrier, from < to.
struct Range {
    int carrier;
    double from;
    double to;
    int start_node;
    int end_node;
    int weight;
    int operand;
    int tag;
};

double into_turn(double angle) {
    double reduced = std::fmod(angle, full_turn);
    if (reduced < 0.0) reduced += full_turn;
    return reduced >= full_turn ? 0.0 : reduced;
}

/// Names the carriers and puts every curve on one of them.
class Collector {
  public:
    Collector(const Input& input, double same, double same_line)
        : input_(input),
          same_(same),
          node_index_({same, same}),
          line_index_({same_line / line_reach, same_line / line_reach, same_line}),
          circle_index_({same_line, same_line, same_line}),
          ellipse_index_({same, same, same, same, same}),
          spline_index_({2 * same, 2 * same, 2 * same, 2 * same}) {
        Box2 box;
        for (const Point2& node : input.nodes) box.extend(node);
        reference_ = box.isEmpty() ? Point2::Zero().eval() : box.center();
    }

    CarrierSet run() {
        weld_nodes();
        for (const DirectedCurve& curve : input_.curves)
            if (curve.weight != 0) put_on_carrier(curve);
        split_and_add();
        return std::move(set_);
    }

  private:
    /// Two lines are one if their unit directions agree so well that they are still one this far
    /// (mm) from the reference point.
    static constexpr double line_reach = 200.0;
    /// A line that points right by less points up or down.
    static constexpr double upright = 1e-9;

    void weld_nodes() {
        welded_.reserve(input_.nodes.size());
        for (const Point2& node : input_.nodes) {
            const int index = node_index_.find_or_add({node.x(), node.y()});
            if (static_cast<std::size_t>(index) == set_.nodes.size()) set_.nodes.push_back(node);
            welded_.push_back(index);
        }
    }

    int welded(int node) const { return welded_[static_cast<std::size_t>(node)]; }

    /// Carrier of the entry `index`, which may be the newest of its kind.
    int add_carrier(std::vector<int>& by_index, int index, Carrier::Kind kind, Curve curve) {
        if (static_cast<std::size_t>(index) == by_index.size()) {
            by_index.push_back(static_cast<int>(set_.carriers.size()));
            set_.carriers.push_back({kind, std::move(curve)});
        }
        return by_index[static_cast<std::size_t>(index)];
    }

    void put_on_carrier(const DirectedCurve& input) {
        Range range{0,
                    0.0,
                    0.0,
                    welded(input.start_node),
                    welded(input.end_node),
                    input.weight,
                    input.operand,
                    input.tag};
        bool placed = false;
        if (const auto* line = std::get_if<Line>(&input.curve)) placed = place_line(*line, range);
        if (const auto* arc = std::get_if<Arc>(&input.curve)) placed = place_arc(*arc, range);
        if (const auto* ellipse = std::get_if<EllipticalArc>(&input.curve))
            placed = place_ellipse(*ellipse, range);
        if (const auto* spline = std::get_if<Spline>(&input.curve))
            placed = place_spline(*spline, range);
        if (placed) ranges_.push_back(range);
    }

    static void turn_round(Range& range) {
        std::swap(range.start_node, range.end_node);
        range.weight = -range.weight;
    }

    bool place_line(const Line& line, Range& range) {
        if (range.start_node == range.end_node) return false;  // shorter than the weld
        Vector2 direction = line.end - line.start;
        const double size = direction.norm();
        if (size == 0.0) return false;
        direction /= size;
        // One of the two directions stands for the line: the one that points right (or up).
        const bool backward =
            direction.x() < -upright || (direction.x() <= upright && direction.y() < 0.0);
        if (backward) direction = -direction;
        const double offset = cross(direction, line.start - reference_);
        const int index = line_index_.find_or_add({direction.x(), direction.y(), offset});
        const Point2 base = reference_ + direction.dot(line.start - reference_) * direction +
                            offset * Vector2(-direction.y(), direction.x());
        range.carrier =
            add_carrier(lines_, index, Carrier::Kind::line, Line{base, base + direction});
        const auto& carrier = set_.carriers[static_cast<std::size_t>(range.carrier)];
        range.from = carrier.parameter_near(line.start, 0.0);
        range.to = carrier.parameter_near(line.end, 0.0);
        if (range.from > range.to) {
            std::swap(range.from, range.to);
            turn_round(range);
        }
        return true;
    }

    bool place_arc(const Arc& arc, Range& range) {
        const int index = circle_index_.find_or_add({arc.center.x(), arc.center.y(), arc.radius});
        range.carrier = add_carrier(circles_, index, Carrier::Kind::circle,
                                    Arc{arc.center, arc.radius, 0.0, full_turn});
        return place_turn(arc.start_angle, arc.sweep, range);
    }

    bool place_ellipse(const EllipticalArc& ellipse, Range& range) {
        // One of the two ends of the major axis stands for it: the one that points right (or up).
        Vector2 major = ellipse.major;
        double start = ellipse.start_angle;
        if (major.x() < -same_ || (major.x() <= same_ && major.y() < 0.0)) {
            major = -major;
            start += pi;
        }
        const int index =
            ellipse_index_.find_or_add({ellipse.center.x(), ellipse.center.y(), major.x(),
                                        major.y(), ellipse.ratio * major.norm()});
        range.carrier =
            add_carrier(ellipses_, index, Carrier::Kind::ellipse,
                        EllipticalArc{ellipse.center, major, ellipse.ratio, 0.0, full_turn});
        return place_turn(start, ellipse.sweep, range);
    }

    static bool place_turn(double start, double sweep, Range& range) {
        // Ends that are welded belong to a full turn, or to a piece shorter than the weld.
        if (range.start_node == range.end_node && std::abs(sweep) < pi) return false;
        const bool backward = sweep < 0.0;
        range.from = into_turn(backward ? start + sweep : start);
        range.to = range.from + std::abs(sweep);
        if (backward) turn_round(range);
        return true;
    }

    bool place_spline(const Spline& spline, Range& range) {
        const Point2 sum = spline.poles.front() + spline.poles.back();
        const Point2 middle =
            spline.poles[spline.poles.size() / 2] + spline.poles[(spline.poles.size() - 1) / 2];
        const int index = spline_index_.find_or_add({sum.x(), sum.y(), middle.x(), middle.y()});
        splines_.resize(spline_index_.size());
        std::vector<int>& candidates = splines_[static_cast<std::size_t>(index)];
        for (const int carrier : candidates) {
            const auto& other =
                std::get<Spline>(set_.carriers[static_cast<std::size_t>(carrier)].curve);
            const bool forward = same_spline(spline, other);
            if (!forward && !same_spline(std::get<Spline>(reversed(Curve(spline))), other))
                continue;
            range.carrier = carrier;
            range.from = other.knots.front();
            range.to = other.knots.back();
            if (!forward) turn_round(range);
            return true;
        }
        range.carrier = static_cast<int>(set_.carriers.size());
        candidates.push_back(range.carrier);
        set_.carriers.push_back({Carrier::Kind::spline, spline});
        range.from = spline.knots.front();
        range.to = spline.knots.back();
        return true;
    }

    /// Same shape by the same poles, up to an affine map of the knots.
    bool same_spline(const Spline& a, const Spline& b) const {
        if (a.degree != b.degree || a.poles.size() != b.poles.size() ||
            a.weights.size() != b.weights.size())
            return false;
        for (std::size_t i = 0; i < a.poles.size(); ++i)
            if ((a.poles[i] - b.poles[i]).cwiseAbs().maxCoeff() > same_) return false;
        const double span_a = a.knots.back() - a.knots.front();
        const double span_b = b.knots.back() - b.knots.front();
        for (std::size_t i = 0; i < a.knots.size(); ++i)
            if (std::abs((a.knots[i] - a.knots.front()) / span_a -
                         (b.knots[i] - b.knots.front()) / span_b) > 1e-9)
                return false;
        for (std::size_t i = 0; i < a.weights.size(); ++i)
            if (std::abs(a.weights[i] / a.weights[0] - b.weights[i] / b.weights[0]) > 1e-9)
                return false;
        return true;
    }

    void split_and_add() {
        std::stable_sort(ranges_.begin(), ranges_.end(),
                         [](const Range& a, const Range& b) { return a.carrier < b.carrier; });
        for (std::size_t first = 0; first < ranges_.size();) {
            std::size_t last = first;
            while (last < ranges_.size() && ranges_[last].carrier == ranges_[first].carrier) ++last;
            split_and_add(first, last);
            first = last;
        }
    }

    /// Ranges that all cover the same stretch.
    void add_whole(std::size_t first, std::size_t last) {
        const Range& r = ranges_[first];
        Piece piece{r.carrier, r.from, r.to, r.start_node, r.end_node, Winding{}, r.tag};
        for (std::size_t i = first; i < last; ++i) {
            piece.weight[static_cast<std::size_t>(ranges_[i].operand)] += ranges_[i].weight;
            piece.tag = std::min(piece.tag, ranges_[i].tag);
        }
        if (piece.weight != Winding{}) set_.pieces.push_back(piece);
    }

    /// A place on a carrier where ranges begin or end.
    struct Break {
        double parameter;
        int node;
    };

    void split_and_add(std::size_t first, std::size_t last) {
        const Carrier& carrier = set_.carriers[static_cast<std::size_t>(ranges_[first].carrier)];
        if (last - first == 1 || carrier.kind == Carrier::Kind::spline) {
            add_whole(first, last);
            return;
        }
        const bool periodic = carrier.is_periodic();
        const std::vector<Break> breaks = find_breaks(periodic, first, last);
        const std::size_t cells = periodic ? breaks.size() : breaks.size() - 1;
        std::vector<Cover> covers;
        for (std::size_t i = first; i < last; ++i)
            add_cover(breaks, cells, periodic, ranges_[i], covers);
        std::sort(covers.begin(), covers.end(), [](const Cover& a, const Cover& b) {
            return a.begin != b.begin ? a.begin < b.begin : a.tag < b.tag;
        });
        std::vector<Winding> change(cells + 1, Winding{});
        for (const Cover& c : covers) {
            change[c.begin][c.operand] += c.weight;
            change[c.end][c.operand] -= c.weight;
        }
        const std::vector<int> tags = lowest_tags(covers, cells);
        Winding weight{};
        for (std::size_t c = 0; c < cells; ++c) {
            for (std::size_t k = 0; k < weight.size(); ++k) weight[k] += change[c][k];
            if (weight == Winding{}) continue;
            const Break& from = breaks[c];
            const Break& to = breaks[(c + 1) % breaks.size()];
            const double end = c + 1 == breaks.size() ? to.parameter + full_turn : to.parameter;
            set_.pieces.push_back(
                {ranges_[first].carrier, from.parameter, end, from.node, to.node, weight, tags[c]});
        }
    }

    /// Cells [begin, end) between breaks that a range covers.
    struct Cover {
        std::size_t begin;
        std::size_t end;
        int weight;
        std::size_t operand;
        int tag;
    };

    static void add_cover(const std::vector<Break>& breaks, std::size_t cells, bool periodic,
                          const Range& r, std::vector<Cover>& covers) {
        std::size_t begin = break_at(breaks, r.start_node, r.from, periodic);
        std::size_t end = break_at(breaks, r.end_node, r.to, periodic);
        int weight = r.weight;
        const auto operand = static_cast<std::size_t>(r.operand);
        // Within the weld the nodes of a short range may stand the other way round.
        const double covered = breaks[end].parameter - breaks[begin].parameter;
        const bool short_on_turn = periodic && r.to - r.from < 0.5 * pi;
        const bool turned =
            short_on_turn ? std::remainder(covered, full_turn) < 0.0 : !periodic && end < begin;
        if (turned) {
            std::swap(begin, end);
            weight = -weight;
        }
        if (begin == end && r.start_node == r.end_node && periodic) {
            covers.push_back({0, cells, weight, operand, r.tag});
        } else if (periodic && end < begin) {
            covers.push_back({begin, cells, weight, operand, r.tag});
            if (end > 0) covers.push_back({0, end, weight, operand, r.tag});
        } else if (begin < end) {
            covers.push_back({begin, end, weight, operand, r.tag});
        }
    }

    /// By cell, the lowest tag of the covers over it; `covers` by where they begin.
    static std::vector<int> lowest_tags(const std::vector<Cover>& covers, std::size_t cells) {
        const auto higher = [](const Cover* a, const Cover* b) { return a->tag > b->tag; };
        std::priority_queue<const Cover*, std::vector<const Cover*>, decltype(higher)> open(higher);
        std::vector<int> tags(cells, 0);
        std::size_t next = 0;
        for (std::size_t c = 0; c < cells; ++c) {
            for (; next < covers.size() && covers[next].begin == c; ++next)
                open.push(&covers[next]);
            while (!open.empty() && open.top()->end <= c) open.pop();
            if (!open.empty()) tags[c] = open.top()->tag;
        }
        return tags;
    }

    /// Places in ascending order, one for each node: lines, circles and ellipses don't meet
    /// themselves.
    std::vector<Break> find_breaks(bool periodic, std::size_t first, std::size_t last) const {
        std::vector<Break> breaks;
        for (std::size_t i = first; i < last; ++i) {
            const Range& r = ranges_[i];
            breaks.push_back({r.from, r.start_node});
            breaks.push_back({periodic ? into_turn(r.to) : r.to, r.end_node});
        }
        std::sort(breaks.begin(), breaks.end(), [](const Break& a, const Break& b) {
            return a.node != b.node ? a.node < b.node : a.parameter < b.parameter;
        });
        breaks.erase(std::unique(breaks.begin(), breaks.end(),
                                 [](const Break& a, const Break& b) { return a.node == b.node; }),
                     breaks.end());
        std::sort(breaks.begin(), breaks.end(), [](const Break& a, const Break& b) {
            return a.parameter != b.parameter ? a.parameter < b.parameter : a.node < b.node;
        });
        return breaks;
    }

    static std::size_t break_at(const std::vector<Break>& breaks, int node, double parameter,
                                bool periodic) {
        const double target = periodic ? into_turn(parameter) : parameter;
        const auto near =
            std::lower_bound(breaks.begin(), breaks.end(), target,
                             [](const Break& a, double value) { return a.parameter < value; });
        const auto count = static_cast<std::ptrdiff_t>(breaks.size());
        const std::ptrdiff_t start = near - breaks.begin();
        // The node stands within the weld of its place: look to both sides, nearest first.
        for (std::ptrdiff_t step = 0; step <= count; ++step) {
            const auto up = static_cast<std::size_t>((start + step) % count);
            const auto down = static_cast<std::size_t>(((start - step) % count + count) % count);
            if (breaks[up].node == node) return up;
            if (breaks[down].node == node) return down;
        }
        return 0;
    }

    const Input& input_;
    double same_;
    Point2 reference_;
    CarrierSet set_;
    std::vector<int> welded_;
    std::vector<Range> ranges_;
    grid::FuzzyIndex<2> node_index_;
    grid::FuzzyIndex<3> line_index_;
    grid::FuzzyIndex<3> circle_index_;
    grid::FuzzyIndex<5> ellipse_index_;
    grid::FuzzyIndex<4> spline_index_;
    std::vector<int> lines_, circles_, ellipses_;  // number in the index -> carrier
    std::vector<std::vector<int>> splines_;
};

}  // namespace

Point2 Carrier::position(double parameter) const {
    switch (kind) {
        case Kind::line:
            return point_at(curve, parameter);
        case Kind::circle: {
            const auto& arc = std::get<Arc>(curve);
            return arc.center + arc.radius * Vector2(std::cos(parameter), std::sin(parameter));
        }
        case Kind::ellipse:
            return point_at(curve, parameter / full_turn);
        case Kind::spline:
            break;
    }
    return point_at(curve, parameter);
}

Vector2 Carrier::direction(double parameter) const {
    if (is_periodic()) return derivative_at(curve, parameter / full_turn) / full_turn;
    return derivative_at(curve, parameter);
}

Vector2 Carrier::second_derivative(double parameter) const {
    if (is_periodic())
        return second_derivative_at(curve, parameter / full_turn) / (full_turn * full_turn);
    return second_derivative_at(curve, parameter);
}

double Carrier::extent(double from, double to) const {
    if (kind == Kind::line || kind == Kind::circle)
        return std::abs(to - from) * direction(from).norm();
    if (from == to) return 0.0;
    constexpr int samples = 8;
    const Point2 start = position(from);
    double largest = 0.0;
    for (int i = 1; i <= samples; ++i)
        largest = std::max(largest, (position(from + (to - from) * i / samples) - start).norm());
    return largest;
}

Curve Carrier::piece(double from, double to) const {
    switch (kind) {
        case Kind::line:
            return Line{position(from), position(to)};
        case Kind::circle: {
            const auto& arc = std::get<Arc>(curve);
            return Arc{arc.center, arc.radius, from, std::clamp(to - from, -full_turn, full_turn)};
        }
        case Kind::ellipse: {
            const auto& whole = std::get<EllipticalArc>(curve);
            return EllipticalArc{whole.center, whole.major, whole.ratio, from,
                                 std::clamp(to - from, -full_turn, full_turn)};
        }
        case Kind::spline:
            break;
    }
    return from < to ? trimmed(curve, from, to) : reversed(trimmed(curve, to, from));
}

double Carrier::parameter_near(const Point2& point, double guess) const {
    if (kind == Kind::line) {
        const auto& line = std::get<Line>(curve);
        return (point - line.start).dot(line.end - line.start);
    }
    if (kind == Kind::circle) {
        const auto& arc = std::get<Arc>(curve);
        const double angle = std::atan2(point.y() - arc.center.y(), point.x() - arc.center.x());
        return angle + full_turn * std::round((guess - angle) / full_turn);
    }
    // Gauss-Newton on the distance: quadratic for points on the curve, and the guess is close. A
    // step that leads away, as next to a place where a spline stands still, is halved.
    const Interval range = domain(curve);
    const auto distance = [&](double t) { return (point - position(t)).norm(); };
    double parameter = guess;
    double nearest = distance(parameter);
    for (int step = 0; step < 40; ++step) {
        const Vector2 tangent = direction(parameter);
        const double square = tangent.squaredNorm();
        if (square == 0.0) break;
        double change = (point - position(parameter)).dot(tangent) / square;
        if (kind == Kind::spline)
            change = std::clamp(parameter + change, range.first, range.last) - parameter;
        double reached = distance(parameter + change);
        for (int halving = 0; halving < 30 && reached > nearest; ++halving) {
            change *= 0.5;
            reached = distance(parameter + change);
        }
        if (reached > nearest) break;
        parameter += change;
        nearest = reached;
        if (std::abs(change) < 1e-14 * (range.last - range.first)) break;
    }
    return parameter;
}

CarrierSet collect_carriers(const Input& input, double same, double same_line) {
    return Collector(input, same, std::min(same, same_line)).run();
}

}  // namespace planform::arrange
