/// Runs of lines in a chain, cut at corners, each stretch between them by stretch_fit.

#include <algorithm>
#include <cmath>
#include <string>

#include "drawing/stretch_fit.hpp"
#include "planform/error.hpp"
#include "planform/flattened.hpp"

namespace planform {

namespace {

using drawing::StretchPiece;

/// Ends of neighbours are one point to this share of the chain's size.
constexpr double same_end = 1e-7;
/// A turn is a corner if an arc that turned so from segment to segment would leave its shorter one
/// by more than this many tolerances: no flattening within the tolerance gives it.
constexpr double corner_rise = 1.5;
/// So is one of this many radians that is so many times as great as its neighbours'.
constexpr double lone_turn = 0.5;
constexpr double lone_ratio = 3.0;
/// How many points before the end of the longest piece are tried as the start of a closed run: it
/// outlasts the curve that it follows by a few segments at most.
constexpr int starts_tried = 24;
/// Each start costs a fit of the whole run: of long ones fewer are tried, so that this many points
/// are looked at in all. A piece more than need be is no harm where there are thousands.
constexpr int points_tried = 200'000;

double turn_between(const Vector2& a, const Vector2& b) {
    return std::abs(std::atan2(a.x() * b.y() - a.y() * b.x(), a.dot(b)));
}

/// Which of the points of a run are corners; ends of an open run are.
std::vector<bool> corners_of(const std::vector<Point2>& points, bool closed, double tolerance) {
    const std::size_t size = points.size();
    const auto at = [&](std::size_t k) { return points[k % size]; };
    const auto turn_at = [&](std::size_t k) {
        if (!closed && (k % size == 0 || k % size + 1 == size)) return 0.0;
        return turn_between(at(k) - at(k + size - 1), at(k + 1) - at(k));
    };
    std::vector<double> turns(size);
    for (std::size_t k = 0; k < size; ++k) turns[k] = turn_at(k);
    std::vector<bool> corners(size, false);
    for (std::size_t k = 0; k < size; ++k) {
        if (!closed && (k == 0 || k + 1 == size)) {
            corners[k] = true;
            continue;
        }
        const double shorter =
            std::min((at(k) - at(k + size - 1)).norm(), (at(k + 1) - at(k)).norm());
        const double rise = 0.5 * shorter * std::tan(0.25 * turns[k]);
        const double beside = std::max(turns[(k + size - 1) % size], turns[(k + 1) % size]);
        corners[k] = rise > corner_rise * tolerance ||
                     (turns[k] > lone_turn && turns[k] > lone_ratio * beside);
    }
    return corners;
}

double misfit_of(const std::vector<StretchPiece>& pieces) {
    double sum = 0.0;
    for (const StretchPiece& piece : pieces) sum += piece.misfit;
    return sum;
}

/// The points from one on, round a closed run, back to it.
std::vector<Point2> turned_to(const std::vector<Point2>& points, std::size_t start) {
    std::vector<Point2> result;
    for (std::size_t k = 0; k <= points.size(); ++k)
        result.push_back(points[(start + k) % points.size()]);
    return result;
}

class Chain {
  public:
    Chain(std::span<const Curve> chain, double tolerance, bool closed)
        : chain_(chain), tolerance_(tolerance), closed_(closed) {}

    std::vector<FittedCurve> fitted() {
        const int size = static_cast<int>(chain_.size());
        int first_other = 0;
        while (first_other < size && is_line(first_other)) ++first_other;
        if (first_other == size) {
            fit_run(0, size, closed_);
            return result_;
        }
        // A closed chain is walked from a curve that is no line, so that no run is cut.
        const int start = closed_ ? first_other : 0;
        for (int k = 0; k < size;) {
            if (!is_line((start + k) % size)) {
                keep((start + k) % size);
                ++k;
                continue;
            }
            int end = k;
            while (end < size && is_line((start + end) % size)) ++end;
            fit_run((start + k) % size, end - k, false);
            k = end;
        }
        return result_;
    }

  private:
    bool is_line(int k) const {
        return std::holds_alternative<Line>(chain_[static_cast<std::size_t>(k)]);
    }
    void keep(int k) { result_.push_back({chain_[static_cast<std::size_t>(k)], k, 1}); }
    int index(int first, int offset) const {
        return (first + offset) % static_cast<int>(chain_.size());
    }

    /// `count` lines from `first` on; `closed`: they come back to their start.
    void fit_run(int first, int count, bool closed) {
        std::vector<Point2> points;
        for (int k = 0; k < count; ++k)
            points.push_back(start_point(chain_[static_cast<std::size_t>(index(first, k))]));
        if (!closed)
            points.push_back(end_point(chain_[static_cast<std::size_t>(index(first, count - 1))]));
        if (closed && count >= 3) {
            if (const auto circle = drawing::fit_circle(points, tolerance_)) {
                result_.push_back({*circle, first, count});
                return;
            }
        }
        const std::vector<bool> corners = corners_of(points, closed, tolerance_);
        if (!closed) {
            add_between_corners(points, corners, first);
            return;
        }
        const auto corner = std::find(corners.begin(), corners.end(), true);
        if (corner != corners.end()) {
            const auto start = static_cast<std::size_t>(corner - corners.begin());
            std::vector<bool> turned;
            for (std::size_t k = 0; k <= points.size(); ++k)
                turned.push_back(corners[(start + k) % points.size()]);
            add_between_corners(turned_to(points, start), turned, index(first, int(start)));
            return;
        }
        add_smooth(points, first);
    }

    /// An open run: stretch after stretch.
    void add_between_corners(const std::vector<Point2>& points, const std::vector<bool>& corners,
                             int first) {
        std::size_t from = 0;
        for (std::size_t to = 1; to < points.size(); ++to) {
            if (!corners[to] && to + 1 < points.size()) continue;
            const std::vector<Point2> stretch(points.begin() + static_cast<long>(from),
                                              points.begin() + static_cast<long>(to) + 1);
            add(drawing::fit_stretch(stretch, tolerance_), stretch,
                index(first, static_cast<int>(from)));
            from = to;
        }
    }

    /// A closed run without a corner, from the start that gives the fewest pieces, then the least
    /// misfit.
    void add_smooth(const std::vector<Point2>& points, int first) {
        const auto size = static_cast<int>(points.size());
        const std::vector<StretchPiece> trial =
            drawing::fit_stretch(turned_to(points, 0), tolerance_);
        std::vector<StretchPiece> best = trial;
        int best_start = 0;
        const int starts = std::clamp(points_tried / size, 1, starts_tried);
        for (int back = 0; back < std::min(starts, size); ++back) {
            const int start = ((trial.front().to - back) % size + size) % size;
            const std::vector<StretchPiece> pieces = drawing::fit_stretch(
                turned_to(points, static_cast<std::size_t>(start)), tolerance_);
            if (pieces.size() < best.size() ||
                (pieces.size() == best.size() && misfit_of(pieces) < misfit_of(best))) {
                best = pieces;
                best_start = start;
            }
        }
        add(best, turned_to(points, static_cast<std::size_t>(best_start)),
            index(first, best_start));
    }

    void add(const std::vector<StretchPiece>& pieces, const std::vector<Point2>& points,
             int first) {
        for (const StretchPiece& piece : pieces) {
            const int begin = index(first, piece.from);
            if (piece.to == piece.from + 1) {
                keep(begin);
                continue;
            }
            result_.push_back(
                {drawing::piece_curve(points[static_cast<std::size_t>(piece.from)],
                                      points[static_cast<std::size_t>(piece.to)], piece.rise),
                 begin, piece.to - piece.from});
        }
    }

    std::span<const Curve> chain_;
    double tolerance_;
    bool closed_;
    std::vector<FittedCurve> result_;
};

void require_chain(std::span<const Curve> chain, bool closed) {
    Box2 box;
    for (const Curve& curve : chain) {
        check_curve(curve);
        box.extend(start_point(curve));
        box.extend(end_point(curve));
    }
    if (chain.empty()) return;
    const double limit = same_end * std::max(box.diagonal().norm(), length(chain.front()));
    for (std::size_t k = 0; k < chain.size(); ++k) {
        const bool is_last = k + 1 == chain.size();
        if (is_last && !closed) break;
        const double gap = (end_point(chain[k]) - start_point(chain[is_last ? 0 : k + 1])).norm();
        if (gap > limit)
            throw GeometryError(ErrorKind::invalid_argument,
                                "the curves are not head to tail: curve " + std::to_string(k) +
                                    " ends " + std::to_string(gap) +
                                    " mm from the start of the next one");
    }
}

}  // namespace

std::vector<FittedCurve> fit_flattened(std::span<const Curve> chain, double tolerance,
                                       bool closed) {
    if (!(tolerance > 0.0) || !std::isfinite(tolerance))
        throw GeometryError(
            ErrorKind::invalid_argument,
            "tolerance " + std::to_string(tolerance) + " mm: a positive finite number is needed");
    require_chain(chain, closed);
    if (chain.empty()) return {};
    return Chain(chain, tolerance, closed).fitted();
}

}  // namespace planform
