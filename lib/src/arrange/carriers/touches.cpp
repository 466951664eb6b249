#include "arrange/carriers/touches.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "arrange/carriers/spline_spans.hpp"
#include "grid/box_grid.hpp"
#include "grid/box_tree.hpp"

namespace planform::arrange {
namespace {

class TouchFinder {
  public:
    TouchFinder(CarrierSet& set, double same)
        : set_(set), same_(same), spans_(set.carriers.size()) {}

    void run() {
        const std::vector<Box2> boxes = piece_boxes();
        const grid::BoxGrid on_grid(boxes);
        const grid::BoxTree tree(on_grid(boxes));
        const auto node_count = static_cast<int>(set_.nodes.size());
        tree.for_each_pair([&](std::int32_t a, std::int32_t b) { visit_pair(a, b); });
        for (int node = 0; node < node_count; ++node) {
            Box2 point(position(node));
            tree.for_each_overlap(on_grid(point),
                                  [&](std::int32_t piece) { visit_node(piece, node); });
        }
        split();
    }

  private:
    /// A place where a piece is split.
    struct Stop {
        std::int32_t piece;
        double parameter;
        int node;
    };

    const Point2& position(int node) const { return set_.nodes[static_cast<std::size_t>(node)]; }
    const Piece& piece(std::int32_t index) const {
        return set_.pieces[static_cast<std::size_t>(index)];
    }
    const Carrier& carrier(const Piece& piece) const {
        return set_.carriers[static_cast<std::size_t>(piece.carrier)];
    }

    std::vector<Box2> piece_boxes() const {
        std::vector<Box2> boxes;
        boxes.reserve(set_.pieces.size());
        for (const Piece& p : set_.pieces) {
            Box2 box = bounds(carrier(p).piece(p.from, p.to));
            // The nodes may lie beside the curve by as much as two ends may be apart.
            box.extend(position(p.start_node));
            box.extend(position(p.end_node));
            const Vector2 grown = Vector2::Constant(same_);
            boxes.emplace_back(box.min() - grown, box.max() + grown);
        }
        return boxes;
    }

    void visit_node(std::int32_t index, int node) {
        const Piece& p = piece(index);
        if (node == p.start_node || node == p.end_node) return;
        if (const auto parameter = parameter_on(p, position(node)))
            stops_.push_back({index, *parameter, node});
    }

    /// Parameter of a point that lies on the inner part of a piece.
    std::optional<double> parameter_on(const Piece& p, const Point2& point) {
        const Carrier& c = carrier(p);
        if (is_clear_of(c, point)) return std::nullopt;
        double parameter = 0.0;
        if (const SplineSpans* spans = spans_of(p.carrier)) {
            const std::optional<double> nearest = spans->nearest(point);
            if (!nearest) return std::nullopt;
            parameter = *nearest;
        } else if (c.kind == Carrier::Kind::spline) {
            parameter = nearest_parameter(c.piece(p.from, p.to), point);
        } else {
            parameter = c.parameter_near(point, 0.5 * (p.from + p.to));
        }
        if (!(p.from < parameter && parameter < p.to)) return std::nullopt;
        const Point2 foot = c.position(parameter);
        const auto apart = [&](const Point2& a, const Point2& b) { return (a - b).norm() > same_; };
        if (apart(foot, point) || !apart(foot, position(p.start_node)) ||
            !apart(foot, position(p.end_node)))
            return std::nullopt;
        return parameter;
    }

    /// The spans of a long spline, nothing for other carriers.
    const SplineSpans* spans_of(int carrier) {
        const auto index = static_cast<std::size_t>(carrier);
        const Spline* spline = std::get_if<Spline>(&set_.carriers[index].curve);
        if (spline == nullptr || spline->poles.size() <= many_spans) return nullptr;
        std::unique_ptr<const SplineSpans>& spans = spans_[index];
        if (!spans) spans = std::make_unique<const SplineSpans>(*spline, same_);
        return spans.get();
    }

    /// Quick answers for most points that are not on a carrier.
    bool is_clear_of(const Carrier& c, const Point2& point) const {
        if (const auto* line = std::get_if<Line>(&c.curve))
            return std::abs(cross(line->end - line->start, point - line->start)) > same_;
        if (const auto* arc = std::get_if<Arc>(&c.curve))
            return std::abs((point - arc->center).norm() - arc->radius) > same_;
        if (const auto* ellipse = std::get_if<EllipticalArc>(&c.curve)) {
            // Scaled by the minor axis, a point off the ellipse of axes 1 and ratio is further off.
            const double major = ellipse->major.norm();
            const Vector2 unit = ellipse->major / major, to = point - ellipse->center;
            const double x = unit.dot(to) / major, y = cross(unit, to) / (ellipse->ratio * major);
            return std::abs(std::hypot(x, y) - 1.0) * ellipse->ratio * major > same_;
        }
        return false;
    }

    void visit_pair(std::int32_t a, std::int32_t b) {
        const Piece& pa = piece(a);
        const Piece& pb = piece(b);
        if (pa.carrier == pb.carrier) return;
        const auto touch = tangency(carrier(pa).curve, carrier(pb).curve);
        if (!touch) return;
        const auto on_a = parameter_on(pa, *touch), on_b = parameter_on(pb, *touch);
        if (!on_a || !on_b) return;
        const auto node = static_cast<int>(set_.nodes.size());
        set_.nodes.push_back(*touch);
        stops_.push_back({a, *on_a, node});
        stops_.push_back({b, *on_b, node});
    }

    /// The point in which a line and a circle, or two circles, touch.
    std::optional<Point2> tangency(const Curve& a, const Curve& b) const {
        const auto *line = std::get_if<Line>(&a), *other_line = std::get_if<Line>(&b);
        const auto *arc = std::get_if<Arc>(&a), *other = std::get_if<Arc>(&b);
        if (arc && other) return tangency(*arc, *other);
        if (line && other) return tangency(*line, *other);
        if (other_line && arc) return tangency(*other_line, *arc);
        return std::nullopt;
    }

    std::optional<Point2> tangency(const Line& line, const Arc& arc) const {
        const Vector2 along = line.end - line.start;  // of length 1
        const Vector2 normal(-along.y(), along.x());
        const double distance = normal.dot(line.start - arc.center);
        if (std::abs(std::abs(distance) - arc.radius) > same_) return std::nullopt;
        return arc.center + distance * normal;
    }

    std::optional<Point2> tangency(const Arc& a, const Arc& b) const {
        const Vector2 between = b.center - a.center;
        const double distance = between.norm();
        const bool outside = std::abs(distance - a.radius - b.radius) <= same_;
        const bool within = std::abs(distance - std::abs(a.radius - b.radius)) <= same_;
        if ((!outside && !within) || distance == 0.0) return std::nullopt;
        const bool backward = !outside && a.radius < b.radius;
        return a.center + (backward ? -a.radius : a.radius) / distance * between;
    }

    void split() {
        if (stops_.empty()) return;
        std::sort(stops_.begin(), stops_.end(), [](const Stop& a, const Stop& b) {
            if (a.piece != b.piece) return a.piece < b.piece;
            return a.parameter != b.parameter ? a.parameter < b.parameter : a.node < b.node;
        });
        std::vector<Piece> pieces;
        pieces.reserve(set_.pieces.size() + stops_.size());
        std::size_t next = 0;
        for (std::size_t i = 0; i < set_.pieces.size(); ++i) {
            Piece rest = set_.pieces[i];
            for (; next < stops_.size() && static_cast<std::size_t>(stops_[next].piece) == i;
                 ++next) {
                const Stop& stop = stops_[next];
                if (stop.parameter <= rest.from) continue;
                Piece first = rest;
                first.to = rest.from = stop.parameter;
                first.end_node = rest.start_node = stop.node;
                pieces.push_back(first);
            }
            pieces.push_back(rest);
        }
        set_.pieces = std::move(pieces);
    }

    CarrierSet& set_;
    double same_;
    std::vector<Stop> stops_;
    std::vector<std::unique_ptr<const SplineSpans>> spans_;  ///< by carrier, where asked for
};

}  // namespace

void split_at_touches(CarrierSet& set, double same) {
    if (!set.pieces.empty()) TouchFinder(set, same).run();
}

}  // namespace planform::arrange
