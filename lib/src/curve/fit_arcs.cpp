/// Lines and arcs for a curve: a chain of biarcs, as few as the tolerance allows.
///
/// Each stretch between corners is covered from one end by the longest biarcs that stay within an
/// error e (every candidate is measured against the curve). With e = tolerance that gives the least
/// number n of biarcs; then e is lowered as far as n biarcs still suffice, which evens out their
/// lengths (no sliver at the end) and makes all errors nearly equal. The error of one biarc is
/// |curvature'| h^3 / 324 for a length h (D. S. Meek, D. J. Walton 1995), so n grows as
/// tolerance^(-1/3).

#include <algorithm>
#include <cmath>
#include <string>

#include "curve/biarc.hpp"
#include "curve/corners.hpp"
#include "curve/spline.hpp"
#include "planform/curve.hpp"
#include "planform/error.hpp"

namespace planform {
namespace {

using detail::ArcPiece;
using detail::Biarc;

/// The share of the tolerance that measured errors may use: what lies between two samples may be a
/// little further off (2% for the smooth error of a biarc at the number of samples taken).
constexpr double measured_share = 0.96;
/// A curve that is a line or arc to this share of the tolerance is taken for one: close enough that
/// its tangents at the ends don't visibly change.
constexpr double canonical_share = 1e-3;
/// Least tolerance, relative to the size of the coordinates: below it, what is measured is
/// rounding.
constexpr double finest_fit = 1e-11;

/// One smooth curve, without corners inside.
class SmoothFit {
  public:
    explicit SmoothFit(const Curve& curve) : curve_(curve), range_(domain(curve)) {
        breaks_.push_back(range_.first);
        if (const Spline* spline = std::get_if<Spline>(&curve))
            detail::for_each_span(*spline,
                                  [&](int span) { breaks_.push_back(spline->knots[span + 1]); });
        else
            breaks_.push_back(range_.last);
        breaks_.back() = range_.last;
    }

    std::vector<Biarc> within(double tolerance) const {
        const double limit = measured_share * tolerance;
        std::vector<Biarc> best = cover(limit, most_biarcs);
        if (best.size() < 2) return best;
        double enough = limit;
        double too_little = 0.0;
        for (int round = 0; round < 6; ++round) {
            const double middle = 0.5 * (enough + too_little);
            std::vector<Biarc> trial = cover(middle, best.size());
            if (trial.empty()) {
                too_little = middle;
            } else {
                enough = middle;
                best = std::move(trial);
            }
        }
        return best;
    }

  private:
    static constexpr std::size_t most_biarcs = 10'000'000;

    struct Node {
        double t;
        Point2 point;
        Vector2 tangent;
    };

    struct Step {
        Node end;
        Biarc biarc;
        double error;
    };

    Node node(double t) const {
        const detail::Tangents tangents = detail::tangents_at(curve_, t);
        if (t == range_.first) return {t, start_point(curve_), tangents.after};
        if (t == range_.last) return {t, end_point(curve_), tangents.before};
        // The same for the biarc that ends here and the one that begins, also at a joint of spans
        // where the two differ by rounding.
        return {t, point_at(curve_, t), (tangents.before + tangents.after).normalized()};
    }

    /// Largest distance of the curve between two parameters from the biarc, by samples that are
    /// dense enough for the two waves that the error of a biarc has, and for each span of a spline.
    double measure(const Biarc& biarc, double from, double to) const {
        auto next = std::upper_bound(breaks_.begin(), breaks_.end(), from);
        const auto past = std::lower_bound(breaks_.begin(), breaks_.end(), to);
        const int spans = static_cast<int>(past - next) + 1;
        const int samples = std::max(4, 18 / spans);
        double worst = 0.0;
        double left = from;
        for (int span = 0; span < spans; ++span) {
            const double right = span + 1 == spans ? to : *next++;
            for (int i = 0; i < samples; ++i) {
                const double t = left + (right - left) * (i + 0.5) / samples;
                const Point2 point = point_at(curve_, t);
                worst =
                    std::max(worst, std::min(biarc[0].distance(point), biarc[1].distance(point)));
            }
            left = right;
        }
        return worst;
    }

    std::optional<Step> step(const Node& from, double to) const {
        const Node end = node(to);
        const std::optional<Biarc> biarc =
            detail::make_biarc(from.point, from.tangent, end.point, end.tangent);
        if (!biarc) return std::nullopt;
        return Step{end, *biarc, measure(*biarc, from.t, to)};
    }

    /// The furthest parameter that one biarc reaches with an error up to the limit, from a guess.
    /// The error grows with the third power of the step, which gives the next guess; failing that,
    /// bisection.
    Step longest_step(const Node& from, double guess, double limit) const {
        const double shortest = 1e-12 * (range_.last - range_.first);
        std::optional<Step> best;
        double reached = from.t;
        double beyond = range_.last;
        bool may_reach_end = true;
        double to = std::min(guess, range_.last);
        for (int iteration = 0; iteration < 60; ++iteration) {
            const std::optional<Step> trial = step(from, to);
            const bool fits = trial && trial->error <= limit;
            if (fits) {
                best = trial;
                reached = to;
                if (to == range_.last || trial->error >= 0.96 * limit) break;
            } else {
                beyond = to;
                may_reach_end = false;
            }
            if (!may_reach_end && beyond - reached <= 0.01 * (beyond - from.t) && best) break;
            if (beyond - from.t <= shortest) break;
            const double error = trial ? trial->error : 1e3 * limit;
            const double factor =
                std::clamp(0.993 * std::cbrt(limit / std::max(error, 1e-9 * limit)), 0.1, 4.0);
            to = from.t + factor * (to - from.t);
            if (may_reach_end) {
                to = std::min(to, range_.last);
            } else if (!(to > reached && to < beyond)) {
                to = 0.5 * (reached + beyond);
            }
        }
        if (best) return *best;
        return straight_step(from, std::min(range_.last, from.t + shortest), limit);
    }

    /// The way out where no biarc fits however short, as at a turn too tight for the coordinates: a
    /// straight piece from `from`, as long as the limit lets it be.
    Step straight_step(const Node& from, double to, double limit) const {
        Step best = straight_between(from, to);
        while (to < range_.last) {
            to = std::min(range_.last, from.t + 2.0 * (to - from.t));
            const Step longer = straight_between(from, to);
            if (longer.error > limit) break;
            best = longer;
        }
        return best;
    }

    Step straight_between(const Node& from, double to) const {
        const Node end = node(to);
        const Vector2 chord = end.point - from.point;
        const Vector2 along = chord.norm() > 0.0 ? Vector2(chord.normalized()) : from.tangent;
        const Point2 middle = 0.5 * (from.point + end.point);
        const Biarc straight{ArcPiece{from.point, middle, along, along, 0.0, 0.0},
                             ArcPiece{middle, end.point, along, along, 0.0, 0.0}};
        return {end, straight, measure(straight, from.t, to)};
    }

    /// Biarcs with errors up to the limit over the whole curve; none if more than `most` are
    /// needed.
    std::vector<Biarc> cover(double limit, std::size_t most) const {
        std::vector<Biarc> biarcs;
        Node from = node(range_.first);
        double guess = range_.last;
        while (from.t < range_.last) {
            if (biarcs.size() == most) return {};
            const Step next = longest_step(from, guess, limit);
            biarcs.push_back(next.biarc);
            guess = next.end.t + (next.end.t - from.t);
            from = next.end;
        }
        return biarcs;
    }

    const Curve& curve_;
    Interval range_;
    std::vector<double> breaks_;  ///< ends of spans, domain ends included
};

/// Whether to fit the reverse, so that a curve and its reverse get the same arcs: ellipses start
/// from the end of greater curvature (that also makes their quarters alike), others from the
/// smaller end, closed ones counter-clockwise.
bool runs_backward(const Curve& curve) {
    if (std::holds_alternative<EllipticalArc>(curve))
        return derivative_at(curve, 0.0).norm() > derivative_at(curve, 1.0).norm();
    const Point2 start = start_point(curve);
    const Point2 end = end_point(curve);
    if (start == end) return swept_area(curve, start) < 0.0;
    return start.x() != end.x() ? start.x() > end.x() : start.y() > end.y();
}

/// The parameters at which the curve is cut before fitting: corners, and the ends of the axes of
/// ellipses, where curvature is extreme. An axis that ends within `least` (mm) of the curve's own
/// end is none to cut at: it would leave a piece that no machine follows.
std::vector<double> cut_parameters(const Curve& curve, double least) {
    const Interval range = domain(curve);
    std::vector<double> cuts{range.first};
    if (const EllipticalArc* arc = std::get_if<EllipticalArc>(&curve)) {
        const double quarter = 0.5 * pi;
        const double low = std::min(arc->start_angle, arc->start_angle + arc->sweep);
        const double high = std::max(arc->start_angle, arc->start_angle + arc->sweep);
        std::vector<double> inner;
        for (double n = std::floor(low / quarter) + 1.0; n * quarter < high; n += 1.0) {
            const double t = (n * quarter - arc->start_angle) / arc->sweep;
            const Point2 cut = point_at(curve, t);
            if (t > 1e-9 && t < 1.0 - 1e-9 && (cut - start_point(curve)).norm() > least &&
                (cut - end_point(curve)).norm() > least)
                inner.push_back(t);
        }
        std::sort(inner.begin(), inner.end());
        cuts.insert(cuts.end(), inner.begin(), inner.end());
    } else {
        const std::vector<double> corners = detail::corner_parameters(curve);
        cuts.insert(cuts.end(), corners.begin(), corners.end());
    }
    cuts.push_back(range.last);
    return cuts;
}

std::vector<Curve> fit_smooth(const Curve& curve, double tolerance, double resolution) {
    const bool backward = runs_backward(curve);
    const Curve subject = backward ? reversed(curve) : curve;
    std::vector<Curve> chain;
    for (const Biarc& biarc : SmoothFit(subject).within(tolerance))
        for (const ArcPiece& piece : biarc)
            detail::append_merging(chain, piece.curve(), resolution);
    if (!backward) return chain;
    std::reverse(chain.begin(), chain.end());
    for (Curve& piece : chain) piece = reversed(piece);
    return chain;
}

}  // namespace

std::vector<Curve> fit_arcs(const Curve& curve, double tolerance) {
    if (!(tolerance > 0.0) || !std::isfinite(tolerance))
        throw GeometryError(
            ErrorKind::invalid_argument,
            "tolerance " + std::to_string(tolerance) + " mm: a positive finite number is needed");
    const Box2 box = bounds(curve);
    const double magnitude =
        std::max(box.min().cwiseAbs().maxCoeff(), box.max().cwiseAbs().maxCoeff());
    tolerance = std::max(tolerance, finest_fit * magnitude);
    const Curve simplest = canonical(curve, canonical_share * tolerance);
    if (std::holds_alternative<Line>(simplest) || std::holds_alternative<Arc>(simplest))
        return std::vector<Curve>(1, simplest);
    // Pieces on one circle are merged when centre and radius agree to rounding.
    const double resolution = std::min(1e-6 * tolerance, 1e-9 * box.diagonal().norm());
    const std::vector<double> cuts = cut_parameters(simplest, canonical_share * tolerance);
    std::vector<Curve> chain;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
        const Curve piece = trimmed(simplest, cuts[i], cuts[i + 1]);
        const std::vector<Curve> arcs = fit_smooth(piece, tolerance, resolution);
        chain.insert(chain.end(), arcs.begin(), arcs.end());
    }
    return chain;
}

}  // namespace planform
