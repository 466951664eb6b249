#include "flatten/zero_sets/fold_fit.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "curve/straight_pieces.hpp"

namespace planform::flatten {
namespace {

/// A node of a fitted curve: on the surface and projected.
struct Node {
    Point2 at;  ///< scaled parameters
    Point3 position;
    Vector3 tangent;  ///< unit, along the zero set; zero if unknown
};

/// A span between two neighbouring nodes, by how it is to be drawn.
struct Span {
    Node end;
    bool is_smooth;
};

class PathFit {
  public:
    PathFit(const ZeroSet& zero_set, double tolerance)
        : zero_set_(zero_set), tolerance_(tolerance) {}

    std::vector<Curve> run(const std::vector<Point2>& path) {
        std::vector<Node> nodes;
        for (const Point2& p : path) nodes.push_back(node_at(p));
        fit(nodes, 0, nodes.size() - 1);
        return to_curves(nodes.front());
    }

  private:
    static constexpr int deepest = 12;
    /// Share of the tolerance for the fit; the rest is left to the arrangement.
    static constexpr double share = 0.05;
    static constexpr double shortest = 1e-9;  ///< mm: nodes nearer than this are one

    Node node_at(const Point2& p) const {
        const solid::SurfacePoint s = zero_set_.field().surface().first_order(zero_set_.unscale(p));
        const Vector2 travel = zero_set_.field()
                                   .travel(zero_set_.scaled_field(p).gradient)
                                   .cwiseProduct(zero_set_.range());
        Vector3 tangent = travel.x() * s.du + travel.y() * s.dv;
        const double size = tangent.norm();
        if (size > 0.0) tangent /= size;
        return {p, s.position, tangent};
    }

    /// One cubic for as many points as it passes; between neighbours the surface is asked.
    void fit(const std::vector<Node>& nodes, std::size_t first, std::size_t last) {
        if (last - first <= 1) {
            if (last > first) refine(nodes[first], nodes[last], deepest);
            return;
        }
        if (passes(nodes, first, last)) {
            spans_.push_back({nodes[last], true});
            return;
        }
        const std::size_t middle = first + (last - first) / 2;
        fit(nodes, first, middle);
        fit(nodes, middle, last);
    }

    /// True if the cubic from one node to another keeps to all nodes between.
    bool passes(const std::vector<Node>& nodes, std::size_t first, std::size_t last) const {
        constexpr double widest_turn = 0.8;  // cosine
        const Node &a = nodes[first], &b = nodes[last];
        const Vector3 chord = b.position - a.position;
        const double size = chord.norm();
        if (size < shortest || a.tangent.dot(chord) < widest_turn * size ||
            b.tangent.dot(chord) < widest_turn * size)
            return false;
        bool is_watched = false;  // about the middle, where the cubic may be farthest off
        for (std::size_t i = first + 1; i < last; ++i) {
            const double t = (nodes[i].position - a.position).dot(chord) / (size * size);
            if (!(t >= 0.0 && t <= 1.0)) return false;
            is_watched = is_watched || std::abs(t - 0.5) < 0.25;
            const double t2 = t * t, t3 = t2 * t;
            const Point3 cubic = (2 * t3 - 3 * t2 + 1) * a.position +
                                 (t3 - 2 * t2 + t) * size * a.tangent +
                                 (3 * t2 - 2 * t3) * b.position + (t3 - t2) * size * b.tangent;
            if ((cubic - nodes[i].position).norm() > share * tolerance_) return false;
        }
        return is_watched;
    }

    static Point3 hermite_middle(const Node& a, const Node& b) {
        const double h = (b.position - a.position).norm();
        return 0.5 * (a.position + b.position) + 0.125 * h * (a.tangent - b.tangent);
    }

    /// Adds spans until the cubic between two neighbours keeps to the true curve on the datum.
    void refine(const Node& a, const Node& b, int depth) {
        const double step = (b.at - a.at).norm();
        const double chord = (b.position - a.position).norm();
        if (chord < shortest) {
            spans_.push_back({b, true});
            return;
        }
        // Between points this near nothing can be seen at the tolerance.
        if (chord < share * tolerance_ && depth < deepest) {
            spans_.push_back({b, false});
            return;
        }
        const auto middle = zero_set_.correct(0.5 * (a.at + b.at), 0.5 * step);
        if (!middle) {
            spans_.push_back({b, false});
            return;
        }
        const Node m = node_at(middle->at);
        const bool turns_back = a.tangent.dot(b.position - a.position) < 0.5 * chord ||
                                b.tangent.dot(b.position - a.position) < 0.5 * chord;
        if (!turns_back && distance_off(a, b, m) <= share * tolerance_) {
            spans_.push_back({b, true});
            return;
        }
        if (depth == 0) {
            spans_.push_back({b, false});
            return;
        }
        refine(a, m, depth - 1);
        refine(m, b, depth - 1);
    }

    /// Of the true middle from the cubic's, across it: along it the parameter is free.
    double distance_off(const Node& a, const Node& b, const Node& m) const {
        const Vector2 off = (m.position - hermite_middle(a, b)).head<2>();
        const Vector2 along = (b.position - a.position).head<2>();
        const double size = along.norm();
        return size > tolerance_ ? std::abs(cross(along, off)) / size : off.norm();
    }

    std::vector<Curve> to_curves(const Node& first) const {
        std::vector<Curve> curves;
        std::vector<Node> run = {first};
        const auto flush = [&] {
            if (auto spline = hermite_spline(run))
                for (Curve& piece : canonical_pieces(*spline, 1e-7))
                    curves.push_back(std::move(piece));
            run = {run.back()};
        };
        for (const Span& span : spans_) {
            if (!span.is_smooth) {
                flush();
                const Line line{run.back().position.head<2>(), span.end.position.head<2>()};
                if (line.start != line.end) curves.push_back(line);
                run = {span.end};
            } else if ((span.end.position - run.back().position).norm() >= shortest) {
                run.push_back(span.end);
            }
        }
        flush();
        return curves;
    }

    /// Cubic spline through the nodes with their tangents, parameter: the length of the polyline.
    static std::optional<Spline> hermite_spline(const std::vector<Node>& nodes) {
        if (nodes.size() < 2) return std::nullopt;
        Spline spline;
        spline.degree = 3;
        spline.poles.push_back(nodes.front().position.head<2>());
        double at = 0.0, spread = 0.0;
        spline.knots.assign(4, 0.0);
        for (std::size_t i = 0; i + 1 < nodes.size(); ++i) {
            const double h = (nodes[i + 1].position - nodes[i].position).norm();
            if (at > 0.0) spline.knots.insert(spline.knots.end(), 2, at);
            at += h;
            spline.poles.push_back((nodes[i].position + h / 3.0 * nodes[i].tangent).head<2>());
            spline.poles.push_back(
                (nodes[i + 1].position - h / 3.0 * nodes[i + 1].tangent).head<2>());
            spline.poles.push_back(nodes[i + 1].position.head<2>());
            if (i + 2 < nodes.size()) spline.poles.pop_back();
        }
        spline.knots.insert(spline.knots.end(), 4, at);
        for (const Point2& pole : spline.poles)
            spread = std::max(spread, (pole - spline.poles.front()).norm());
        if (spread < shortest) return std::nullopt;  // seen along the fold: a point
        return spline;
    }

    const ZeroSet& zero_set_;
    double tolerance_;
    std::vector<Span> spans_;
};

}  // namespace

std::vector<Curve> fit_path(const ZeroSet& zero_set, const std::vector<Point2>& path,
                            double tolerance) {
    return PathFit(zero_set, tolerance).run(path);
}

}  // namespace planform::flatten
