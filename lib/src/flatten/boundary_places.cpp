#include "flatten/boundary_places.hpp"

#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom2d_TrimmedCurve.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "flatten/revolution_bound.hpp"
#include "flatten/smooth_spans.hpp"
#include "planform/curve.hpp"

namespace planform::flatten {
namespace {

constexpr int most_of_straight = 16;
/// A part is halved this often at most.
constexpr int deepest = 5;
/// Samples of a part of which no bounds are known: a polynomial piece turns a few times at most.
constexpr int a_part = 6;

Handle(Geom2d_Curve) basis(Handle(Geom2d_Curve) curve) {
    while (curve->IsKind(STANDARD_TYPE(Geom2d_TrimmedCurve)))
        curve = Handle(Geom2d_TrimmedCurve)::DownCast(curve)->BasisCurve();
    return curve;
}

/// Where the boundary crosses lines of constant u and v at which pieces of the surface end.
class Crossings {
  public:
    Crossings(const FaceSurface& surface, const Handle(Geom2d_Curve) & curve)
        : u_(smooth_spans(surface, Parameter::u)),
          v_(smooth_spans(surface, Parameter::v)),
          curve_(curve) {}

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
    double at(double t, int axis) const {
        const gp_Pnt2d p = curve_->Value(t);
        return axis == 0 ? p.X() : p.Y();
    }

    void look_between(double from, double to, std::vector<double>& found) const {
        for (const int axis : {0, 1}) {
            const std::vector<double>& ends = axis == 0 ? u_ : v_;
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
    double crossing(double low, double high, double at_low, double wanted, int axis) const {
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

    std::vector<double> u_, v_;
    const Handle(Geom2d_Curve) & curve_;
};

class Halving {
  public:
    Halving(const FacingField& field, const InsetCurve& curve, bool is_straight,
            const std::function<double(double)>& depth)
        : field_(field), curve_(curve), is_straight_(is_straight), depth_(depth) {}

    ScanPlaces run(const std::vector<double>& ends) {
        budget_ = 64 * static_cast<int>(ends.size());
        places_.at = {ends.front()};
        for (std::size_t i = 0; i + 1 < ends.size(); ++i)
            look(ends[i], place(ends[i]), ends[i + 1], place(ends[i + 1]), deepest);
        return std::move(places_);
    }

  private:
    Point2 place(double t) const { return curve_.inside(t, depth_(t)); }

    void look(double from, const Point2& a, double to, const Point2& b, int halvings) {
        --budget_;
        const bool is_told = budget_ > 0 && tells(box_of(from, a, to, b));
        if (is_told || halvings == 0) {
            places_.at.push_back(to);
            places_.is_told.push_back(is_told ? 1 : 0);
            return;
        }
        const double middle = 0.5 * (from + to);
        const Point2 between = place(middle);
        // Where bounds tell nothing, as on noise, the rest is sampled.
        const int left = budget_ > 0 ? halvings - 1 : std::min(halvings - 1, 2);
        look(from, a, middle, between, left);
        look(middle, between, to, b, left);
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

    bool tells(const Box2& box) const {
        if (field_.bound().patches.empty())
            return bound_revolution(field_.surface(), box, FacingField::edge_on).has_value();
        const Range range = field_.bound().over(box);
        const double noise = field_.bound().noise;
        return field_.outward() > 0 ? range.low > noise || range.high < noise
                                    : -range.high > noise || -range.low < noise;
    }

    const FacingField& field_;
    const InsetCurve& curve_;
    bool is_straight_;
    const std::function<double(double)>& depth_;
    int budget_ = 0;
    ScanPlaces places_;
};

ScanPlaces at_least_three(ScanPlaces places) {
    if (places.at.size() > 2) return places;
    places.at.insert(places.at.begin() + 1, 0.5 * (places.at.front() + places.at.back()));
    places.is_told.push_back(places.is_told.front());
    return places;
}

}  // namespace

int sample_count(const ParameterCurve& side, const FaceSurface& surface) {
    const Handle(Geom2d_Curve) curve = basis(side.curve);
    if (const auto spline = Handle(Geom2d_BSplineCurve)::DownCast(curve); !spline.IsNull())
        return std::clamp(4 * spline->NbPoles(), most_of_straight, 256);
    const auto line = Handle(Geom2d_Line)::DownCast(curve);
    if (line.IsNull() || !surface.is_closed_form()) return most_of_straight;
    // On a straight way over a quadric or a torus the field is a wave in the angles: the same steps
    // as for a full turn.
    const gp_Dir2d way = line->Direction();
    const bool round_both_ways =
        surface.kind() == GeomAbs_Sphere || surface.kind() == GeomAbs_Torus;
    const double turn = (side.last - side.first) *
                        (std::abs(way.X()) + (round_both_ways ? std::abs(way.Y()) : 0.0));
    return std::clamp(static_cast<int>(std::ceil(most_of_straight * turn / (2.0 * pi))), 2,
                      most_of_straight);
}

ScanPlaces boundary_places(const FacingField& field, const ParameterCurve& side,
                           const InsetCurve& curve, double start, double end,
                           const std::function<double(double)>& depth) {
    ScanPlaces places;
    if (field.surface().is_closed_form() || !(end > start)) {
        const int count = sample_count(side, field.surface());
        for (int i = 0; i <= count; ++i)
            places.at.push_back(i == count ? end : start + (end - start) * i / count);
        return places;
    }
    const std::vector<double> ends = Crossings(field.surface(), side.curve).run(start, end);
    const bool is_bounded = !field.bound().patches.empty() || has_revolution_bound(field.surface());
    if (is_bounded)
        return at_least_three(
            Halving(field, curve, side.curve->DynamicType() == STANDARD_TYPE(Geom2d_Line), depth)
                .run(ends));
    const auto parts = static_cast<int>(ends.size()) - 1;
    const int steps = std::max(a_part, sample_count(side, field.surface()) / parts);
    for (std::size_t i = 0; i + 1 < ends.size(); ++i)
        for (int k = 0; k < steps; ++k)
            places.at.push_back(ends[i] + (ends[i + 1] - ends[i]) * k / steps);
    places.at.push_back(end);
    return places;
}

}  // namespace planform::flatten
