#include "flatten/tracer.hpp"

#include <BRepTopAdaptor_FClass2d.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "planform/error.hpp"

namespace planform::flatten {
namespace {

// Notation: p = (u, v) scaled to the unit square by the face's parameter box. A trace steps along the
// zero set by h in this scale; the corrector goes down the gradient.

struct Step {
    Point2 at;         ///< scaled
    Vector2 travel;    ///< unit, scaled
};

/// A node of a traced curve: on the surface and projected.
struct TraceNode {
    Point2 uv;
    Point3 position;
    Vector3 tangent;  ///< unit, along the trace
};

class Tracer {
  public:
    Tracer(const LevelField& field, double tolerance)
        : field_(field),
          low_(field.surface().low()),
          range_(field.surface().range().cwiseMax(1e-300)),
          tolerance_(tolerance) {}

    std::vector<LevelCurve> run(const std::vector<BoundaryRoot>& roots) {
        std::vector<char> used(roots.size(), 0);
        for (std::size_t i = 0; i < roots.size(); ++i) {
            if (!roots[i].starts) continue;
            used[i] = 1;
            trace_from(roots, i, used);
        }
        if (std::count(used.begin(), used.end(), 0) > 0)
            fail("a fold that ends on the boundary was not reached from any start");
        find_closed_loops();
        return std::move(curves_);
    }

  private:
    static constexpr double largest_step = 0.05;
    static constexpr double smallest_step = 1e-9;
    static constexpr double widest_turn = 0.2;  // rad a step
    static constexpr int most_steps = 20000;

    [[noreturn]] static void fail(const std::string& cause) {
        throw GeometryError(ErrorKind::face_not_flattened, cause);
    }

    Point2 unscale(const Point2& p) const { return low_ + p.cwiseProduct(range_); }
    Point2 scale(const Point2& uv) const { return (uv - low_).cwiseQuotient(range_); }

    FieldValue scaled_field(const Point2& p) const {
        FieldValue f = field_.with_gradient(unscale(p));
        f.gradient = f.gradient.cwiseProduct(range_);
        return f;
    }

    /// The nearest point of the zero set, or nothing if Newton's method strays.
    std::optional<Step> correct(Point2 p, double reach) const {
        const Point2 start = p;
        for (int i = 0; i < 12; ++i) {
            const FieldValue f = scaled_field(p);
            const double square = f.gradient.squaredNorm();
            if (!(square > 0.0)) return std::nullopt;
            const Vector2 change = -f.value / square * f.gradient;
            p += change;
            if (!((p - start).norm() <= reach)) return std::nullopt;
            if (change.norm() < 1e-13) break;
        }
        const FieldValue f = scaled_field(p);
        const Vector2 travel = field_.travel(f.gradient);
        const double size = travel.norm();
        if (!(size > 0.0)) return std::nullopt;
        return Step{p, travel / size};
    }

    /// One step of at most h along the zero set; h comes back as what suits the next step.
    std::optional<Step> advance(const Step& from, double& h) const {
        while (h > smallest_step) {
            const auto next = correct(from.at + h * from.travel, 0.5 * h);
            if (next) {
                const double turn = std::atan2(cross(from.travel, next->travel),
                                               from.travel.dot(next->travel));
                if (std::abs(turn) <= widest_turn) {
                    if (std::abs(turn) < 0.4 * widest_turn) h = std::min(1.6 * h, largest_step);
                    return next;
                }
            }
            h *= 0.5;
        }
        return std::nullopt;
    }

    void trace_from(const std::vector<BoundaryRoot>& roots, std::size_t start,
                    std::vector<char>& used) {
        const Point2 begin = scale(roots[start].inner_uv);
        auto here = correct(begin, 1e-2);
        if (!here) here = step_at(begin);
        std::vector<Point2> path = {here->at};
        double h = 0.01;
        for (int step = 0; step < most_steps; ++step) {
            double used_step = h;
            const auto next = advance(*here, used_step);
            if (!next) fail("a fold can't be followed: the surface is flat or creased along the view");
            const int end = passed_end(roots, used, *here, *next);
            if (end >= 0) {
                used[static_cast<std::size_t>(end)] = 1;
                path.push_back(scale(roots[static_cast<std::size_t>(end)].inner_uv));
                finish(path, roots[start].node, roots[static_cast<std::size_t>(end)].node);
                return;
            }
            if ((next->at.array() < -0.05).any() || (next->at.array() > 1.05).any())
                fail("a fold runs out of the face between two samples of its boundary");
            path.push_back(next->at);
            here = next;
            h = used_step;
        }
        fail("a fold does not end");
    }

    Step step_at(const Point2& p) const {
        const Vector2 travel = field_.travel(scaled_field(p).gradient);
        if (!(travel.norm() > 0.0)) fail("a fold starts where the surface is flat along the view");
        return {p, travel.normalized()};
    }

    /// The unused ending root that lies on the way from one step to the next; -1 if none.
    int passed_end(const std::vector<BoundaryRoot>& roots, const std::vector<char>& used,
                   const Step& from, const Step& to) const {
        const Vector2 way = to.at - from.at;
        const double length = way.norm();
        int best = -1;
        double best_along = 2.0;
        for (std::size_t i = 0; i < roots.size(); ++i) {
            if (roots[i].starts || used[i]) continue;
            const Vector2 offset = scale(roots[i].inner_uv) - from.at;
            const double along = offset.dot(way) / (length * length);
            const double aside = std::abs(cross(way, offset)) / length;
            if (along < -0.01 || along > 1.01 || aside > 0.1 * length + 1e-7) continue;
            if (along < best_along) {
                best_along = along;
                best = static_cast<int>(i);
            }
        }
        return best;
    }

    void finish(const std::vector<Point2>& path, int start_node, int end_node) {
        paths_.push_back(path);
        std::vector<TraceNode> nodes;
        for (const Point2& p : path) nodes.push_back(node_at(p));
        std::vector<TraceNode> fine = {nodes.front()};
        for (std::size_t i = 0; i + 1 < nodes.size(); ++i) refine(nodes[i], nodes[i + 1], 14, fine);
        const Curve curve = canonical(hermite_spline(fine), 1e-7);
        curves_.push_back({{curve}, start_node, end_node});
    }

    TraceNode node_at(const Point2& p) const {
        const Point2 uv = unscale(p);
        const SurfacePoint s = field_.surface().first_order(uv);
        const Vector2 travel = field_.travel(scaled_field(p).gradient).cwiseProduct(range_);
        Vector3 tangent = travel.x() * s.du + travel.y() * s.dv;
        const double size = tangent.norm();
        if (size > 0.0) tangent /= size;
        return {p, s.position, tangent};
    }

    static Point3 hermite(const TraceNode& a, const TraceNode& b, double t) {
        const double h = (b.position - a.position).norm();
        const double t2 = t * t, t3 = t2 * t;
        return (2 * t3 - 3 * t2 + 1) * a.position + (t3 - 2 * t2 + t) * h * a.tangent +
               (3 * t2 - 2 * t3) * b.position + (t3 - t2) * h * b.tangent;
    }

    /// Adds nodes until the cubic between two neighbours keeps to the true curve on the datum.
    void refine(const TraceNode& a, const TraceNode& b, int depth, std::vector<TraceNode>& out) const {
        const double span = (b.uv - a.uv).norm();
        if (depth > 0 && span > 1e-9) {
            const auto middle = correct(0.5 * (a.uv + b.uv), 0.5 * span);
            if (middle) {
                const TraceNode m = node_at(middle->at);
                // Off the cubic, measured across it; along it the parameter is free.
                const Point2 guess = hermite(a, b, 0.5).head<2>();
                const Vector2 off = m.position.head<2>() - guess;
                const Vector2 along = (b.position - a.position).head<2>();
                const double size = along.norm();
                const double across = size > tolerance_ ? std::abs(cross(along, off)) / size : off.norm();
                const bool bends = a.tangent.dot(b.tangent) < 0.7;
                if (across > 0.25 * tolerance_ || bends) {
                    refine(a, m, depth - 1, out);
                    refine(m, b, depth - 1, out);
                    return;
                }
            }
        }
        out.push_back(b);
    }

    /// Cubic spline through the nodes with their tangents, parameter: the length of the polyline.
    static Spline hermite_spline(const std::vector<TraceNode>& nodes) {
        Spline spline;
        spline.degree = 3;
        spline.poles.push_back(nodes.front().position.head<2>());
        double at = 0.0;
        spline.knots.assign(4, 0.0);
        for (std::size_t i = 0; i + 1 < nodes.size(); ++i) {
            const double h = (nodes[i + 1].position - nodes[i].position).norm();
            if (h < 1e-12) continue;
            if (at > 0.0) spline.knots.insert(spline.knots.end(), 2, at);
            at += h;
            spline.poles.push_back((nodes[i].position + h / 3.0 * nodes[i].tangent).head<2>());
            spline.poles.push_back((nodes[i + 1].position - h / 3.0 * nodes[i + 1].tangent).head<2>());
        }
        if (at == 0.0) fail("a fold is shorter than can be told from a point");
        spline.poles.push_back(nodes.back().position.head<2>());
        spline.knots.insert(spline.knots.end(), 4, at);
        return spline;
    }

    /// Loops of the zero set that touch no boundary: samples of the field on a grid, a change of sign
    /// between neighbours that no traced path explains starts a trace.
    void find_closed_loops() {
        const int columns = sample_count(true), rows = sample_count(false);
        std::vector<double> values;
        for (int j = 0; j <= rows; ++j)
            for (int i = 0; i <= columns; ++i)
                values.push_back(field_.value(unscale(grid_point(i, j, columns, rows))));
        const auto value = [&](int i, int j) {
            return values[static_cast<std::size_t>(j * (columns + 1) + i)];
        };
        for (int j = 0; j <= rows; ++j)
            for (int i = 0; i <= columns; ++i) {
                if (i < columns && (value(i, j) > 0.0) != (value(i + 1, j) > 0.0))
                    try_loop(grid_point(i, j, columns, rows), grid_point(i + 1, j, columns, rows));
                if (j < rows && (value(i, j) > 0.0) != (value(i, j + 1) > 0.0))
                    try_loop(grid_point(i, j, columns, rows), grid_point(i, j + 1, columns, rows));
            }
    }

    int sample_count(bool by_u) const {
        const GeomAdaptor_Surface& s = field_.surface().adaptor();
        int spans = 4;
        if (s.GetType() == GeomAbs_BSplineSurface || s.GetType() == GeomAbs_BezierSurface)
            spans = std::max(by_u ? s.NbUPoles() : s.NbVPoles(), 3);
        return std::clamp(2 * spans, 8, 48);
    }

    static Point2 grid_point(int i, int j, int columns, int rows) {
        // Not on the boundary, where the field is decided by the roots.
        const auto inside = [](int k, int n) { return 1e-4 + (1.0 - 2e-4) * k / n; };
        return {inside(i, columns), inside(j, rows)};
    }

    void try_loop(Point2 a, Point2 b) {
        const bool side = field_.value(unscale(a)) > 0.0;
        for (int i = 0; i < 60; ++i) {
            const Point2 middle = 0.5 * (a + b);
            ((field_.value(unscale(middle)) > 0.0) == side ? a : b) = middle;
        }
        const auto start = correct(0.5 * (a + b), 1e-3);
        if (!start || is_on_a_path(start->at)) return;
        if (!is_inside(start->at)) return;
        std::vector<Point2> path = {start->at};
        Step here = *start;
        double h = 0.01;
        for (int step = 0; step < most_steps; ++step) {
            const auto next = advance(here, h);
            if (!next) fail("a closed fold can't be followed");
            const Vector2 way = next->at - here.at;
            const double along = (start->at - here.at).dot(way) / way.squaredNorm();
            const double aside = std::abs(cross(way, start->at - here.at)) / way.norm();
            if (step > 2 && along > 0.0 && along <= 1.0 && aside < 0.1 * way.norm()) {
                path.push_back(start->at);
                finish(path, -1, -1);
                return;
            }
            if ((next->at.array() < -0.01).any() || (next->at.array() > 1.01).any()) break;
            path.push_back(next->at);
            here = *next;
        }
        fail("a fold crosses the boundary between two samples of it");
    }

    bool is_on_a_path(const Point2& p) const {
        for (const std::vector<Point2>& path : paths_)
            for (std::size_t i = 0; i + 1 < path.size(); ++i) {
                const Vector2 way = path[i + 1] - path[i];
                const double square = way.squaredNorm();
                if (square == 0.0) continue;
                const double along = std::clamp((p - path[i]).dot(way) / square, 0.0, 1.0);
                if ((path[i] + along * way - p).norm() < 0.1 * std::sqrt(square) + 1e-6) return true;
            }
        return false;
    }

    bool is_inside(const Point2& p) {
        if (!classifier_) classifier_.emplace(field_.surface().face(), 1e-9);
        const Point2 uv = unscale(p);
        return classifier_->Perform(gp_Pnt2d(uv.x(), uv.y())) == TopAbs_IN;
    }

    const LevelField& field_;
    Point2 low_;
    Vector2 range_;
    double tolerance_;
    std::vector<LevelCurve> curves_;
    std::vector<std::vector<Point2>> paths_;
    std::optional<BRepTopAdaptor_FClass2d> classifier_;
};

}  // namespace

std::vector<LevelCurve> trace_level_curves(const LevelField& field,
                                           const std::vector<BoundaryRoot>& roots,
                                           double tolerance) {
    return Tracer(field, tolerance).run(roots);
}

}  // namespace planform::flatten
