#include "flatten/zero_sets/tracer.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

#include "curve/bisection.hpp"
#include "flatten/bounds/smooth_spans.hpp"
#include "flatten/zero_sets/fold_fit.hpp"
#include "flatten/zero_sets/traced_paths.hpp"
#include "planform/error.hpp"
#include "solid/face_reach.hpp"

namespace planform::flatten {
namespace {

// Notation: p = (u, v) scaled to the unit square by the face's parameter box. A trace steps along
// the zero set by h in this scale.

class Tracer {
  public:
    Tracer(const FacingField& field, double tolerance)
        : field_(field),
          zero_set_(field, along_fold),
          reach_(field.surface(), narrow),
          tolerance_(tolerance),
          paths_(field.surface(), 1e-6) {
        for (const Parameter along : {Parameter::u, Parameter::v}) {
            const Eigen::Index axis = along == Parameter::u ? 0 : 1;
            spans_[axis] = smooth_spans(field.surface(), along);
            for (double& end : spans_[axis])
                end = (end - field.surface().low()[axis]) / zero_set_.range()[axis];
        }
    }

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
    /// Pieces of a surface shorter than this don't shorten steps.
    static constexpr double least_span = 1e-3;
    /// A trace that comes this near to an end has reached it: ends at vertices lie beside the zero
    /// set, and a start this near to an end was joined with it before.
    static constexpr double arrival = 1e-4;
    /// Cells of the search for closed folds, as a share of the face's parameter box, or of a
    /// polynomial piece of many: a cell this small that a traced path crosses is taken to hold that
    /// path alone; below a share of that folds are not looked for.
    static constexpr double explained_cell = 1.0 / 16.0;
    static constexpr double explained_share = 1.0 / 4.0;
    static constexpr double least_share = 1.0 / 16.0;
    static constexpr int cells_a_patch = 32;
    static constexpr int most_cells = 2000;
    /// A part of a face this narrow, as a share of its parameter box, that turns the other way
    /// along its boundary is left out: the outline moves by the second order of it.
    static constexpr double narrow = 2e-3;
    static constexpr int most_steps = 20000;
    /// How far the end of a fold on the boundary may be from the place inside; and how near to it
    /// the zero set has to come.
    static constexpr double polish_reach = 1e-3, same_place = 1e-9;

    [[noreturn]] static void fail(const std::string& cause) {
        throw GeometryError(ErrorKind::face_not_flattened, cause);
    }

    /// The longest step that passes over no whole piece of the surface: on many pieces folds may
    /// lie as close as these.
    double longest_step(const ZeroPoint& from) const {
        double step = ZeroSet::largest_step;
        for (const Eigen::Index axis : {0, 1}) {
            const std::vector<double>& ends = spans_[axis];
            if (ends.size() <= 2) continue;
            const auto above = std::upper_bound(ends.begin() + 1, ends.end() - 1, from.at[axis]);
            const double span = *above - *(above - 1);
            step = std::min(
                step, std::max(span, least_span) / std::max(std::abs(from.travel[axis]), 1e-3));
        }
        return step;
    }

    void trace_from(const std::vector<BoundaryRoot>& roots, std::size_t start,
                    std::vector<char>& used) {
        const Point2 begin = zero_set_.scale(roots[start].inner_uv);
        auto here = zero_set_.correct(begin, 1e-2);
        if (!here) here = zero_set_.point_at(begin);
        if (!here) fail("a fold starts where the surface is flat along the view");
        std::vector<Point2> path;
        if (const auto end = end_on_boundary(roots[start], here->at)) path.push_back(*end);
        path.push_back(here->at);
        double h = 0.01;
        for (int step = 0; step < most_steps; ++step) {
            h = std::min(h, longest_step(*here));
            const auto next = zero_set_.advance(*here, h);
            if (!next)
                fail("a fold can't be followed: the surface is flat or creased along the view");
            int end = passed_end(roots, used, *here, *next);
            if (end < 0 && ((next->at.array() < -1e-3).any() || (next->at.array() > 1.001).any())) {
                end = nearest_end(roots, used, *here, *next);
                if (end < 0)
                    fail("a fold runs out of the face between two samples of its boundary");
            }
            if (end >= 0) {
                const BoundaryRoot& root = roots[static_cast<std::size_t>(end)];
                used[static_cast<std::size_t>(end)] = 1;
                path.push_back(zero_set_.scale(root.inner_uv));
                if (const auto last = end_on_boundary(root, path.back())) path.push_back(*last);
                finish(path, roots[start].node, root.node);
                return;
            }
            path.push_back(next->at);
            here = next;
        }
        fail("a fold does not end");
    }

    /// The end of a fold on the boundary itself, if the zero set comes that far: beside an edge
    /// that it meets at a small angle this is well beyond the place inside.
    std::optional<Point2> end_on_boundary(const BoundaryRoot& root, const Point2& inside) const {
        const Point2 at = zero_set_.scale(root.uv);
        const double way = (at - inside).norm();
        if (way == 0.0 || way > polish_reach) return std::nullopt;
        const auto exact = zero_set_.correct(at, 0.1 * way);
        if (!exact || (exact->at - at).norm() > same_place) return std::nullopt;
        return at;
    }

    /// The unused ending root that lies on the way from one step to the next; -1 if none.
    int passed_end(const std::vector<BoundaryRoot>& roots, const std::vector<char>& used,
                   const ZeroPoint& from, const ZeroPoint& to) const {
        const Vector2 way = to.at - from.at;
        const double length = way.norm();
        int best = -1;
        double best_along = 2.0;
        bool best_is_on_way = false;
        for (std::size_t i = 0; i < roots.size(); ++i) {
            if (roots[i].starts || used[i]) continue;
            const Vector2 offset = zero_set_.scale(roots[i].inner_uv) - from.at;
            const double along = offset.dot(way) / (length * length);
            const double aside = std::abs(cross(way, offset)) / length;
            const bool is_close = offset.norm() < arrival || (offset - way).norm() < arrival;
            const bool is_beside = along >= -0.01 && along <= 1.01 && aside <= 0.1 * length + 1e-7;
            if (!is_close && !is_beside) continue;
            // Of folds close together, the end of another is the one farther aside.
            const bool is_on_way = is_close || aside <= 0.01 * length + 1e-7;
            if (best_is_on_way && !is_on_way) continue;
            if ((is_on_way && !best_is_on_way) || along < best_along) {
                best_along = along;
                best = static_cast<int>(i);
                best_is_on_way = is_on_way;
            }
        }
        return best;
    }

    /// The unused ending root next to the step that left the parameter box; -1 if none is near.
    int nearest_end(const std::vector<BoundaryRoot>& roots, const std::vector<char>& used,
                    const ZeroPoint& from, const ZeroPoint& to) const {
        const Vector2 way = to.at - from.at;
        int best = -1;
        double nearest = std::max(0.5 * way.norm(), 2e-3);
        for (std::size_t i = 0; i < roots.size(); ++i) {
            if (roots[i].starts || used[i]) continue;
            const Vector2 offset = zero_set_.scale(roots[i].inner_uv) - from.at;
            const double along = std::clamp(offset.dot(way) / way.squaredNorm(), 0.0, 1.0);
            const double distance = (offset - along * way).norm();
            if (distance >= nearest) continue;
            nearest = distance;
            best = static_cast<int>(i);
        }
        return best;
    }

    void finish(const std::vector<Point2>& path, int start_node, int end_node) {
        paths_.add(path);
        curves_.push_back({fit_path(zero_set_, path, tolerance_), start_node, end_node});
    }

    /// Loops of the zero set that touch no boundary. On splines bounds tell where the zero set can
    /// be, so that none is missed that is wider than the least cell; elsewhere samples on a grid
    /// must do.
    void find_closed_loops() {
        if (field_.bound().patches.empty()) {
            search_grid();
            return;
        }
        const solid::FaceSurface& surface = field_.surface();
        const Vector2 border = narrow * surface.range();
        const Box2 inner(surface.low() + border, surface.high() - border);
        noise_ = field_.bound().noise;
        std::vector<Cell> cells;
        for (const FacingPatch& whole : field_.bound().patches) {
            if (!whole.box().intersects(inner)) continue;
            FacingPatch patch = whole.within(inner);
            const Box2 cell = scaled(patch.box());
            cells.push_back({std::move(patch), reach_.near(cell),
                             std::min(explained_cell, explained_share * cell.sizes().maxCoeff())});
        }
        // Level by level, so that a face that is edge-on all over can't cost more than a bounded
        // search.
        const int most = most_cells + cells_a_patch * static_cast<int>(cells.size());
        for (int seen = 0; !cells.empty() && seen < most;) {
            std::vector<Cell> smaller;
            for (const Cell& cell : cells) search(cell, smaller);
            seen += static_cast<int>(cells.size());
            cells = std::move(smaller);
        }
    }

    /// A part of the parameter box in the search for closed folds.
    struct Cell {
        FacingPatch patch;
        solid::FaceReach::Near boundary;
        double explained;  ///< size from which on a path that crosses a cell is all there is in it
    };

    Box2 scaled(const Box2& box) const {
        return {zero_set_.scale(box.min()), zero_set_.scale(box.max())};
    }

    /// Starts a loop in the cell if there is one that is not known yet, or hands on its halves.
    void search(const Cell& from, std::vector<Cell>& smaller) {
        if (from.boundary.is_outside()) return;
        const FacingPatch& patch = from.patch;
        const double low = field_.outward() > 0 ? patch.low() : -patch.high();
        const double high = field_.outward() > 0 ? patch.high() : -patch.low();
        if (low > noise_ || high < noise_) return;
        const Box2 cell = scaled(patch.box());
        const double size = cell.sizes().maxCoeff();
        if (size <= from.explained) {
            if (paths_.meet(cell)) return;
            const bool is_last = size <= 0.25 * from.explained;
            if (const auto change = sign_change(from, cell, is_last)) {
                try_loop(change->first, change->second, from.boundary);
                if (paths_.meet(cell) || is_last) return;
            }
        }
        if (size <= least_share * from.explained) return;
        auto [first, second] = patch.halves(cell.sizes().x() > cell.sizes().y());
        for (FacingPatch* half : {&first, &second}) {
            const Box2 part = scaled(half->box());
            smaller.push_back({std::move(*half), reach_.near(part, from.boundary), from.explained});
        }
    }

    /// A place and the field's value there.
    struct Sample {
        Point2 at;
        double value;
    };

    /// Two corners of a cell at which the field has different signs, the positive one first. Of a
    /// cell that is to be halved only corners well inside the face count: what shows between them
    /// alone is not in the strips along its boundary.
    std::optional<std::pair<Sample, Sample>> sign_change(const Cell& from, const Box2& cell,
                                                         bool is_last) const {
        std::optional<Sample> above, below;
        for (const int u : {0, 1})
            for (const int v : {0, 1}) {
                const Point2 at(u == 0 ? cell.min().x() : cell.max().x(),
                                v == 0 ? cell.min().y() : cell.max().y());
                if (!is_last && !is_well_inside(at, from.boundary)) continue;
                const double value = field_.outward() * from.patch.corner(u, v);
                (value > noise_ ? above : below) = Sample{at, value - noise_};
            }
        if (!above || !below) return std::nullopt;
        return std::pair{*above, *below};
    }

    void search_grid() {
        const int columns = sample_count(true), rows = sample_count(false);
        std::vector<double> values;
        for (int j = 0; j <= rows; ++j)
            for (int i = 0; i <= columns; ++i)
                values.push_back(field_.value(zero_set_.unscale(grid_point(i, j, columns, rows))));
        const auto value = [&](int i, int j) {
            return values[static_cast<std::size_t>(j * (columns + 1) + i)];
        };
        const auto look_between = [&](int i, int j, int next_i, int next_j) {
            const Sample a = {grid_point(i, j, columns, rows), value(i, j)};
            const Sample b = {grid_point(next_i, next_j, columns, rows), value(next_i, next_j)};
            if ((a.value > 0.0) == (b.value > 0.0)) return;
            const solid::FaceReach::Near boundary = reach_.near(Box2(a.at, b.at));
            if (!boundary.is_outside()) try_loop(a, b, boundary);
        };
        for (int j = 0; j <= rows; ++j)
            for (int i = 0; i <= columns; ++i) {
                if (i < columns) look_between(i, j, i + 1, j);
                if (j < rows) look_between(i, j, i, j + 1);
            }
    }

    int sample_count(bool by_u) const {
        constexpr int least = 8, a_span = 6, most = 600;
        const auto spans = static_cast<int>(spans_[by_u ? 0 : 1].size()) - 1;
        return std::clamp(a_span * spans, least, most);
    }

    static Point2 grid_point(int i, int j, int columns, int rows) {
        // Not on the boundary, where the field is decided by the roots.
        const auto inside = [](int k, int n) { return 1e-4 + (1.0 - 2e-4) * k / n; };
        return {inside(i, columns), inside(j, rows)};
    }

    /// Between two places at which the field has different signs; `boundary`: what is near both.
    void try_loop(const Sample& a, const Sample& b, const solid::FaceReach::Near& boundary) {
        const Point2 guess = a.at + a.value / (a.value - b.value) * (b.at - a.at);
        if (!is_well_inside(guess, boundary)) return;
        auto start = zero_set_.correct(guess, 0.5 * (b.at - a.at).norm());
        if (!start) start = zero_set_.correct(bisected(a.at, b.at), 1e-3);
        if (!start || paths_.pass(start->at) ||
            !is_well_inside(start->at, reach_.near(Box2(start->at, start->at))))
            return;
        std::vector<Point2> path = {start->at};
        ZeroPoint here = *start;
        double h = 0.01;
        for (int step = 0; step < most_steps; ++step) {
            h = std::min(h, longest_step(here));
            const auto next = zero_set_.advance(here, h);
            if (!next) break;
            if (step > 2 && closes_loop(start->at, here.at, next->at)) {
                path.push_back(start->at);
                finish(path, -1, -1);
                return;
            }
            if (!paths_.is_inside_face(next->at))
                fail("a fold crosses the boundary between two samples of it");
            path.push_back(next->at);
            here = *next;
        }
        fail("a fold inside the face does not close");
    }

    /// A zero between two places at which the field has different signs.
    Point2 bisected(const Point2& a, const Point2& b) const {
        const bool side = field_.value(zero_set_.unscale(a)) > 0.0;
        return detail::bisected_place(a, b, 60, [&](const Point2& at) {
            return (field_.value(zero_set_.unscale(at)) > 0.0) == side;
        });
    }

    /// True if the face reaches on all sides beyond the strips in which parts are left out.
    /// `boundary`: what is near a rectangle that holds the place.
    bool is_well_inside(const Point2& p, const solid::FaceReach::Near& boundary) const {
        const solid::FaceReach::Near near = reach_.near(Box2(p, p), boundary);
        return near.sides.empty() && near.is_inside;
    }

    const FacingField& field_;
    ZeroSet zero_set_;
    solid::FaceReach reach_;
    double tolerance_;
    double noise_ = 0.0;
    std::vector<LevelCurve> curves_;
    TracedPaths paths_;
    std::array<std::vector<double>, 2> spans_;  ///< ends of pieces along u and v, scaled
};

}  // namespace

std::vector<LevelCurve> trace_level_curves(const FacingField& field,
                                           const std::vector<BoundaryRoot>& roots,
                                           double tolerance) {
    return Tracer(field, tolerance).run(roots);
}

}  // namespace planform::flatten
