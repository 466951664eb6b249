#include "model/heal/boundary_unwrap.hpp"

#include <TopoDS_Iterator.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <gp_Vec2d.hxx>
#include <limits>
#include <utility>

#include "model/kernel/points.hpp"

namespace planform::model {
namespace {

/// Shift by whole periods that brings `from` nearest to `to`.
Vector2 whole_periods(const Vector2& from, const Vector2& to, const Vector2& periods) {
    Vector2 shift = Vector2::Zero();
    for (const Eigen::Index axis : {0, 1})
        if (periods[axis] > 0.0)
            shift[axis] = periods[axis] * std::round((to[axis] - from[axis]) / periods[axis]);
    return shift;
}

/// Where one curve of the boundary starts and ends when the boundary is walked, and its middle.
struct Run {
    int edge;
    Point2 start, middle, end;
    const void *start_vertex, *end_vertex;
    Vector2 shift = Vector2::Zero();

    bool follows(const Run& other) const {
        return start_vertex != nullptr && start_vertex == other.end_vertex;
    }
};

class Unwrap {
  public:
    Unwrap(std::vector<ParameterCurve>& boundary, std::span<const BoundaryUse> uses,
           const Vector2& periods)
        : boundary_(boundary), periods_(periods) {
        for (std::size_t i = 0; i < boundary.size(); ++i) {
            const ParameterCurve& side = boundary[i];
            const auto at = [&](double t) { return from_kernel(side.curve->Value(t)); };
            Run run{uses[i].edge,  at(side.first), at(0.5 * (side.first + side.last)),
                    at(side.last), uses[i].start,  uses[i].end};
            if (!uses[i].along) {
                std::swap(run.start, run.end);
                std::swap(run.start_vertex, run.end_vertex);
            }
            runs_.push_back(run);
        }
    }

    bool run() {
        taken_.assign(runs_.size(), 0);
        for (std::size_t i = 0; i < runs_.size(); ++i)
            if (!taken_[i]) walk_loop(i);
        gather_loops();
        bool moved = false;
        for (std::size_t i = 0; i < runs_.size(); ++i)
            if (!runs_[i].shift.isZero(0.0)) {
                move(boundary_[i], runs_[i].shift);
                moved = true;
            }
        return moved;
    }

  private:
    void walk_loop(std::size_t first) {
        std::vector<std::size_t> loop = {first};
        taken_[first] = 1;
        for (std::size_t here = first; here < runs_.size();) {
            const Point2 end = runs_[here].end + runs_[here].shift;
            here = following(here, end, first);
            if (here == runs_.size()) break;
            taken_[here] = 1;
            runs_[here].shift = whole_periods(runs_[here].start, end, periods_);
            loop.push_back(here);
        }
        loops_.push_back(loop);
    }

    /// The curve that starts nearest to where the last one ended, whole periods left out of
    /// account, among those that start at its vertex if any do; none if the loop's own start is
    /// nearer than any. Of two that are equally near not the other side of the same seam, else the
    /// one that is nearer as it stands. Edges may miss a vertex that they share by its tolerance,
    /// so there more counts as equally near.
    std::size_t following(std::size_t here, const Point2& end, std::size_t first) const {
        const bool by_vertex = runs_[first].follows(runs_[here]) || any_follows(here);
        if (by_vertex && !any_follows(here)) return runs_.size();
        const double alike = (by_vertex ? 1e-3 : 1e-6) * periods_.maxCoeff();
        const auto off = [&](const Point2& start) {
            return (start + whole_periods(start, end, periods_) - end).norm();
        };
        double nearest = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < runs_.size(); ++i)
            if (is_candidate(i, here, by_vertex)) nearest = std::min(nearest, off(runs_[i].start));
        std::size_t best = runs_.size();
        std::pair<bool, double> least;  // turns back along the seam, distance as it stands
        for (std::size_t i = 0; i < runs_.size(); ++i) {
            if (!is_candidate(i, here, by_vertex) || off(runs_[i].start) > nearest + alike)
                continue;
            const std::pair<bool, double> order(runs_[i].edge == runs_[here].edge,
                                                (runs_[i].start - end).norm());
            if (best != runs_.size() && order >= least) continue;
            best = i;
            least = order;
        }
        const bool may_close = !by_vertex || runs_[first].follows(runs_[here]);
        return may_close && off(runs_[first].start) < nearest - alike ? runs_.size() : best;
    }

    bool is_candidate(std::size_t i, std::size_t here, bool by_vertex) const {
        return !taken_[i] && (!by_vertex || runs_[i].follows(runs_[here]));
    }

    bool any_follows(std::size_t here) const {
        for (std::size_t i = 0; i < runs_.size(); ++i)
            if (is_candidate(i, here, true)) return true;
        return false;
    }

    Box2 box_of(const std::vector<std::size_t>& loop) const {
        Box2 box;
        for (const std::size_t i : loop)
            for (const Point2* p : {&runs_[i].start, &runs_[i].middle, &runs_[i].end})
                box.extend(Point2(*p + runs_[i].shift));
        return box;
    }

    void gather_loops() {
        std::size_t widest = 0;
        for (std::size_t i = 1; i < loops_.size(); ++i)
            if (box_of(loops_[i]).sizes().norm() > box_of(loops_[widest]).sizes().norm())
                widest = i;
        const Box2 whole = box_of(loops_[widest]);
        for (std::size_t i = 0; i < loops_.size(); ++i) {
            const Point2 middle = box_of(loops_[i]).center();
            if (i == widest || whole.contains(middle)) continue;
            const Vector2 shift = whole_periods(middle, whole.center(), periods_);
            for (const std::size_t k : loops_[i]) runs_[k].shift += shift;
        }
    }

    static void move(ParameterCurve& side, const Vector2& shift) {
        side.curve =
            Handle(Geom2d_Curve)::DownCast(side.curve->Translated(gp_Vec2d(shift.x(), shift.y())));
    }

    std::vector<ParameterCurve>& boundary_;
    Vector2 periods_;
    std::vector<Run> runs_;
    std::vector<char> taken_;
    std::vector<std::vector<std::size_t>> loops_;
};

}  // namespace

BoundaryUse boundary_use(const TopoDS_Edge& shape, int edge, bool along) {
    BoundaryUse use{edge, along};
    for (TopoDS_Iterator vertices(shape.Oriented(TopAbs_FORWARD)); vertices.More();
         vertices.Next()) {
        const void* vertex = vertices.Value().TShape().get();
        if (vertices.Value().Orientation() == TopAbs_FORWARD) use.start = vertex;
        if (vertices.Value().Orientation() == TopAbs_REVERSED) use.end = vertex;
    }
    return use;
}

bool unwrap_boundary(std::vector<ParameterCurve>& boundary, std::span<const BoundaryUse> uses,
                     const Vector2& periods) {
    if (boundary.empty()) return false;
    const auto has_curve = [](const ParameterCurve& side) { return !side.curve.IsNull(); };
    if (!std::all_of(boundary.begin(), boundary.end(), has_curve)) return false;
    return Unwrap(boundary, uses, periods).run();
}

}  // namespace planform::model
