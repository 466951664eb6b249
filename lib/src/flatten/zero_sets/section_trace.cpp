#include "flatten/zero_sets/section_trace.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "flatten/collect/attempt.hpp"
#include "flatten/zero_sets/plane_cut.hpp"
#include "flatten/zero_sets/section_seeds.hpp"
#include "flatten/zero_sets/straight_joins.hpp"
#include "flatten/zero_sets/traced_paths.hpp"
#include "flatten/zero_sets/zero_set.hpp"
#include "planform/error.hpp"

namespace planform::flatten {
namespace {

struct TraceNode {
    Point2 at;
    Point2 position;  ///< on the datum
    Vector2 tangent;  ///< unit, on the datum
};

class SectionTracer {
  public:
    SectionTracer(const HeightField& field, double tolerance)
        : field_(field),
          zero_set_(field, along_section),
          tolerance_(tolerance),
          paths_(field.surface(), 1e-7) {}

    std::vector<LevelCurve> run(const std::vector<BoundaryRoot>& roots) {
        std::vector<char> used(roots.size(), 0);
        for (const BoundaryRoot& root : roots)
            in_pole_.push_back(is_pole(zero_set_.scale(root.uv), zero_set_.scale(root.inner_uv)));
        for (std::size_t i = 0; i < roots.size(); ++i) {
            if (!roots[i].starts) continue;
            used[i] = 1;
            trace_from(roots, i, used);
        }
        for (const Point2& seed : section_seeds(field_)) try_loop(zero_set_.scale(seed));
        return std::move(curves_);
    }

  private:
    static constexpr double first_step = 0.01;
    static constexpr int most_steps = 20000;

    [[noreturn]] static void fail(const std::string& cause) {
        throw GeometryError(ErrorKind::face_not_flattened, cause);
    }

    void trace_from(const std::vector<BoundaryRoot>& roots, std::size_t start,
                    std::vector<char>& used) {
        const Point2 begin = zero_set_.scale(roots[start].uv);
        const Point2 inner = zero_set_.scale(roots[start].inner_uv);
        auto here = zero_set_.correct(in_pole_[start] != 0 ? inner : begin, 1e-3);
        if (!here) here = zero_set_.point_at(begin);
        if (!here) fail("its section starts where the surface is flat along the plane");
        std::vector<Point2> path = {begin};
        double h = first_step;
        for (int step = 0; step < most_steps; ++step) {
            int end = pole_ahead(roots, used, *here, h);
            const auto next = end < 0 ? zero_set_.advance(*here, h) : here;
            if (!next)
                fail(
                    "its section can't be followed: the surface lies in the plane or has a crease");
            if (end < 0) end = passed_end(roots, used, *here, *next, step == 0);
            if (end >= 0) {
                used[static_cast<std::size_t>(end)] = 1;
                path.push_back(zero_set_.scale(roots[static_cast<std::size_t>(end)].uv));
                finish(path, roots[start].node, roots[static_cast<std::size_t>(end)].node);
                return;
            }
            if ((next->at.array() < -0.05).any() || (next->at.array() > 1.05).any())
                fail("its section leaves the face between the ends that its boundary gives");
            path.push_back(next->at);
            here = next;
        }
        fail("its section does not end");
    }

    /// In a pole all directions along the surface are one place, and the gradient there is noise.
    bool is_pole(const Point2& at, const Point2& inside) const {
        return zero_set_.scaled_field(at).gradient.norm() <
               0.1 * zero_set_.scaled_field(inside).gradient.norm();
    }

    /// The unused ending root in a pole that the next step would pass: beyond it there is no
    /// surface to step on. -1 if none.
    int pole_ahead(const std::vector<BoundaryRoot>& roots, const std::vector<char>& used,
                   const ZeroPoint& from, double h) const {
        std::vector<char> taken = used;
        bool any = false;
        for (std::size_t i = 0; i < roots.size(); ++i) {
            any = any || (in_pole_[i] != 0 && taken[i] == 0 && !roots[i].starts);
            if (in_pole_[i] == 0) taken[i] = 1;
        }
        if (!any) return -1;
        return passed_end(roots, taken, from, {from.at + h * from.travel, from.travel}, false);
    }

    /// The unused ending root on the way from one step to the next; -1 if none.
    int passed_end(const std::vector<BoundaryRoot>& roots, const std::vector<char>& used,
                   const ZeroPoint& from, const ZeroPoint& to, bool first) const {
        const Vector2 way = to.at - from.at;
        const double length = way.norm();
        int best = -1;
        double nearest = 2.0;
        for (std::size_t i = 0; i < roots.size(); ++i) {
            if (roots[i].starts || used[i] != 0) continue;
            const Vector2 offset = zero_set_.scale(roots[i].uv) - from.at;
            const double along = offset.dot(way) / (length * length);
            const double aside = std::abs(cross(way, offset)) / length;
            // The curve may start in a corner and leave it again: an end there lies a hair behind.
            const double least = first ? -1e-7 / length : -0.01;
            if (along < least || along > 1.01 || aside > 0.1 * length + 1e-7) continue;
            if (along < nearest) {
                nearest = along;
                best = static_cast<int>(i);
            }
        }
        return best;
    }

    /// On a path that is known; the box of a face may hold a place twice, a period apart.
    bool is_traced(const Point2& at) const {
        const GeomAdaptor_Surface& s = field_.surface().adaptor();
        const double u = s.IsUPeriodic() ? s.UPeriod() / zero_set_.range().x() : 0.0;
        const double v = s.IsVPeriodic() ? s.VPeriod() / zero_set_.range().y() : 0.0;
        for (const double i : {0.0, -1.0, 1.0})
            for (const double j : {0.0, -1.0, 1.0}) {
                if ((i != 0.0 && u == 0.0) || (j != 0.0 && v == 0.0)) continue;
                if (paths_.pass(at + Vector2(i * u, j * v))) return true;
            }
        return false;
    }

    void try_loop(const Point2& seed) {
        const auto start = zero_set_.correct(seed, 1e-3);
        if (!start || is_traced(start->at) || !paths_.is_inside_face(start->at)) return;
        std::vector<Point2> path = {start->at};
        ZeroPoint here = *start;
        // A small loop turns soon: the step finds its length from the turn.
        double h = first_step;
        for (int step = 0; step < most_steps; ++step) {
            const auto next = zero_set_.advance(here, h);
            if (!next) fail("a loop of its section can't be followed");
            if (step > 2 && closes_loop(start->at, here.at, next->at)) {
                path.push_back(start->at);
                finish(path, -1, -1);
                return;
            }
            if ((next->at.array() < -0.01).any() || (next->at.array() > 1.01).any()) {
                skip(path);
                return;
            }
            path.push_back(next->at);
            here = *next;
        }
        fail("a loop of its section does not close");
    }

    /// A seed within rounding of the boundary, on a curve that runs outside the face.
    void skip(const std::vector<Point2>& path) {
        Point2 middle = path[path.size() / 2];
        if (path.size() > 4 && paths_.is_inside_face(middle))
            fail("its section leaves the face between the ends that its boundary gives");
        paths_.add(path);
    }

    void finish(const std::vector<Point2>& path, int start_node, int end_node) {
        paths_.add(path);
        std::vector<TraceNode> nodes;
        for (const Point2& p : path) nodes.push_back(node_at(p));
        take_tangent_beside(nodes.front(), path.front(), path[1]);
        take_tangent_beside(nodes.back(), path.back(), path[path.size() - 2]);
        std::vector<TraceNode> fine = {nodes.front()};
        for (std::size_t i = 0; i + 1 < nodes.size(); ++i) refine(nodes[i], nodes[i + 1], 14, fine);
        const std::optional<Spline> spline = hermite_spline(fine);
        LevelCurve curve{{}, start_node, end_node};
        if (spline)
            curve.curves.push_back(canonical(*spline, 1e-7));
        else if (start_node < 0)
            return;  // a loop that is a point
        curves_.push_back(std::move(curve));
    }

    /// In a pole of the surface.
    void take_tangent_beside(TraceNode& node, const Point2& at, const Point2& next) const {
        if (node.tangent.isZero(0.0)) node.tangent = node_at(at + 1e-6 * (next - at)).tangent;
    }

    TraceNode node_at(const Point2& p) const {
        const solid::SurfacePoint s = field_.surface().first_order(zero_set_.unscale(p));
        const Vector2 gradient(s.du.z() * zero_set_.range().x(), s.dv.z() * zero_set_.range().y());
        const Vector2 travel = field_.travel(gradient).cwiseProduct(zero_set_.range());
        Vector2 tangent = (travel.x() * s.du + travel.y() * s.dv).head<2>();
        const double size = tangent.norm();
        if (size > 0.0) tangent /= size;
        return {p, s.position.head<2>(), tangent};
    }

    /// Adds nodes until the cubic between two neighbours keeps to the true curve.
    void refine(const TraceNode& a, const TraceNode& b, int depth,
                std::vector<TraceNode>& out) const {
        const double span = (b.at - a.at).norm();
        if (depth > 0 && span > 1e-10) {
            const auto middle = zero_set_.correct(0.5 * (a.at + b.at), 0.5 * span);
            if (middle) {
                const TraceNode m = node_at(middle->at);
                const double h = (b.position - a.position).norm();
                const Point2 guess =
                    0.5 * (a.position + b.position) + h / 8.0 * (a.tangent - b.tangent);
                const Vector2 off = m.position - guess, along = b.position - a.position;
                // Off the cubic, measured across it; along it the parameter is free.
                const double across = h > tolerance_ ? std::abs(cross(along, off)) / h : off.norm();
                if (across > 0.1 * tolerance_ || a.tangent.dot(b.tangent) < 0.7) {
                    refine(a, m, depth - 1, out);
                    refine(m, b, depth - 1, out);
                    return;
                }
            }
        }
        out.push_back(b);
    }

    /// Cubic spline through the nodes with their tangents; nothing if it would be a point.
    static std::optional<Spline> hermite_spline(const std::vector<TraceNode>& nodes) {
        Spline spline;
        spline.degree = 3;
        spline.poles.push_back(nodes.front().position);
        spline.knots.assign(4, 0.0);
        double at = 0.0;
        const TraceNode* last = &nodes.front();
        for (std::size_t i = 1; i < nodes.size(); ++i) {
            const double h = (nodes[i].position - last->position).norm();
            if (h < 1e-11) continue;
            if (at > 0.0) spline.knots.insert(spline.knots.end(), 3, at);
            at += h;
            spline.poles.push_back(last->position + h / 3.0 * last->tangent);
            spline.poles.push_back(nodes[i].position - h / 3.0 * nodes[i].tangent);
            spline.poles.push_back(nodes[i].position);
            last = &nodes[i];
        }
        if (at == 0.0) return std::nullopt;
        spline.knots.insert(spline.knots.end(), 4, at);
        return spline;
    }

    const HeightField& field_;
    ZeroSet zero_set_;
    double tolerance_;
    std::vector<char> in_pole_;  ///< by root
    std::vector<LevelCurve> curves_;
    TracedPaths paths_;
};

/// Of roots that lie within `reach` mm of each other: edges of a model miss each other by less.
std::vector<LevelCurve> join_close_pairs(const HeightField& field, double reach,
                                         std::vector<BoundaryRoot>& roots) {
    const auto place = [&](const BoundaryRoot& root) -> Point3 {
        return field.surface().first_order(root.uv).position;
    };
    return join_nearest(field.surface(), roots, reach,
                        [&](const BoundaryRoot& start, const BoundaryRoot& end) {
                            return (place(start) - place(end)).norm();
                        });
}

}  // namespace

std::vector<LevelCurve> trace_section(const HeightField& field,
                                      const std::vector<BoundaryRoot>& roots, double tolerance) {
    std::vector<LevelCurve> curves;
    const std::optional<Setback> by_roots =
        attempt([&] { curves = SectionTracer(field, tolerance).run(roots); });
    if (!by_roots) return curves;
    // Next to a corner the edges of a model may lie the wrong way round.
    std::vector<BoundaryRoot> others = roots;
    curves = join_close_pairs(field, 0.1 * tolerance, others);
    if (curves.empty()) by_roots->raise();
    const std::vector<LevelCurve> traced =
        by_roots->otherwise([&] { return SectionTracer(field, tolerance).run(others); });
    curves.insert(curves.end(), traced.begin(), traced.end());
    return curves;
}

}  // namespace planform::flatten
