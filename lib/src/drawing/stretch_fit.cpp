/// Pieces end in points of the polyline, so that each has one number to choose: the rise of the arc
/// over its chord. Whether the best rise is good enough is asked of the points and, exactly, of the
/// segments between them: along a segment the distance from a centre is greatest at an end and
/// least at the foot of the perpendicular.
///
/// The least number of pieces comes from taking each as long as it can be (it is the least as a
/// part of what fits, fits). From the other end the same gives the earliest place of each division;
/// the places between the two are tried, coarsely first, for the least misfit: so divisions come to
/// lie where the curves met that were flattened.

#include "drawing/stretch_fit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "curve/angles.hpp"

namespace planform::drawing {

namespace {

/// A piece that is straight to this share of the tolerance is taken for a line: decimals in files
/// bend lines a little.
constexpr double straight_share = 0.1;
/// Candidates for the place of a division in one round.
constexpr int places_a_round = 9;

double cross(const Vector2& a, const Vector2& b) { return a.x() * b.y() - a.y() * b.x(); }

struct Circle {
    Point2 center;
    double radius;
    double side;  ///< 1: counter-clockwise, -1: clockwise
};

Circle circle_of(const Point2& a, const Point2& b, double rise) {
    const Vector2 chord = b - a;
    const double half = 0.5 * chord.norm();
    const Vector2 left = Vector2(-chord.y(), chord.x()) / (2.0 * half);
    const double radius = (half * half + rise * rise) / (2.0 * std::abs(rise));
    const double side = rise > 0.0 ? -1.0 : 1.0;
    return {0.5 * (a + b) + left * (rise + side * radius), radius, side};
}

class Stretch {
  public:
    Stretch(const std::vector<Point2>& points, double tolerance)
        : points_(points), tolerance_(tolerance) {}

    int last() const { return static_cast<int>(points_.size()) - 1; }

    /// The best piece over some points, if it is within the tolerance.
    std::optional<StretchPiece> piece(int from, int to) const {
        if (to == from + 1) return StretchPiece{from, to, 0.0, 0.0};
        const Point2& a = at(from);
        const Point2& b = at(to);
        const double half = 0.5 * (b - a).norm();
        if (!(half > 0.0)) return std::nullopt;
        const Vector2 along = (b - a) / (2.0 * half);
        double highest = 0.0;
        double misfit = 0.0;
        int apex = from;
        bool forward = true;
        for (int k = from; k < to; ++k) {
            forward = forward && along.dot(at(k + 1) - at(k)) > 0.0;
            const double height = cross(along, at(k) - a);
            misfit += height * height;
            if (std::abs(height) > std::abs(highest)) {
                highest = height;
                apex = k;
            }
        }
        const bool straight = forward && std::abs(highest) <= tolerance_;
        if (straight && std::abs(highest) <= straight_share * tolerance_)
            return StretchPiece{from, to, 0.0, misfit};
        if (apex != from) {
            if (const auto arc = arc_piece(from, to, rise_through(a, b, at(apex)))) return arc;
        }
        if (straight) return StretchPiece{from, to, 0.0, misfit};
        return std::nullopt;
    }

    /// The longest piece from a point on, `guess` points long or not.
    StretchPiece longest(int from, int guess) const {
        StretchPiece best = *piece(from, from + 1);
        int beyond = last() + 1;
        int step = std::max(1, guess);
        while (best.to < last()) {
            const int to = std::min(last(), best.to == from + 1 ? from + step : best.to + step);
            if (to >= beyond || to <= best.to) break;
            if (const auto longer = piece(from, to)) {
                best = *longer;
                step *= 2;
            } else {
                beyond = to;
                break;
            }
        }
        while (beyond - best.to > 1 && best.to < last()) {
            const int middle = best.to + (std::min(beyond, last() + 1) - best.to) / 2;
            if (middle == best.to) break;
            if (const auto longer = piece(from, middle))
                best = *longer;
            else
                beyond = middle;
        }
        return best;
    }

    /// Divisions of the fewest pieces, each as long as can be: 0, ..., last().
    std::vector<int> divisions() const {
        std::vector<int> ends{0};
        int guess = 8;
        while (ends.back() < last()) {
            const StretchPiece next = longest(ends.back(), guess);
            guess = next.to - next.from;
            ends.push_back(next.to);
        }
        return ends;
    }

  private:
    const Point2& at(int k) const { return points_[static_cast<std::size_t>(k)]; }

    /// The rise of the arc from a over q to b.
    static double rise_through(const Point2& a, const Point2& b, const Point2& q) {
        const double half = 0.5 * (b - a).norm();
        const Vector2 along = (b - a) / (2.0 * half);
        const Vector2 place = q - 0.5 * (a + b);
        const double u = along.dot(place);
        const double v = cross(along, place);
        const double center = (u * u + v * v - half * half) / (2.0 * v);
        return center + std::copysign(std::hypot(half, center), v);
    }

    /// Largest distance between the polyline and the circle; infinite if the one does not run along
    /// the other, once.
    double deviation(int from, int to, double rise, double limit) const {
        constexpr double none = std::numeric_limits<double>::infinity();
        const Circle circle = circle_of(at(from), at(to), rise);
        double worst = 0.0;
        double turned = 0.0;
        for (int k = from; k < to; ++k) {
            const Vector2 a = at(k) - circle.center;
            const Vector2 b = at(k + 1) - circle.center;
            const Vector2 way = b - a;
            const double area = cross(a, b);
            if (!(circle.side * area > 0.0)) return none;
            turned += std::atan2(area, a.dot(b));
            worst = std::max(worst, std::abs(b.norm() - circle.radius));
            const double foot = -a.dot(way) / way.squaredNorm();
            if (foot > 0.0 && foot < 1.0)
                worst = std::max(worst, std::abs((a + foot * way).norm() - circle.radius));
            if (worst > limit || std::abs(turned) > full_turn) return none;
        }
        const double half = 0.5 * (at(to) - at(from)).norm();
        const double sweep = 4.0 * std::atan2(std::abs(rise), half);
        return std::abs(std::abs(turned) - sweep) < 1e-3 ? worst : none;
    }

    double misfit(int from, int to, double rise) const {
        const Circle circle = circle_of(at(from), at(to), rise);
        double sum = 0.0;
        for (int k = from + 1; k < to; ++k) {
            const double off = (at(k) - circle.center).norm() - circle.radius;
            sum += off * off;
        }
        return sum;
    }

    /// The rise of least squares near a first one: Gauss and Newton's method, one unknown.
    double best_rise(int from, int to, double rise) const {
        for (int round = 0; round < 3; ++round) {
            const double step = 1e-6 * std::max(std::abs(rise), tolerance_);
            const Circle here = circle_of(at(from), at(to), rise);
            const Circle there = circle_of(at(from), at(to), rise + step);
            double product = 0.0;
            double square = 0.0;
            for (int k = from + 1; k < to; ++k) {
                const double off = (at(k) - here.center).norm() - here.radius;
                const double slope = ((at(k) - there.center).norm() - there.radius - off) / step;
                product += off * slope;
                square += slope * slope;
            }
            if (!(square > 0.0)) break;
            const double next = rise - product / square;
            if (!std::isfinite(next) || next * rise <= 0.0) break;
            rise = next;
        }
        return rise;
    }

    std::optional<StretchPiece> arc_piece(int from, int to, double first) const {
        // Far off, nothing near will do.
        if (!std::isfinite(deviation(from, to, first, 4.0 * tolerance_))) return std::nullopt;
        const double rise = best_rise(from, to, first);
        if (deviation(from, to, rise, tolerance_) <= tolerance_)
            return StretchPiece{from, to, rise, misfit(from, to, rise)};
        // The least of the largest distances: it falls, then grows, about the rise of least
        // squares.
        double low = rise - 2.0 * tolerance_;
        double high = rise + 2.0 * tolerance_;
        if (low * high <= 0.0) return std::nullopt;
        const double limit = 8.0 * tolerance_;
        for (int round = 0; round < 24; ++round) {
            const double left = low + (high - low) / 3.0;
            const double right = high - (high - low) / 3.0;
            const double at_left = deviation(from, to, left, limit);
            const double at_right = deviation(from, to, right, limit);
            for (const auto& [value, place] :
                 {std::pair(at_left, left), std::pair(at_right, right)})
                if (value <= tolerance_)
                    return StretchPiece{from, to, place, misfit(from, to, place)};
            (at_left < at_right ? high : low) = at_left < at_right ? right : left;
        }
        return std::nullopt;
    }

    const std::vector<Point2>& points_;
    double tolerance_;
};

/// Earliest places of the divisions: those of the reversed stretch, from its end.
std::vector<int> earliest_divisions(const std::vector<Point2>& points, double tolerance) {
    const std::vector<Point2> backward(points.rbegin(), points.rend());
    std::vector<int> ends = Stretch(backward, tolerance).divisions();
    std::reverse(ends.begin(), ends.end());
    for (int& end : ends) end = static_cast<int>(points.size()) - 1 - end;
    return ends;
}

/// The places between two bounds in steps of `stride`, both included.
std::vector<int> places_between(int low, int high, int stride) {
    std::vector<int> places;
    for (int place = low; place < high; place += stride) places.push_back(place);
    places.push_back(high);
    return places;
}

/// Of the places offered for each division, those with the least misfit in all. Empty if none go
/// together.
std::vector<StretchPiece> best_pieces(const Stretch& stretch,
                                      const std::vector<std::vector<int>>& offered) {
    struct Way {
        double misfit;
        int before;  ///< place in the list of the division before
        StretchPiece piece;
    };
    constexpr double none = std::numeric_limits<double>::infinity();
    std::vector<std::vector<Way>> ways{{Way{0.0, -1, {}}}};
    for (std::size_t d = 1; d < offered.size(); ++d) {
        std::vector<Way> here;
        for (const int to : offered[d]) {
            Way best{none, -1, {}};
            for (std::size_t i = 0; i < offered[d - 1].size(); ++i) {
                const int from = offered[d - 1][i];
                if (from >= to || !(ways[d - 1][i].misfit < best.misfit)) continue;
                const auto piece = stretch.piece(from, to);
                if (piece && ways[d - 1][i].misfit + piece->misfit < best.misfit)
                    best = {ways[d - 1][i].misfit + piece->misfit, static_cast<int>(i), *piece};
            }
            here.push_back(best);
        }
        ways.push_back(std::move(here));
    }
    std::vector<StretchPiece> pieces;
    int place = 0;
    for (std::size_t d = ways.size() - 1; d > 0; --d) {
        const Way& way = ways[d][static_cast<std::size_t>(place)];
        if (way.before < 0) return {};
        pieces.push_back(way.piece);
        place = way.before;
    }
    std::reverse(pieces.begin(), pieces.end());
    return pieces;
}

}  // namespace

Curve piece_curve(const Point2& a, const Point2& b, double rise) {
    if (rise == 0.0) return Line{a, b};
    const Circle circle = circle_of(a, b, rise);
    const Vector2 from = a - circle.center;
    const double half = 0.5 * (b - a).norm();
    return Arc{circle.center, circle.radius, std::atan2(from.y(), from.x()),
               circle.side * 4.0 * std::atan2(std::abs(rise), half)};
}

std::vector<StretchPiece> fit_stretch(const std::vector<Point2>& points, double tolerance) {
    const Stretch stretch(points, tolerance);
    const std::vector<int> latest = stretch.divisions();
    std::vector<int> earliest = earliest_divisions(points, tolerance);
    // Both are the fewest. If a search for the longest piece was led astray by one that fits again
    // further on, the divisions of one way stand.
    if (earliest.size() != latest.size()) earliest = latest;

    std::vector<int> low(latest.size());
    std::vector<int> high(latest.size());
    int widest = 0;
    for (std::size_t d = 0; d < latest.size(); ++d) {
        low[d] = std::min(earliest[d], latest[d]);
        high[d] = std::max(earliest[d], latest[d]);
        widest = std::max(widest, high[d] - low[d]);
    }
    std::vector<StretchPiece> best;
    for (int stride = 1 + widest / places_a_round;; stride = (stride + places_a_round / 2) / 4) {
        stride = std::max(stride, 1);
        std::vector<std::vector<int>> offered;
        for (std::size_t d = 0; d < latest.size(); ++d) {
            std::vector<int> places = places_between(low[d], high[d], stride);
            // What is known to go together is always offered.
            for (const int known : {latest[d], best.empty() || d == 0 ? low[d] : best[d - 1].to})
                if (std::find(places.begin(), places.end(), known) == places.end())
                    places.push_back(known);
            std::sort(places.begin(), places.end());
            offered.push_back(std::move(places));
        }
        const std::vector<StretchPiece> found = best_pieces(stretch, offered);
        if (!found.empty()) best = found;
        if (stride == 1 || best.empty()) break;
        for (std::size_t d = 1; d < latest.size(); ++d) {
            const int chosen = best[d - 1].to;
            low[d] = std::max(low[d], chosen - stride);
            high[d] = std::min(high[d], chosen + stride);
        }
    }
    if (!best.empty()) return best;
    for (std::size_t d = 1; d < latest.size(); ++d)
        best.push_back(*stretch.piece(latest[d - 1], latest[d]));
    return best;
}

std::optional<Arc> fit_circle(const std::vector<Point2>& points, double tolerance) {
    if (points.size() < 3) return std::nullopt;
    // Least squares of x^2 + y^2 = 2 a x + 2 b y + c about the middle of the points. Source: I.
    // Kasa, A circle fitting procedure and its error analysis, IEEE Trans. Instrum. Meas. 25
    // (1976).
    Point2 middle = Point2::Zero();
    for (const Point2& point : points) middle += point;
    middle /= static_cast<double>(points.size());
    Eigen::Matrix3d matrix = Eigen::Matrix3d::Zero();
    Eigen::Vector3d right = Eigen::Vector3d::Zero();
    for (const Point2& point : points) {
        const Vector2 place = point - middle;
        const Eigen::Vector3d row(2.0 * place.x(), 2.0 * place.y(), 1.0);
        matrix += row * row.transpose();
        right += row * place.squaredNorm();
    }
    const Eigen::Vector3d solution = matrix.fullPivLu().solve(right);
    const Point2 center = middle + solution.head<2>();
    const double radius = std::sqrt(solution.z() + solution.head<2>().squaredNorm());
    if (!std::isfinite(radius) || !(radius > 0.0)) return std::nullopt;
    double turned = 0.0;
    for (std::size_t k = 0; k < points.size(); ++k) {
        const Vector2 a = points[k] - center;
        const Vector2 b = points[(k + 1) % points.size()] - center;
        const Vector2 way = b - a;
        if (std::abs(b.norm() - radius) > tolerance) return std::nullopt;
        const double foot = -a.dot(way) / way.squaredNorm();
        if (foot > 0.0 && foot < 1.0 && std::abs((a + foot * way).norm() - radius) > tolerance)
            return std::nullopt;
        const double step = std::atan2(cross(a, b), a.dot(b));
        if (step * turned < 0.0) return std::nullopt;
        turned += step;
    }
    if (std::abs(std::abs(turned) - full_turn) > 1e-6) return std::nullopt;
    const Vector2 first = points[0] - center;
    return Arc{center, radius, std::atan2(first.y(), first.x()), std::copysign(full_turn, turned)};
}

}  // namespace planform::drawing
