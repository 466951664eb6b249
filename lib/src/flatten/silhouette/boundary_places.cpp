#include "flatten/silhouette/boundary_places.hpp"

#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom2d_TrimmedCurve.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

#include "flatten/bounds/revolution_bound.hpp"
#include "flatten/bounds/smooth_spans.hpp"
#include "planform/curve.hpp"

namespace planform::flatten {
namespace {

constexpr int most_of_straight = 16;
/// A part is halved this often at most; across an extrusion a piece of the surface this often.
constexpr int most_halvings = 5, most_across = 20;
/// Bounds asked for a part, on average: enough for a few roots; noise is sampled.
constexpr int calls_a_part = 24;
/// Samples of a part of which no bounds are known: a polynomial piece turns a few times at most.
constexpr int a_part = 6;
/// Of a boundary in pieces, on a surface of closed form, at least so many a piece.
constexpr int least_a_span = 3;

Handle(Geom2d_Curve) basis(Handle(Geom2d_Curve) curve) {
    while (curve->IsKind(STANDARD_TYPE(Geom2d_TrimmedCurve)))
        curve = Handle(Geom2d_TrimmedCurve)::DownCast(curve)->BasisCurve();
    return curve;
}

/// Where the boundary crosses lines of constant u and v at which pieces of the surface end.
class Crossings {
  public:
    Crossings(const std::array<std::vector<double>, 2>& ends, const Handle(Geom2d_Curve) & curve)
        : ends_(ends), curve_(curve) {}

    std::vector<double> run(double start, double end) const {
        std::vector<double> found = {start, end};
        const auto line = Handle(Geom2d_Line)::DownCast(curve_);
        const std::vector<double> spans =
            line.IsNull() ? smooth_spans(curve_, start, end) : std::vector<double>{start, end};
        // The kernel takes most of the time: few steps where there is little to cross.
        const int steps = line.IsNull() ? 8 : 1;
        for (std::size_t i = 0; i + 1 < spans.size(); ++i)
            for (int k = 0; k < steps; ++k) {
                const double length = spans[i + 1] - spans[i];
                look_between(spans[i] + length * k / steps, spans[i] + length * (k + 1) / steps,
                             found);
            }
        return merged(spans, found);
    }

  private:
    double at(double t, std::size_t axis) const {
        const gp_Pnt2d p = curve_->Value(t);
        return axis == 0 ? p.X() : p.Y();
    }

    void look_between(double from, double to, std::vector<double>& found) const {
        for (const std::size_t axis : {0, 1}) {
            const std::vector<double>& ends = ends_[axis];
            if (ends.size() <= 2) continue;
            const double a = at(from, axis), b = at(to, axis);
            const auto [low, high] = std::minmax(a, b);
            const auto first = std::upper_bound(ends.begin(), ends.end(), low);
            const auto last = std::lower_bound(first, ends.end(), high);
            for (auto place = first; place < last; ++place)
                found.push_back(crossing(from, to, a, *place, axis));
        }
    }

    /// By secant steps within halves; on straight lines the first one is exact.
    double crossing(double low, double high, double at_low, double wanted, std::size_t axis) const {
        double below = at_low - wanted, above = at(high, axis) - wanted;
        for (int i = 0; i < 60; ++i) {
            const double share = std::clamp(below / (below - above), 0.01, 0.99);
            const double middle = low + share * (high - low), value = at(middle, axis) - wanted;
            if (std::abs(value) <= 1e-12 * std::abs(wanted) + 1e-300) return middle;
            if ((value > 0.0) == (below > 0.0)) {
                low = middle;
                below = value;
            } else {
                high = middle;
                above = value;
            }
        }
        return 0.5 * (low + high);
    }

    const std::array<std::vector<double>, 2>& ends_;
    const Handle(Geom2d_Curve) & curve_;
};

bool tells_sign(const FacingBound& bound, int outward, const Box2& box) {
    const Range range = bound.over(box);
    return outward > 0 ? range.low > bound.noise || range.high < bound.noise
                       : -range.high > bound.noise || -range.low < bound.noise;
}

bool tells_sign(const FacingField& field, const Box2& box) {
    if (field.bound().patches.empty())
        return bound_revolution(field.surface(), box, edge_on).has_value();
    return tells_sign(field.bound(), field.outward(), box);
}

class Halving {
  public:
    Halving(const FacingField& field, const solid::InsetCurve& curve, bool is_straight,
            const std::function<double(double)>& depth)
        : field_(field), curve_(curve), is_straight_(is_straight), depth_(depth) {}

    ScanPlaces run(const std::vector<double>& ends) {
        const int deepest = field_.bound().extruded_along ? 0 : most_halvings;
        budget_ = calls_a_part * (static_cast<int>(ends.size()) - 1);
        places_.at = {ends.front()};
        for (std::size_t i = 0; i + 1 < ends.size(); ++i)
            look_at_part(ends[i], place(ends[i]), ends[i + 1], place(ends[i + 1]), deepest);
        return std::move(places_);
    }

  private:
    Point2 place(double t) const { return curve_.inside(t, depth_(t)); }

    void look_at_part(double from, const Point2& a, double to, const Point2& b, int halvings) {
        asks_ = true;
        strip_.reset();
        --budget_;
        const Box2 box = box_of(from, a, to, b);
        const bool is_told = tells_sign(field_, box);
        if (is_told || halvings == 0) {
            finish(to, is_told);
            return;
        }
        if (!field_.bound().patches.empty()) {
            strip_ = field_.bound().within(box);
            strip_box_ = box;
            asks_ = has_hope({a, place(0.5 * (from + to)), b}, halvings);
        }
        halve(from, a, to, b, halvings);
    }

    /// Bounds narrow with what they are asked for. Where the boundary runs along a fold the field
    /// there is less than they will still span at the last halving.
    bool has_hope(const std::array<Point2, 3>& places, int halvings) const {
        const Range span = strip_->over(strip_box_);
        const double least = std::ldexp(span.high - span.low, -halvings);
        return std::any_of(places.begin(), places.end(), [&](const Point2& place) {
            const Range value = strip_->over({place, place});
            return std::max(std::abs(value.low), std::abs(value.high)) > least;
        });
    }

    void look(double from, const Point2& a, double to, const Point2& b, int halvings) {
        --budget_;
        const bool is_told = asks_ && budget_ > 0 && tells(box_of(from, a, to, b));
        if (is_told || halvings == 0)
            finish(to, is_told);
        else
            halve(from, a, to, b, halvings);
    }

    void halve(double from, const Point2& a, double to, const Point2& b, int halvings) {
        const double middle = 0.5 * (from + to);
        const Point2 between = place(middle);
        // Where bounds tell nothing, as on noise, the rest is sampled.
        const int left = budget_ > 0 ? halvings - 1 : std::min(halvings - 1, 2);
        look(from, a, middle, between, left);
        look(middle, between, to, b, left);
    }

    void finish(double to, bool is_told) {
        places_.at.push_back(to);
        places_.is_told.push_back(is_told ? 1 : 0);
    }

    bool tells(const Box2& box) const {
        return strip_ && strip_box_.contains(box) ? tells_sign(*strip_, field_.outward(), box)
                                                  : tells_sign(field_, box);
    }

    /// What holds the curve between two of its places.
    Box2 box_of(double from, const Point2& a, double to, const Point2& b) const {
        Box2 box(a.cwiseMin(b), a.cwiseMax(b));
        if (is_straight_) return box;
        Vector2 off = Vector2::Zero();
        for (const double share : {0.25, 0.5, 0.75}) {
            const Point2 p = place(from + share * (to - from));
            off = off.cwiseMax((p - a - share * (b - a)).cwiseAbs());
            box.extend(p);
        }
        return {Point2(box.min() - off), Point2(box.max() + off)};
    }

    const FacingField& field_;
    const solid::InsetCurve& curve_;
    bool is_straight_;
    const std::function<double(double)>& depth_;
    int budget_ = 0;
    std::optional<FacingBound> strip_;  ///< what of the bounds is asked for in a part
    Box2 strip_box_;
    bool asks_ = true;  ///< false: the part is sampled
    ScanPlaces places_;
};

/// Where across an extrusion the sign changes, between neighbouring places: all that bounds don't
/// tell lies between two of them 1e-6 of a piece apart.
class SignsAcross {
  public:
    SignsAcross(const FacingField& field, Parameter along)
        : field_(field), across_(along == Parameter::v ? 0 : 1) {
        const FacingBound& bound = field.bound();
        box_ = {Point2(bound.u.front(), bound.v.front()), Point2(bound.u.back(), bound.v.back())};
    }

    std::vector<double> run() {
        const FacingBound& bound = field_.bound();
        const std::vector<double>& ends = across_ == 0 ? bound.u : bound.v;
        for (std::size_t i = 0; i + 1 < ends.size(); ++i) look(ends[i], ends[i + 1], most_across);
        return std::move(places_);
    }

  private:
    void look(double from, double to, int halvings) {
        box_.min()[across_] = from;
        box_.max()[across_] = to;
        if (tells_sign(field_, box_)) return;
        if (halvings == 0) {
            places_.push_back(from);
            places_.push_back(to);
            return;
        }
        const double middle = 0.5 * (from + to);
        look(from, middle, halvings - 1);
        look(middle, to, halvings - 1);
    }

    const FacingField& field_;
    Eigen::Index across_;
    Box2 box_;
    std::vector<double> places_;
};

/// The same where no bounds are known: the extruded curve is a conic, or offset from a curve.
std::vector<double> sampled_signs_across(const FacingField& field, Parameter along,
                                         const std::vector<double>& ends) {
    const Eigen::Index across = along == Parameter::v ? 0 : 1;
    Point2 uv = 0.5 * (field.surface().low() + field.surface().high());
    ScanPlaces places;
    for (std::size_t i = 0; i + 1 < ends.size(); ++i)
        for (int k = 0; k < most_of_straight; ++k)
            places.at.push_back(ends[i] + (ends[i + 1] - ends[i]) * k / most_of_straight);
    places.at.push_back(ends.back());
    const auto value = [&](double at) {
        uv[across] = at;
        return field.value(uv);
    };
    return scan_sign(value, std::move(places)).roots;
}

ScanPlaces at_least_three(ScanPlaces places) {
    if (places.at.size() > 2) return places;
    places.at.insert(places.at.begin() + 1, 0.5 * (places.at.front() + places.at.back()));
    places.is_told.push_back(places.is_told.front());
    return places;
}

}  // namespace

int sample_count(const solid::ParameterCurve& side, const solid::FaceSurface& surface) {
    const Handle(Geom2d_Curve) curve = basis(side.curve);
    if (const auto spline = Handle(Geom2d_BSplineCurve)::DownCast(curve); !spline.IsNull())
        return std::clamp(4 * spline->NbPoles(), most_of_straight, 256);
    const auto line = Handle(Geom2d_Line)::DownCast(curve);
    if (line.IsNull() || !surface.is_closed_form()) return most_of_straight;
    // On a straight way over a quadric or a torus the field is a wave in the angles: the same steps
    // as for a full turn.
    const gp_Dir2d way = line->Direction();
    const double turn =
        (side.last - side.first) *
        (std::abs(way.X()) + (surface.is_round_both_ways() ? std::abs(way.Y()) : 0.0));
    return std::clamp(static_cast<int>(std::ceil(most_of_straight * turn / (2.0 * pi))), 2,
                      most_of_straight);
}

BoundaryPlaces::BoundaryPlaces(const FacingField& field) : field_(field) {
    if (field.surface().is_closed_form()) return;
    is_bounded_ = !field.bound().patches.empty() || has_revolution_bound(field.surface());
    for (const Parameter along : {Parameter::u, Parameter::v})
        ends_[along == Parameter::u ? 0 : 1] = smooth_spans(field.surface(), along);
    if (const auto along = field.extruded_along()) {
        std::vector<double>& ends = ends_[*along == Parameter::v ? 0 : 1];
        const std::vector<double> signs = field.bound().patches.empty()
                                              ? sampled_signs_across(field, *along, ends)
                                              : SignsAcross(field, *along).run();
        ends.insert(ends.end(), signs.begin(), signs.end());
        std::sort(ends.begin(), ends.end());
    }
}

ScanPlaces BoundaryPlaces::along(const solid::ParameterCurve& side, const solid::InsetCurve& curve,
                                 double start, double end,
                                 const std::function<double(double)>& depth) const {
    ScanPlaces places;
    if (field_.surface().is_closed_form() || !(end > start)) {
        // In each span of the boundary, however short: there it may turn a few times.
        const std::vector<double> ends = smooth_spans(side.curve, start, end);
        const auto spans = static_cast<int>(ends.size()) - 1;
        const int all = sample_count(side, field_.surface());
        const int count = std::max((all + spans - 1) / spans, spans == 1 ? 1 : least_a_span);
        for (std::size_t k = 0; k + 1 < ends.size(); ++k)
            for (int i = 0; i < count; ++i)
                places.at.push_back(ends[k] + (ends[k + 1] - ends[k]) * i / count);
        places.at.push_back(end);
        return places;
    }
    const std::vector<double> ends = Crossings(ends_, side.curve).run(start, end);
    if (is_bounded_)
        return at_least_three(
            Halving(field_, curve, side.curve->DynamicType() == STANDARD_TYPE(Geom2d_Line), depth)
                .run(ends));
    const auto parts = static_cast<int>(ends.size()) - 1;
    const int steps = std::max(a_part, sample_count(side, field_.surface()) / parts);
    for (std::size_t i = 0; i + 1 < ends.size(); ++i)
        for (int k = 0; k < steps; ++k)
            places.at.push_back(ends[i] + (ends[i + 1] - ends[i]) * k / steps);
    places.at.push_back(end);
    return places;
}

}  // namespace planform::flatten
