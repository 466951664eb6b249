#include "arrange/arrange.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <set>
#include <sstream>

#include "arrange/boundary.hpp"
#include "arrange/carriers.hpp"
#include "arrange/chording.hpp"
#include "arrange/near_misses.hpp"
#include "arrange/recovery.hpp"
#include "arrange/snap_rounding.hpp"
#include "planform/error.hpp"

namespace planform::arrange {
namespace {

/// Grid cell as a share of the tolerance: fine enough not to be seen in a result that holds to the
/// tolerance, coarse enough to make one of curves that differ by the noise of real files.
constexpr double cell_per_tolerance = 1e-3;
/// First chord tolerance as a share of the tolerance. It decides the topology only: curves and
/// corners are exact after recovery.
constexpr double chord_per_tolerance = 0.25;
/// Factor by which chords get finer where they met and their curves don't.
constexpr double refinement = 1.0 / 8.0;
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

void check_numbers(const Input& input, const Options& options) {
    if (!(options.tolerance > 0.0) || !std::isfinite(options.tolerance))
        throw GeometryError(ErrorKind::invalid_argument,
                            "tolerance must be a positive, finite number of millimetres");
    for (const Point2& node : input.nodes)
        if (!node.allFinite())
            throw GeometryError(ErrorKind::invalid_argument,
                                "a corner of the outline has a coordinate that is not finite");
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
            throw GeometryError(ErrorKind::contour_not_closed,
                                "the outline does not close at " + place(input.nodes[i]));
}

/// One round: chords at the given tolerances, arrangement, recovery.
class Round {
  public:
    Round(const CarrierSet& set, const Options& options, const std::vector<double>& tolerances,
          bool last_try)
        : set_(set), options_(options), tolerances_(tolerances), last_try_(last_try) {}

    RecoveryResult run() const {
        const Polylines polylines = chord_pieces(set_, tolerances_);
        const Grid grid(polylines.bounds(), cell_per_tolerance * options_.tolerance);
        const Chords chords = snap_chords(set_, polylines, grid);
        const PlanarGraph graph = snap_round(chords.segments);
        const Boundary boundary = find_boundary(graph, chords.weights, options_.inside);
        const RecoveryInput input{set_, chords, boundary, grid, tolerances_, last_try_};
        RecoveryResult result = recover(input);
        if (!last_try_) {
            const std::vector<int> near = find_near_misses(input);
            result.refine.insert(result.refine.end(), near.begin(), near.end());
        }
        return result;
    }

  private:
    const CarrierSet& set_;
    const Options& options_;
    const std::vector<double>& tolerances_;
    bool last_try_;
};

}  // namespace

std::vector<Loop> arrange(const Input& input, const Options& options) {
    check_numbers(input, options);
    check_balance(input);
    Box2 box;
    for (const Point2& node : input.nodes) box.extend(node);
    const double extent = box.isEmpty() ? 0.0 : box.sizes().maxCoeff();
    const CarrierSet set = collect_carriers(input, std::max(same_absolute, same_relative * extent));
    if (set.pieces.empty()) return {};

    const double finest = std::max(finest_chord * cell_per_tolerance * options.tolerance,
                                   finest_chord * extent / Grid::largest);
    std::vector<double> tolerances(set.carriers.size(),
                                   std::max(chord_per_tolerance * options.tolerance, finest));
    while (true) {
        RecoveryResult result = Round(set, options, tolerances, false).run();
        bool finer = false;
        for (const int carrier : std::set<int>(result.refine.begin(), result.refine.end())) {
            double& tolerance = tolerances[static_cast<std::size_t>(carrier)];
            const double wanted = std::max(finest, refinement * tolerance);
            finer = finer || wanted < tolerance;
            tolerance = wanted;
        }
        if (result.refine.empty()) return std::move(result.loops);
        if (finer) continue;
        result = Round(set, options, tolerances, true).run();
        if (result.failed_at)
            throw GeometryError(ErrorKind::contour_not_closed,
                                "the outline can't be told apart from its neighbours near " +
                                    place(*result.failed_at) +
                                    "; a smaller tolerance resolves finer detail");
        return std::move(result.loops);
    }
}

}  // namespace planform::arrange
