#include "flatten/zero_sets/level_curves.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <string>
#include <utility>

#include "curve/angles.hpp"
#include "flatten/kinds/branch.hpp"
#include "flatten/zero_sets/plane_cut.hpp"
#include "flatten/zero_sets/ruling_folds.hpp"
#include "flatten/zero_sets/section_trace.hpp"
#include "flatten/zero_sets/stop_pairing.hpp"
#include "flatten/zero_sets/straight_joins.hpp"
#include "flatten/zero_sets/tracer.hpp"
#include "planform/error.hpp"
#include "solid/face_interior.hpp"
#include "solid/inset_curve.hpp"

namespace planform::flatten {
namespace {

[[noreturn]] void fail(const std::string& cause) {
    throw GeometryError(ErrorKind::face_not_flattened, cause);
}

/// A root by its place on a branch.
struct Stop {
    double order;  ///< parameter a little inside the face: tells apart roots on a seam
    double exact;  ///< parameter on the boundary
    bool starts;
    int node;
};

struct CurvePiece {
    Stop from, to;
};

/// Of a face's boundary, in its parameters.
constexpr double usual_width = 1e-7;

/// Joins the roots along the branches of a closed form: along a branch, starts and ends alternate.
class BranchJoiner {
  public:
    /// Where branches that end are asked about: a section's may meet on the face's own boundary.
    enum class Ends { inside, may_lie_on_boundary };

    /// `boundary_width` in parameters: places nearer to the boundary don't count as inside.
    BranchJoiner(const LevelField& field, const std::vector<Branch>& branches, Ends ends,
                 double boundary_width, double tolerance)
        : field_(field),
          branches_(branches),
          ends_(ends),
          misplaced_at_most_(0.1 * tolerance),
          stops_(branches.size()),
          interior_(field.surface(), boundary_width) {}

    std::vector<LevelCurve> run(const std::vector<BoundaryRoot>& roots) {
        for (const BoundaryRoot& root : roots) place(root);
        for (std::size_t i = 0; i < branches_.size(); ++i) join(branches_[i], stops_[i]);
        return std::move(curves_);
    }

  private:
    void place(const BoundaryRoot& root) {
        std::size_t best = 0;
        for (std::size_t i = 1; i < branches_.size(); ++i)
            if (branches_[i].distance(root.inner_uv) < branches_[best].distance(root.inner_uv))
                best = i;
        if (branches_.empty()) fail("the boundary crosses a fold that the surface does not have");
        const Branch& branch = branches_[best];
        const double order = branch.parameter(root.inner_uv);
        double exact = branch.parameter(root.uv);
        if (branch.period) exact += *branch.period * std::round((order - exact) / *branch.period);
        stops_[best].push_back({order, exact, root.starts, root.node});
    }

    /// True if the positive side is on the left in the direction of growing parameter. Asked at a
    /// few places, since (u, v) jumps at poles: the one counts where the branch runs most along the
    /// zero set.
    bool runs_forward(const Branch& branch, double at) const {
        constexpr double step = 1e-4;
        const std::vector<double> offsets =
            branch.period ? std::vector<double>{0.0, 0.37, 1.13, 2.71} : std::vector<double>{0.0};
        double best = 0.0;
        for (const double offset : offsets) {
            const Vector2 tangent =
                without_jump(branch.uv(at + offset + step) - branch.uv(at + offset - step));
            const Vector2 travel =
                field_.travel(field_.with_gradient(branch.uv(at + offset)).gradient);
            const double cosine = tangent.dot(travel) / (tangent.norm() * travel.norm());
            if (std::abs(cosine) > std::abs(best)) best = cosine;
        }
        return best > 0.0;
    }

    /// Difference of two near places in (u, v), a full turn taken off.
    Vector2 without_jump(Vector2 difference) const {
        difference.x() -= full_turn * std::round(difference.x() / full_turn);
        // A length on cylinders and cones.
        if (field_.surface().is_round_both_ways())
            difference.y() -= full_turn * std::round(difference.y() / full_turn);
        return difference;
    }

    void join(const Branch& branch, std::vector<Stop>& stops) {
        if (branch.period && stops.empty()) {
            if (!branch.is_at_limit) add_whole(branch);
            return;
        }
        const double probe = branch.ends ? 0.5 * (branch.ends->first + branch.ends->last)
                                         : (stops.empty() ? 0.0 : stops.front().order);
        const bool forward = (branch.ends || !stops.empty()) && runs_forward(branch, probe);
        if (branch.ends) add_ends(branch, forward, stops);
        if (stops.empty()) return;
        if (branch.period)
            for (Stop& stop : stops) into_first_turn(stop, *branch.period);
        std::sort(stops.begin(), stops.end(), [&](const Stop& a, const Stop& b) {
            if (a.order != b.order) return forward ? a.order < b.order : a.order > b.order;
            return a.starts < b.starts;
        });
        if (branch.is_at_limit && branch.period) {
            join_neighbours(branch, stops);
            return;
        }
        join_by_rank(branch, forward, stops);
    }

    /// Joins starts and ends that alternate along the branch, but for what the edges of the model
    /// miss each other by.
    void join_by_rank(const Branch& branch, bool forward, const std::vector<Stop>& stops) {
        std::vector<const Stop*> starts, ends;
        std::vector<double> start_orders, end_orders;
        const double way = forward ? 1.0 : -1.0;
        for (const Stop& stop : stops) {
            (stop.starts ? starts : ends).push_back(&stop);
            (stop.starts ? start_orders : end_orders).push_back(way * stop.order);
        }
        if (starts.size() != ends.size()) fail("a fold starts and does not end");
        const auto point = [&](double order) -> Point3 {
            return field_.surface().first_order(branch.uv(way * order)).position;
        };
        const std::vector<StopPairing> possible =
            pair_stops(start_orders, end_orders, branch.period, misplaced_at_most_,
                       [&](double a, double b) { return (point(b) - point(a)).norm(); });
        if (possible.empty()) fail("starts and ends do not alternate along a fold");
        const auto pieces_of = [&](const StopPairing& pairing) {
            std::vector<CurvePiece> pieces;
            for (std::size_t i = 0; i < starts.size(); ++i) {
                Stop end = *ends[pairing.ends[i].first];
                const double turn = way * pairing.ends[i].second * branch.period.value_or(0.0);
                end.order += turn;
                end.exact += turn;
                pieces.push_back({*starts[i], end});
            }
            return pieces;
        };
        std::vector<CurvePiece> best = pieces_of(possible.front());
        for (std::size_t i = 0; i < possible.size() && possible.size() > 1; ++i) {
            std::vector<CurvePiece> pieces = pieces_of(possible[i]);
            const Place place = place_of(branch, pieces);
            if (place == Place::outside) continue;
            best = std::move(pieces);
            if (place == Place::inside) break;
        }
        for (const CurvePiece& piece : best) add_piece(branch, forward, piece.from, piece.to);
    }

    /// Of a stretch that no edge crosses. It may touch the boundary, where a place tells nothing:
    /// one clear of it is enough.
    bool runs_inside(const Branch& branch, double from, double to) {
        constexpr double shares[] = {0.5, 0.29, 0.67};
        return std::any_of(std::begin(shares), std::end(shares), [&](double share) {
            const Point2 uv = branch.uv(from + share * (to - from));
            return ends_ == Ends::inside ? is_clear_inside(uv) : is_inside(uv);
        });
    }

    enum class Place { inside, outside, too_short_to_tell };

    /// Where ends lie so close to starts that their order says nothing, places on the pieces tell.
    Place place_of(const Branch& branch, const std::vector<CurvePiece>& pieces) {
        Place result = Place::too_short_to_tell;
        for (const CurvePiece& piece : pieces) {
            const auto point = [&](double share) -> Point3 {
                const double at = piece.from.order + share * (piece.to.order - piece.from.order);
                return field_.surface().first_order(branch.uv(at)).position;
            };
            const Point3 middle = point(0.5);
            if ((point(0.0) - middle).norm() + (point(1.0) - middle).norm() < misplaced_at_most_)
                continue;
            if (!runs_inside(branch, piece.from.order, piece.to.order)) return Place::outside;
            result = Place::inside;
        }
        return result;
    }

    /// Joins each start with the end beside it, on that side on which all the ways together are
    /// shorter; the curve itself is an edge of the face.
    void join_neighbours(const Branch& branch, const std::vector<Stop>& stops) {
        if (stops.size() % 2 != 0) fail("a fold along a seam starts and does not end");
        const auto way = [&](const Stop& a, const Stop& b) {
            const double turns = (b.exact - a.exact) / *branch.period;
            return *branch.period * (turns - std::round(turns));
        };
        double lengths[2] = {0.0, 0.0};
        for (std::size_t shift : {0, 1})
            for (std::size_t i = shift; i < stops.size() + shift; i += 2)
                lengths[shift] += std::abs(way(stops[i], stops[(i + 1) % stops.size()]));
        const std::size_t shift = lengths[0] <= lengths[1] ? 0 : 1;
        for (std::size_t i = shift; i < stops.size() + shift; i += 2) {
            const Stop &a = stops[i], &b = stops[(i + 1) % stops.size()];
            if (a.starts == b.starts) fail("starts and ends do not alternate along a seam");
            const Stop &from = a.starts ? a : b, &to = a.starts ? b : a;
            LevelCurve curve{{}, from.node, to.node};
            const double step = way(from, to);
            if (step != 0.0) curve.curves = branch.project(from.exact, from.exact + step);
            curves_.push_back(std::move(curve));
        }
    }

    static void into_first_turn(Stop& stop, double period) {
        const double shift = period * std::floor(stop.order / period);
        stop.order -= shift;
        stop.exact -= shift;
    }

    void add_piece(const Branch& branch, bool forward, const Stop& from, const Stop& to) {
        LevelCurve curve{{}, from.node, to.node};
        const auto place = [&](double at) -> Point2 {
            return field_.surface().first_order(branch.uv(at)).position.head<2>();
        };
        if (from.exact != to.exact && (from.exact < to.exact) == forward) {
            const double turn = branch.period.value_or(std::abs(to.exact - from.exact));
            curve.curves = branch.project(
                from.exact, from.exact + std::clamp(to.exact - from.exact, -turn, turn));
        } else {
            // Runs backward by what the edges of the model miss each other by.
            const Line line{place(from.exact), place(to.exact)};
            // Nearer than that the two nodes are one point.
            if ((line.end - line.start).norm() > one_place) curve.curves = {line};
        }
        // A rim seen edge-on: long on the surface, a point on the datum.
        if (curve.curves.empty()) curve.place = place(from.node < 0 ? from.exact : to.exact);
        curves_.push_back(std::move(curve));
    }

    void add_whole(const Branch& branch) {
        if (!runs_inside(branch, 0.1, 0.1 + *branch.period)) return;
        const bool forward = runs_forward(branch, 0.1);
        const double turn = forward ? *branch.period : -*branch.period;
        curves_.push_back({branch.project(0.0, turn), -1, -1});
    }

    /// The ends of a branch, where it meets others, count as stops if they lie inside the face.
    void add_ends(const Branch& branch, bool forward, std::vector<Stop>& stops) {
        for (const double at : {branch.ends->first, branch.ends->last}) {
            if (!holds_end(branch, at)) continue;
            const bool starts = (at == branch.ends->first) == forward;
            stops.push_back({at, at, starts, -1});
        }
    }

    /// True if the branch ends inside the face. Where it ends on the boundary, a fold has its root
    /// there; of a section a place a little inside the branch tells on which side of the boundary
    /// it lies.
    bool holds_end(const Branch& branch, double at) {
        if (ends_ == Ends::may_lie_on_boundary) {
            constexpr double share = 0.05;
            const double middle = 0.5 * (branch.ends->first + branch.ends->last);
            return is_inside(branch.uv(at)) || is_inside(branch.uv(at + share * (middle - at)));
        }
        return is_clear_inside(branch.uv(at));
    }

    /// No nearer to the boundary than signs are taken beside it: what lies nearer is not seen from
    /// there, and counts as the boundary.
    bool is_clear_inside(const Point2& uv) {
        const Vector2 step = solid::InsetCurve::inset * field_.surface().range();
        for (const int u : {-1, 0, 1})
            for (const int v : {-1, 0, 1})
                if (!is_inside(uv + step.cwiseProduct(Vector2(u, v)))) return false;
        return true;
    }

    bool is_inside(Point2 uv) {
        const Point2 &low = field_.surface().low(), &high = field_.surface().high();
        const GeomAdaptor_Surface& s = field_.surface().adaptor();
        if (s.IsUPeriodic())
            uv.x() += s.UPeriod() * std::ceil((low.x() - 1e-9 - uv.x()) / s.UPeriod());
        if (s.IsVPeriodic())
            uv.y() += s.VPeriod() * std::ceil((low.y() - 1e-9 - uv.y()) / s.VPeriod());
        if ((uv.array() > high.array() + 1e-9).any()) return false;
        return interior_.holds(uv);
    }

    const LevelField& field_;
    const std::vector<Branch>& branches_;
    Ends ends_;
    double misplaced_at_most_;  ///< mm
    std::vector<std::vector<Stop>> stops_;
    std::vector<LevelCurve> curves_;
    solid::FaceInterior interior_;
};

/// Roots of both kinds nearer than this, as a share of the face's parameter box, are joined
/// straight: the sign there is taken beside the boundary, which makes pairs of them where edges
/// meet on a fold.
constexpr double joined_straight = 1e-4;
/// The same for two at one vertex: how far inside their signs were taken depends on how fast the
/// edges run there.
constexpr double joined_at_vertex = 1e-3;

void check_balance(const std::vector<BoundaryRoot>& roots) {
    const auto starts = std::count_if(roots.begin(), roots.end(),
                                      [](const BoundaryRoot& root) { return root.starts; });
    if (2 * static_cast<std::size_t>(starts) != roots.size())
        fail("folds enter and leave the face a different number of times");
}

/// Takes out pairs of a start and an end that are next to each other and joins them.
std::vector<LevelCurve> join_close_pairs(const LevelField& field,
                                         std::vector<BoundaryRoot>& roots) {
    const Vector2 range = field.surface().range().cwiseMax(1e-300);
    return join_nearest(
        field.surface(), roots, 1.0, [&](const BoundaryRoot& start, const BoundaryRoot& end) {
            const double allowed = start.node == end.node ? joined_at_vertex : joined_straight;
            return (start.inner_uv - end.inner_uv).cwiseQuotient(range).norm() / allowed;
        });
}

/// What runs nearer than `in_plane` to an edge in the plane is the edge itself; without such an
/// edge it is a curve of its own, however near.
double boundary_width(const solid::FaceSurface& s, PlaneEdges edges) {
    // In the middle: at the ends there may be a pole.
    const solid::SurfacePoint at = s.first_order(0.5 * (s.low() + s.high()));
    const double along_u = at.du.norm(), along_v = at.dv.norm();
    if (edges == PlaneEdges::none)
        return std::min(usual_width, in_plane / std::max({1.0, along_u, along_v}));
    return std::max(usual_width, 2.0 * in_plane / std::max(1e-3, std::min(along_u, along_v)));
}

}  // namespace

std::vector<LevelCurve> level_curves(const HeightField& field,
                                     const std::vector<BoundaryRoot>& roots, PlaneEdges edges,
                                     double tolerance) {
    check_balance(roots);
    const auto branches = field.branches();
    if (!branches) return trace_section(field, roots, tolerance);
    if (branches->empty()) return join_across_touch(field, roots);
    return BranchJoiner(field, *branches, BranchJoiner::Ends::may_lie_on_boundary,
                        boundary_width(field.surface(), edges), tolerance)
        .run(roots);
}

std::vector<LevelCurve> level_curves(const FacingField& field, std::vector<BoundaryRoot> roots,
                                     double tolerance) {
    check_balance(roots);
    if (const auto along = field.extruded_along())
        return ruling_folds(field.surface(), *along, std::move(roots));
    const auto branches = field.branches();
    std::vector<LevelCurve> curves;
    if (!field.surface().is_plane()) curves = join_close_pairs(field, roots);
    if (branches) {
        const std::vector<LevelCurve> along = join_along_limits(field, roots, tolerance);
        curves.insert(curves.end(), along.begin(), along.end());
    }
    const std::vector<LevelCurve> others =
        branches
            ? BranchJoiner(field, *branches, BranchJoiner::Ends::inside, usual_width, tolerance)
                  .run(roots)
            : trace_level_curves(field, roots, tolerance);
    curves.insert(curves.end(), others.begin(), others.end());
    return curves;
}

}  // namespace planform::flatten
