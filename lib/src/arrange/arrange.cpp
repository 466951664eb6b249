#include "arrange/arrange.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <set>
#include <sstream>

#include "arrange/carriers/carriers.hpp"
#include "arrange/carriers/coincidences.hpp"
#include "arrange/carriers/touches.hpp"
#include "arrange/chains/canonical_input.hpp"
#include "arrange/chains/wound_curves.hpp"
#include "arrange/chords/chording.hpp"
#include "arrange/chords/settled_chords.hpp"
#include "arrange/recovery/near_misses.hpp"
#include "arrange/recovery/recovery.hpp"
#include "arrange/sweep/boundary.hpp"
#include "arrange/sweep/snap_rounding.hpp"
#include "arrange/sweep/winding_sweep.hpp"
#include "planform/error.hpp"

namespace planform::arrange {
namespace {

/// Grid cell as a share of the tolerance: fine enough not to be seen in a result that holds to the
/// tolerance, coarse enough to make one of curves that differ by the noise of real files.
constexpr double cell_per_tolerance = 1e-3;
/// Where chords met and their curves don't, those curves get chords this many times coarser than
/// the finest first: beside a tangency the finest cross again and again.
constexpr double first_step = 16.0;
/// Chords that can't be told apart are not made shorter than this share of the tolerance at first.
constexpr double fine_per_tolerance = 0.25;
/// One carrier out of so many, and less, are few.
constexpr std::size_t few_of = 50;
/// Chords are not made finer than this many cells.
constexpr double finest_chord = 2.0;
/// Curves nearer than this, relative to the size of the input, are the same curve; 2e-7 mm is the
/// confusion of common solid modellers, below which they do not tell points apart.
constexpr double same_relative = 1e-12;
constexpr double same_absolute = 2e-7;

std::string place(const Point2& point) {
    std::ostringstream text;
    text.precision(6);
    text << "(" << point.x() << ", " << point.y() << ")";
    return text.str();
}

[[noreturn]] void fail_at(const Point2& point) {
    throw ArrangementError("the outline can't be told apart from its neighbours near " +
                               place(point) + "; a smaller tolerance resolves finer detail",
                           point);
}

void check_numbers(const Input& input, const Options& options) {
    if (!(options.tolerance > 0.0) || !std::isfinite(options.tolerance))
        throw GeometryError(ErrorKind::invalid_argument,
                            "tolerance must be a positive, finite number of millimetres");
    for (const Point2& node : input.nodes)
        if (!node.allFinite())
            throw GeometryError(ErrorKind::invalid_argument,
                                "a corner of the outline has a coordinate that is not finite");
    const auto count = static_cast<int>(input.nodes.size());
    for (const DirectedCurve& c : input.curves) {
        check_curve(c.curve);
        const bool nodes_exist =
            c.start_node >= 0 && c.start_node < count && c.end_node >= 0 && c.end_node < count;
        if (!nodes_exist || c.operand < 0 || c.operand > 1)
            throw GeometryError(
                ErrorKind::invalid_argument,
                "a curve of the outline names a corner or an operand that there is not");
    }
}

/// At every node the weights that come in equal those that go out.
void check_balance(const Input& input) {
    std::vector<Winding> balance(input.nodes.size(), Winding{});
    for (const DirectedCurve& c : input.curves) {
        const auto k = static_cast<std::size_t>(c.operand);
        balance[static_cast<std::size_t>(c.start_node)][k] += c.weight;
        balance[static_cast<std::size_t>(c.end_node)][k] -= c.weight;
    }
    for (std::size_t i = 0; i < balance.size(); ++i)
        if (balance[i] != Winding{})
            throw ArrangementError("the outline does not close at " + place(input.nodes[i]),
                                   input.nodes[i]);
}

/// The chords in their planar graph. Where chords get finer, only what is beside them is arranged
/// again.
class Arrangement {
  public:
    /// `finest` as for settled_chords.
    Arrangement(const CarrierSet& set, const Options& options, double finest,
                const grid::Grid& grid, const Polylines& polylines)
        : set_(set),
          inside_(options.inside),
          tolerance_(options.tolerance),
          kept_gaps_(options.kept_gaps),
          finest_(finest),
          grid_(grid),
          chords_(snap_chords(set, polylines, grid)),
          graph_(snap_round(chords_.segments)),
          boundary_(find_boundary(graph_, chords_.weights, inside_)) {}

    /// Chords anew of the carriers that have a tolerance (by carrier, in mm; 0: none).
    void chord_again(const std::vector<double>& tolerances) {
        const std::vector<char> replaced = arrange::chord_again(set_, tolerances, grid_, chords_);
        is_gone_.resize(chords_.segments.size(), 0);
        for (std::size_t i = 0; i < replaced.size(); ++i)
            if (replaced[i]) is_gone_[i] = 1;
        try {
            graph_ = snap_round_again(graph_, chords_.segments, replaced);
            boundary_ = find_boundary(graph_, chords_.weights, inside_);
        } catch (const NotPlanar&) {
            // What was left had been led too near to what changed: nothing is left.
            graph_ = snap_round_without(chords_.segments, is_gone_);
            boundary_ = find_boundary(graph_, chords_.weights, inside_);
        }
    }

    RecoveryResult recovered(bool last_try) {
        if (boundary_.loops.empty()) find_loops(boundary_);
        return recover(input(last_try), known_);
    }
    std::vector<int> near_misses() { return find_near_misses(input(false), seen_); }

  private:
    RecoveryInput input(bool last_try) const {
        return {set_, chords_, boundary_, grid_, tolerance_, finest_, kept_gaps_, last_try};
    }

    const CarrierSet& set_;
    const std::function<bool(const Winding&)>& inside_;
    double tolerance_;
    KeptGaps kept_gaps_;
    double finest_;
    grid::Grid grid_;
    Chords chords_;
    std::vector<char> is_gone_;  ///< by segment: finer ones have taken its place
    PlanarGraph graph_;
    Boundary boundary_;
    SeenEdges seen_;
    RecoveredLoops known_;
};

/// How fine the chords of some carriers have become all along, because that was asked for.
class Refinement {
  public:
    Refinement(std::size_t carriers, double finest)
        : finest_(finest), tolerances_(carriers, 2.0 * first_step * finest) {}

    /// The tolerances, by carrier, of those that get finer chords, 0 for others; nothing if none
    /// can. A step, then the finest, so that rounds are few. A few carriers out of many go to the
    /// finest at once: that costs less than a round.
    std::vector<double> next(const std::vector<int>& carriers) {
        const std::set<int> distinct(carriers.begin(), carriers.end());
        const bool are_few = distinct.size() * few_of < tolerances_.size();
        std::vector<double> finer(tolerances_.size(), 0.0);
        bool any = false;
        for (const int carrier : distinct) {
            double& tolerance = tolerances_[static_cast<std::size_t>(carrier)];
            const double step = first_step * finest_;
            const double wanted = !are_few && tolerance > step ? step : finest_;
            if (!(wanted < tolerance)) continue;
            tolerance = finer[static_cast<std::size_t>(carrier)] = wanted;
            any = true;
        }
        return any ? finer : std::vector<double>();
    }

  private:
    double finest_;
    std::vector<double> tolerances_;
};

}  // namespace

namespace {

std::vector<Loop> loops_of(Arrangement& arrangement, Refinement& refinement) {
    while (true) {
        std::vector<double> finer = refinement.next(arrangement.near_misses());
        RecoveryResult result;
        if (finer.empty()) {
            result = arrangement.recovered(false);
            finer = refinement.next(result.refine);
        }
        if (!finer.empty()) {
            arrangement.chord_again(finer);
            continue;
        }
        if (!result.refine.empty()) result = arrangement.recovered(true);
        if (result.failed_at) fail_at(*result.failed_at);
        return std::move(result.loops);
    }
}

}  // namespace

std::vector<Loop> arrange(const Input& collected, const Options& options) {
    check_numbers(collected, options);
    check_balance(collected);
    const Input input = in_canonical_order(with_wound_curves_cut(collected, options.tolerance));
    Box2 box;
    for (const Point2& node : input.nodes) box.extend(node);
    const double extent = box.isEmpty() ? 0.0 : box.sizes().maxCoeff();
    const double same = std::max(same_absolute, same_relative * extent);
    CarrierSet set =
        collect_carriers(input, same, std::max(options.same_line, same_relative * extent));
    if (set.pieces.empty()) return {};
    split_at_touches(set, same);
    unite_coincident(set, same);
    if (set.pieces.empty()) return {};

    const double finest = std::max(finest_chord * cell_per_tolerance * options.tolerance,
                                   finest_chord * extent / grid::Grid::largest);
    const double fine = std::max(fine_per_tolerance * options.tolerance, finest);
    const Polylines polylines = settled_chords(set, fine, finest, 4.0 * finest);
    const grid::Grid grid(polylines.bounds(), cell_per_tolerance * options.tolerance);
    Refinement refinement(set.carriers.size(), finest);
    try {
        Arrangement arrangement(set, options, finest, grid, polylines);
        return loops_of(arrangement, refinement);
    } catch (const NotPlanar& breach) {
        fail_at(grid.position(breach.place));
    }
}

}  // namespace planform::arrange
