#include "flatten/zero_sets/section_trace.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "flatten/zero_sets/plane_cut.hpp"
#include "flatten/zero_sets/section_seeds.hpp"
#include "flatten/zero_sets/traced_paths.hpp"
#include "planform/error.hpp"

namespace planform::flatten {
namespace {

// Notation: p = (u, v) scaled to the unit square by the face's parameter box. A trace steps along
// the zero set by h in this scale; the corrector goes down the gradient.

struct Step {
    Point2 at;
    Vector2 travel;  ///< unit
};

struct TraceNode {
    Point2 at;
    Point2 position;  ///< on the datum
    Vector2 tangent;  ///< unit, on the datum
};

class SectionTracer {
  public:
    SectionTracer(const HeightField& field, double tolerance)
        : field_(field),
          low_(field.surface().low()),
          range_(field.surface().range().cwiseMax(1e-300)),
          tolerance_(tolerance),
          paths_(field.surface(), 1e-7) {}

    std::vector<LevelCurve> run(const std::vector<BoundaryRoot>& roots) {
        std::vector<char> used(roots.size(), 0);
        for (const BoundaryRoot& root : roots)
            in_pole_.push_back(is_pole(scale(root.uv), scale(root.inner_uv)));
        for (std::size_t i = 0; i < roots.size(); ++i) {
            if (!roots[i].starts) continue;
            used[i] = 1;
            trace_from(roots, i, used);
        }
        for (const Point2& seed : section_seeds(field_)) try_loop(scale(seed));
        return std::move(curves_);
    }

  private:
    static constexpr double first_step = 0.01, largest_step = 0.05, smallest_step = 1e-10;
    static constexpr double widest_turn = 0.2;  // rad a step
    static constexpr int most_steps = 20000;
    static constexpr double crease_radius = 1e-6;

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

    std::optional<Step> correct(Point2 p, double reach) const {
        const Point2 start = p;
        for (int i = 0; i < 20; ++i) {
            const FieldValue f = scaled_field(p);
            const double square = f.gradient.squaredNorm();
            if (!(square > 0.0)) return std::nullopt;
            const Vector2 change = -f.value / square * f.gradient;
            p += change;
            if (!((p - start).norm() <= reach)) return std::nullopt;
            if (change.norm() < 1e-14) break;
        }
        return step_at(p);
    }

    std::optional<Step> step_at(const Point2& p) const {
        const Vector2 travel = field_.travel(scaled_field(p).gradient);
        const double size = travel.norm();
        if (!(size > 0.0)) return std::nullopt;
        return Step{p, travel / size};
    }

    /// One step of at most h along the zero set; h comes back as what suits the next step.
    std::optional<Step> advance(const Step& from, double& h) const {
        for (; h > smallest_step; h *= 0.5) {
            const auto next = correct(from.at + h * from.travel, 0.5 * h);
            if (!next) continue;
            const double turn =
                std::atan2(cross(from.travel, next->travel), from.travel.dot(next->travel));
            if (std::abs(turn) > widest_turn) continue;
            if (std::abs(turn) < 0.4 * widest_turn) h = std::min(1.6 * h, largest_step);
            return next;
        }
        return std::nullopt;
    }

    /// A step, over a crease of the surface where there is one.
    std::optional<Step> step_from(const Step& from, double& h) const {
        if (auto next = advance(from, h)) return next;
        h = crease_radius;
        return past_crease(from);
    }

    /// Where the surface has a crease the zero set turns at once: the signs on a small circle tell
    /// where it leaves, positive side on the left.
    std::optional<Step> past_crease(const Step& from) const {
        constexpr int samples = 64;
        const double start = std::atan2(from.travel.y(), from.travel.x());
        const auto on_circle = [&](double angle) -> Point2 {
            return from.at + crease_radius * Vector2(std::cos(angle), std::sin(angle));
        };
        const auto is_left = [&](double angle) {
            return (field_.value(unscale(on_circle(angle))) > 0.0) == (field_.outward() > 0);
        };
        std::optional<double> exit;  // the one that turns least
        for (int i = 0; i < samples; ++i) {
            double low = start + pi * (2.0 * i / samples - 1.0), high = low + 2.0 * pi / samples;
            if (is_left(low) || !is_left(high)) continue;
            for (int k = 0; k < 40; ++k) {
                const double middle = 0.5 * (low + high);
                (is_left(middle) ? high : low) = middle;
            }
            const double angle = 0.5 * (low + high);
            if (!exit || std::abs(angle - start) < std::abs(*exit - start)) exit = angle;
        }
        if (!exit) return std::nullopt;
        if (auto exact = correct(on_circle(*exit), 0.1 * crease_radius)) return exact;
        return Step{on_circle(*exit), Vector2(std::cos(*exit), std::sin(*exit))};
    }

    void trace_from(const std::vector<BoundaryRoot>& roots, std::size_t start,
                    std::vector<char>& used) {
        const Point2 begin = scale(roots[start].uv);
        const Point2 inner = scale(roots[start].inner_uv);
        auto here = correct(in_pole_[start] != 0 ? inner : begin, 1e-3);
        if (!here) here = step_at(begin);
        if (!here) fail("its section starts where the surface is flat along the plane");
        std::vector<Point2> path = {begin};
        double h = first_step;
        for (int step = 0; step < most_steps; ++step) {
            int end = pole_ahead(roots, used, *here, h);
            const auto next = end < 0 ? step_from(*here, h) : here;
            if (!next)
                fail(
                    "its section can't be followed: the surface lies in the plane or has a crease");
            if (end < 0) end = passed_end(roots, used, *here, *next, step == 0);
            if (end >= 0) {
                used[static_cast<std::size_t>(end)] = 1;
                path.push_back(scale(roots[static_cast<std::size_t>(end)].uv));
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
        return scaled_field(at).gradient.norm() < 0.1 * scaled_field(inside).gradient.norm();
    }

    /// The unused ending root in a pole that the next step would pass: beyond it there is no
    /// surface to step on. -1 if none.
    int pole_ahead(const std::vector<BoundaryRoot>& roots, const std::vector<char>& used,
                   const Step& from, double h) const {
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
                   const Step& from, const Step& to, bool first) const {
        const Vector2 way = to.at - from.at;
        const double length = way.norm();
        int best = -1;
        double nearest = 2.0;
        for (std::size_t i = 0; i < roots.size(); ++i) {
            if (roots[i].starts || used[i] != 0) continue;
            const Vector2 offset = scale(roots[i].uv) - from.at;
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
        const double u = s.IsUPeriodic() ? s.UPeriod() / range_.x() : 0.0;
        const double v = s.IsVPeriodic() ? s.VPeriod() / range_.y() : 0.0;
        for (const double i : {0.0, -1.0, 1.0})
            for (const double j : {0.0, -1.0, 1.0}) {
                if ((i != 0.0 && u == 0.0) || (j != 0.0 && v == 0.0)) continue;
                if (paths_.pass(at + Vector2(i * u, j * v))) return true;
            }
        return false;
    }

    void try_loop(const Point2& seed) {
        const auto start = correct(seed, 1e-3);
        if (!start || is_traced(start->at) || !paths_.is_inside_face(start->at)) return;
        std::vector<Point2> path = {start->at};
        Step here = *start;
        // A small loop turns soon: the step finds its length from the turn.
        double h = first_step;
        for (int step = 0; step < most_steps; ++step) {
            const auto next = step_from(here, h);
            if (!next) fail("a loop of its section can't be followed");
            const Vector2 way = next->at - here.at;
            const double along = (start->at - here.at).dot(way) / way.squaredNorm();
            const double aside = std::abs(cross(way, start->at - here.at)) / way.norm();
            if (step > 2 && along > 0.0 && along <= 1.0 && aside < 0.1 * way.norm()) {
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
        const solid::SurfacePoint s = field_.surface().first_order(unscale(p));
        const Vector2 gradient(s.du.z() * range_.x(), s.dv.z() * range_.y());
        const Vector2 travel = field_.travel(gradient).cwiseProduct(range_);
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
            const auto middle = correct(0.5 * (a.at + b.at), 0.5 * span);
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
    Point2 low_;
    Vector2 range_;
    double tolerance_;
    std::vector<char> in_pole_;  ///< by root
    std::vector<LevelCurve> curves_;
    TracedPaths paths_;
};

/// Takes out pairs of a start and an end that lie within `reach` mm of each other, nearest first,
/// and joins them straight: edges of a model miss each other by less.
std::vector<LevelCurve> join_close_pairs(const HeightField& field, double reach,
                                         std::vector<BoundaryRoot>& roots) {
    std::vector<LevelCurve> joined;
    const auto place = [&](const BoundaryRoot& root) -> Point3 {
        return field.surface().first_order(root.uv).position;
    };
    while (true) {
        std::size_t start = roots.size(), end = roots.size();
        double nearest = reach;
        for (std::size_t i = 0; i < roots.size(); ++i)
            for (std::size_t j = 0; j < roots.size(); ++j) {
                if (!roots[i].starts || roots[j].starts) continue;
                const double distance = (place(roots[i]) - place(roots[j])).norm();
                if (distance >= nearest) continue;
                nearest = distance;
                start = i;
                end = j;
            }
        if (start == roots.size()) return joined;
        LevelCurve curve{{}, roots[start].node, roots[end].node};
        const Line line{place(roots[start]).head<2>(), place(roots[end]).head<2>()};
        if (line.start != line.end) curve.curves = {line};
        joined.push_back(std::move(curve));
        roots.erase(roots.begin() + static_cast<std::ptrdiff_t>(std::max(start, end)));
        roots.erase(roots.begin() + static_cast<std::ptrdiff_t>(std::min(start, end)));
    }
}

}  // namespace

std::vector<LevelCurve> trace_section(const HeightField& field,
                                      const std::vector<BoundaryRoot>& roots, double tolerance) {
    try {
        return SectionTracer(field, tolerance).run(roots);
    } catch (const GeometryError&) {
        // Next to a corner the edges of a model may lie the wrong way round.
        std::vector<BoundaryRoot> others = roots;
        std::vector<LevelCurve> curves = join_close_pairs(field, 0.1 * tolerance, others);
        if (curves.empty()) throw;
        for (LevelCurve& curve : SectionTracer(field, tolerance).run(others))
            curves.push_back(std::move(curve));
        return curves;
    }
}

}  // namespace planform::flatten
