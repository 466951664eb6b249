#include "model/boundary_unwrap.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <gp_Vec2d.hxx>
#include <limits>
#include <utility>

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
    Vector2 shift = Vector2::Zero();
};

class Unwrap {
  public:
    Unwrap(std::vector<ParameterCurve>& boundary, std::span<const BoundaryUse> uses,
           const Vector2& periods)
        : boundary_(boundary), periods_(periods) {
        for (std::size_t i = 0; i < boundary.size(); ++i) {
            const ParameterCurve& side = boundary[i];
            const auto at = [&](double t) {
                const gp_Pnt2d p = side.curve->Value(t);
                return Point2(p.X(), p.Y());
            };
            Run run{uses[i].edge, at(side.first), at(0.5 * (side.first + side.last)),
                    at(side.last)};
            if (!uses[i].along) std::swap(run.start, run.end);
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
    /// account; none if the loop's own start is nearer than any. Of two that are equally near not
    /// the other side of the same seam, else the one that is nearer as it stands.
    std::size_t following(std::size_t here, const Point2& end, std::size_t first) const {
        const double period = periods_.maxCoeff();
        const double alike = 1e-6 * period;
        const auto off = [&](const Point2& start) {
            return (start + whole_periods(start, end, periods_) - end).norm();
        };
        std::size_t best = runs_.size();
        double nearest = std::numeric_limits<double>::infinity();
        std::pair<bool, double> least;  // turns back along the seam, distance as it stands
        for (std::size_t i = 0; i < runs_.size(); ++i) {
            if (taken_[i]) continue;
            const double distance = off(runs_[i].start);
            const std::pair<bool, double> order(runs_[i].edge == runs_[here].edge,
                                                (runs_[i].start - end).norm());
            if (distance > nearest + alike) continue;
            if (distance > nearest - alike && order >= least) continue;
            best = i;
            nearest = distance;
            least = order;
        }
        return off(runs_[first].start) < nearest - alike ? runs_.size() : best;
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

bool unwrap_boundary(std::vector<ParameterCurve>& boundary, std::span<const BoundaryUse> uses,
                     const Vector2& periods) {
    if (boundary.empty()) return false;
    const auto has_curve = [](const ParameterCurve& side) { return !side.curve.IsNull(); };
    if (!std::all_of(boundary.begin(), boundary.end(), has_curve)) return false;
    return Unwrap(boundary, uses, periods).run();
}

}  // namespace planform::model
