#include "offset/parallel.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "offset/fitted_parallel.hpp"
#include "offset/smooth_curve.hpp"

namespace planform::offset_detail {
namespace {

/// An arc that is left with less of a radius than this share of the distance is a point.
constexpr double no_radius = 1e-12;
/// Places a stretch at which curvatures are looked at, by degree: the numerator of the derivative
/// of the curvature of a polynomial of degree p has the degree 4 p - 6.
constexpr int samples_per_degree = 4;
/// The straight way through points, without those that repeat.
class Polyline {
  public:
    explicit Polyline(std::vector<Curve>& curves) : curves_(curves) {}
    void from(const Point2& point) { last_ = point; }
    void to(const Point2& point) {
        if ((point - last_).norm() > 0.0) curves_.push_back(Line{last_, point});
        last_ = point;
    }

  private:
    std::vector<Curve>& curves_;
    Point2 last_ = Point2::Zero();
};

Parallel of_line(const Line& line, double e) {
    const Vector2 along = (line.end - line.start).normalized();
    const Vector2 shift = e * Vector2(along.y(), -along.x());
    return {{Line{line.start + shift, line.end + shift}}, true, true};
}

Parallel of_arc(const Arc& arc, double e) {
    const double radius = arc.radius + (arc.sweep < 0.0 ? -e : e);
    if (radius > no_radius * std::abs(e))
        return {{Arc{arc.center, radius, arc.start_angle, arc.sweep}}, true, true};
    Parallel way{{}, false, false};
    Polyline line(way.curves);
    line.from(start_point(arc));
    line.to(arc.center);
    line.to(end_point(arc));
    return way;
}

/// A place where something happens along a smooth curve.
struct Sample {
    std::size_t stretch;
    double t;
    double factor;  ///< 1 + e k: below 0 the parallel runs backward
    bool is_cusp;   ///< of the evolute, or an end of a stretch
};

/// The least factor between places is looked for if it is below this at one of them: where the
/// curve isn't slow, curvature has no peaks between that take it below nought.
constexpr double least_that_matters = 0.9;
/// The way of the factor at an end is seen this share of the next place's distance from it.
constexpr double step_from_end = 1e-3;
/// Where the square of the speed is below this share of its greatest, a bend may be tight.
constexpr double slow = 0.05;
/// A parallel that stands almost still at a place has a sharp bend there: the fit breaks at it.
constexpr double breaks_below = 0.5;

/// Where a function with one least value between two places has it (golden section).
template <class Function>
double least_of(const Function& function, double low, double high) {
    constexpr double golden = 0.6180339887498949;
    double a = high - golden * (high - low), b = low + golden * (high - low);
    double value_a = function(a), value_b = function(b);
    for (int step = 0; step < 60; ++step) {
        if (value_a < value_b) {
            high = b;
            b = a;
            value_b = value_a;
            a = high - golden * (high - low);
            value_a = function(a);
        } else {
            low = a;
            a = b;
            value_a = value_b;
            b = low + golden * (high - low);
            value_b = function(b);
        }
    }
    return 0.5 * (low + high);
}

class Tracer {
  public:
    Tracer(const Curve& curve, double e, double bound) : curve_(curve), e_(e), bound_(bound) {
        const Spline* spline = std::get_if<Spline>(&curve);
        samples_ = spline ? samples_per_degree * std::max(spline->degree, 2) : 4;
    }

    Parallel run() {
        look_along();
        Parallel way;
        way.starts_apart = !is_backward(0);
        way.ends_apart = !is_backward(marks_.size() - 2);
        for (std::size_t i = 0; i + 1 < marks_.size();) {
            const std::size_t first = i;
            const bool backward = is_backward(first);
            while (i + 1 < marks_.size() && is_backward(i) == backward) ++i;
            if (backward)
                along_cusps(first, i, way);
            else
                along_parallel(first, i, way);
        }
        return way;
    }

  private:
    Sample sample(std::size_t stretch, double t, bool is_cusp = false) const {
        return {stretch, t, 1.0 + e_ * curve_.at(stretch, t).curvature, is_cusp};
    }

    /// Marks: places all along, the extremes of curvature and the places where the factor is
    /// nought among them. A jump of curvature at a knot keeps both sides.
    void look_along() {
        for (std::size_t s = 0; s < curve_.stretches(); ++s) {
            const std::vector<Sample> row = looked_at(s);
            std::vector<Sample> kept{row.front()};
            append_extreme_beside(row[0], row[1], kept);
            for (std::size_t i = 1; i + 1 < row.size(); ++i) {
                const double before = row[i - 1].factor, here = row[i].factor,
                             after = row[i + 1].factor;
                const bool least = here <= before && here < after;
                const bool most = here >= before && here > after;
                const bool matters = (least && here < least_that_matters) || (most && here <= 0.0);
                kept.push_back(matters ? extreme(row[i - 1], row[i + 1], least) : row[i]);
            }
            append_extreme_beside(row.back(), row[row.size() - 2], kept);
            kept.push_back(row.back());
            append_with_roots(kept);
        }
    }

    /// Places all along a stretch, and those where it is slowest: bends that are too tight to show
    /// between the others are there.
    std::vector<Sample> looked_at(std::size_t stretch) const {
        const Interval range = curve_.stretch(stretch);
        const auto speed = [&](double t) { return curve_.at(stretch, t).derivative.squaredNorm(); };
        std::vector<Sample> row;
        std::vector<double> speeds;
        for (int i = 0; i <= samples_; ++i) {
            const bool ends = i == 0 || i == samples_;
            const double t = i == samples_
                                 ? range.last
                                 : range.first + (range.last - range.first) * i / samples_;
            const Place place = curve_.at(stretch, t);
            row.push_back({stretch, t, 1.0 + e_ * place.curvature, ends});
            speeds.push_back(place.derivative.squaredNorm());
        }
        const double fastest = *std::max_element(speeds.begin(), speeds.end());
        for (std::size_t i = 1; i + 1 < row.size(); ++i)
            if (speeds[i] <= speeds[i - 1] && speeds[i] < speeds[i + 1] &&
                speeds[i] < slow * fastest)
                row[i] = sample(stretch, least_of(speed, row[i - 1].t, row[i + 1].t));
        // The same between an end and the place next to it, where the end is the slowest.
        const std::size_t last = row.size() - 1;
        const auto is_slowest_beside = [&](std::size_t end, std::size_t next) {
            return speeds[end] <= speeds[next] && speeds[end] < slow * fastest &&
                   speed(row[end].t + step_from_end * (row[next].t - row[end].t)) < speeds[end];
        };
        if (is_slowest_beside(last, last - 1))
            row.insert(row.end() - 1,
                       sample(stretch, least_of(speed, row[last - 1].t, row[last].t)));
        if (is_slowest_beside(0, 1))
            row.insert(row.begin() + 1, sample(stretch, least_of(speed, row[0].t, row[1].t)));
        return row;
    }

    Sample extreme(const Sample& from, const Sample& to, bool least) const {
        const double sign = least ? 1.0 : -1.0;
        const auto value = [&](double t) { return sign * sample(from.stretch, t).factor; };
        return sample(from.stretch, least_of(value, from.t, to.t), true);
    }

    /// The extreme between an end of a stretch and the place next to it, if the factor goes on to
    /// fall (rise) from the end and that can matter.
    void append_extreme_beside(const Sample& end, const Sample& next,
                               std::vector<Sample>& kept) const {
        const bool least = end.factor < next.factor;
        if (least ? end.factor >= least_that_matters : next.factor > 0.0 || end.factor > 0.0)
            return;
        const Sample beside = sample(end.stretch, end.t + step_from_end * (next.t - end.t));
        if (least ? beside.factor >= end.factor : beside.factor <= end.factor) return;
        kept.push_back(end.t < next.t ? extreme(end, next, least) : extreme(next, end, least));
    }

    void append_with_roots(const std::vector<Sample>& row) {
        for (std::size_t i = 0; i < row.size(); ++i) {
            if (i > 0 && (row[i - 1].factor > 0.0) != (row[i].factor > 0.0))
                marks_.push_back(root(row[i - 1], row[i]));
            marks_.push_back(row[i]);
        }
    }

    Sample root(Sample low, Sample high) const {
        const bool rises = high.factor > 0.0;
        for (int step = 0; step < 100; ++step) {
            const double t = 0.5 * (low.t + high.t);
            if (!(t > low.t && t < high.t)) break;
            const Sample middle = sample(low.stretch, t);
            ((middle.factor > 0.0) == rises ? high : low) = middle;
        }
        Sample found = low;
        found.factor = 0.0;
        found.is_cusp = false;
        return found;
    }

    /// Between this mark and the next the parallel runs backward (or stands still).
    bool is_backward(std::size_t mark) const {
        return marks_[mark].factor <= 0.0 && marks_[mark + 1].factor <= 0.0;
    }

    Point2 parallel_point(const Sample& s) const {
        const Place place = curve_.at(s.stretch, s.t);
        return place.point + e_ * place.normal();
    }

    Point2 focal_point(const Sample& s) const {
        if (s.factor == 0.0) return parallel_point(s);
        const Place place = curve_.at(s.stretch, s.t);
        return place.point - place.normal() / place.curvature;
    }

    void along_parallel(std::size_t first, std::size_t last, Parallel& way) const {
        std::vector<FitRange> ranges;
        for (std::size_t i = first; i < last; ++i) {
            if (marks_[i].stretch != marks_[i + 1].stretch) continue;
            if (!ranges.empty() && ranges.back().stretch == marks_[i].stretch &&
                marks_[i].factor > breaks_below)
                ranges.back().to = marks_[i + 1].t;
            else
                ranges.push_back({marks_[i].stretch, marks_[i].t, marks_[i + 1].t});
        }
        for (Curve& curve : fitted_parallel(curve_, e_, ranges, bound_))
            way.curves.push_back(std::move(curve));
    }

    void along_cusps(std::size_t first, std::size_t last, Parallel& way) const {
        Polyline line(way.curves);
        const Sample& start = marks_[first];
        const Sample& end = marks_[last];
        // Where curvature jumps at a knot the parallel stops short of the evolute, on one normal
        // with it.
        line.from(first == 0 ? curve_.at(start.stretch, start.t).point : parallel_point(start));
        line.to(focal_point(start));
        for (std::size_t i = first + 1; i < last; ++i)
            if (marks_[i].is_cusp) line.to(focal_point(marks_[i]));
        line.to(focal_point(end));
        line.to(last + 1 == marks_.size() ? curve_.at(end.stretch, end.t).point
                                          : parallel_point(end));
    }

    SmoothCurve curve_;
    double e_;
    double bound_;
    int samples_;
    std::vector<Sample> marks_;
};

}  // namespace

Parallel parallel(const Curve& curve, double e, double bound) {
    if (const Line* line = std::get_if<Line>(&curve)) return of_line(*line, e);
    if (const Arc* arc = std::get_if<Arc>(&curve)) return of_arc(*arc, e);
    return Tracer(curve, e, bound).run();
}

}  // namespace planform::offset_detail
