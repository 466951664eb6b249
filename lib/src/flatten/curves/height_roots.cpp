#include "flatten/curves/height_roots.hpp"

#include <GeomConvert.hxx>
#include <GeomConvert_BSplineCurveToBezierCurve.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_Ellipse.hxx>
#include <Geom_Line.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "flatten/bounds/halves.hpp"
#include "flatten/curves/sign_scan.hpp"

namespace planform::flatten {
namespace {

class RootFinder {
  public:
    RootFinder(const solid::GraphEdge& edge, double level) : edge_(edge), level_(level) {}

    std::vector<double> run() {
        Handle(Geom_Curve) curve = edge_.curve;
        while (curve->IsKind(STANDARD_TYPE(Geom_TrimmedCurve)))
            curve = Handle(Geom_TrimmedCurve)::DownCast(curve)->BasisCurve();
        if (curve->IsKind(STANDARD_TYPE(Geom_Line)))
            on_monotone_pieces({});
        else if (const auto circle = Handle(Geom_Circle)::DownCast(curve); !circle.IsNull())
            on_conic(circle->Position(), circle->Radius(), circle->Radius());
        else if (const auto ellipse = Handle(Geom_Ellipse)::DownCast(curve); !ellipse.IsNull())
            on_conic(ellipse->Position(), ellipse->MajorRadius(), ellipse->MinorRadius());
        else if (const auto spline = Handle(Geom_BSplineCurve)::DownCast(curve); !spline.IsNull())
            on_spline(spline);
        else
            roots_ = scan_sign([this](double t) { return height(t); }, edge_.first, edge_.last, 64)
                         .roots;
        return std::move(roots_);
    }

  private:
    double height(double t) const { return edge_.point(t).z() - level_; }

    /// `turns`: ascending parameters where the height may have an extremum.
    void on_monotone_pieces(const std::vector<double>& turns) {
        double from = edge_.first, value = height(from);
        const auto up_to = [&](double to) {
            const double next = height(to);
            if ((value > 0.0) != (next > 0.0))
                roots_.push_back(height_root_between(edge_, level_, from, to));
            from = to;
            value = next;
        };
        for (const double turn : turns)
            if (turn > edge_.first && turn < edge_.last) up_to(turn);
        up_to(edge_.last);
    }

    void on_conic(const gp_Ax2& position, double a, double b) {
        gp_Dir x = position.XDirection(), y = position.YDirection();
        x.Transform(edge_.placement());
        y.Transform(edge_.placement());
        const double extremum = std::atan2(b * y.Z(), a * x.Z());
        std::vector<double> turns;
        for (double k = std::ceil((edge_.first - extremum) / pi); extremum + k * pi < edge_.last;
             k += 1.0)
            turns.push_back(extremum + k * pi);
        on_monotone_pieces(turns);
    }

    void on_spline(const Handle(Geom_BSplineCurve) & whole) {
        Handle(Geom_BSplineCurve) spline = Handle(Geom_BSplineCurve)::DownCast(whole->Copy());
        if (spline->IsPeriodic()) spline->SetNotPeriodic();
        GeomConvert_BSplineCurveToBezierCurve split(spline);
        TColStd_Array1OfReal knots(1, split.NbArcs() + 1);
        split.Knots(knots);
        // A periodic spline's edge may run over the seam.
        const double period = whole->IsPeriodic() ? whole->Period() : 0.0;
        for (int turn = 0; turn <= (period > 0.0 ? 1 : 0); ++turn)
            for (int i = 1; i <= split.NbArcs(); ++i)
                on_bezier(split.Arc(i), knots(i) + turn * period, knots(i + 1) + turn * period);
        std::sort(roots_.begin(), roots_.end());
        keep_changes();
    }

    /// Coefficients of weight times height.
    void on_bezier(const Handle(Geom_BezierCurve) & bezier, double from, double to) {
        if (to <= edge_.first || from >= edge_.last) return;
        std::vector<double> coefficients;
        for (int i = 1; i <= bezier->NbPoles(); ++i) {
            gp_Pnt pole = bezier->Pole(i);
            pole.Transform(edge_.placement());
            coefficients.push_back(bezier->Weight(i) * (pole.Z() - level_));
        }
        isolate(coefficients, from, to, 0);
    }

    void isolate(const std::vector<double>& c, double from, double to, int depth) {
        int changes = 0;
        for (std::size_t i = 0; i + 1 < c.size(); ++i) changes += (c[i] > 0.0) != (c[i + 1] > 0.0);
        if (changes == 0) return;
        const bool ends_differ = (c.front() > 0.0) != (c.back() > 0.0);
        if ((changes == 1 && ends_differ) || depth > 45) {
            if (ends_differ) take_root(from, to);
            return;
        }
        std::vector<double> right = c;
        const std::vector<double> left = take_first_half(right);
        const double middle = 0.5 * (from + to);
        isolate(left, from, middle, depth + 1);
        isolate(right, middle, to, depth + 1);
    }

    /// The signs of coefficients and of heights may differ by rounding at the ends of a piece.
    void take_root(double from, double to) {
        const double a = std::max(from, edge_.first), b = std::min(to, edge_.last);
        if (a >= b) return;
        if ((height(a) > 0.0) != (height(b) > 0.0))
            roots_.push_back(height_root_between(edge_, level_, a, b));
        else if (from >= edge_.first && to <= edge_.last)
            roots_.push_back(std::abs(height(a)) < std::abs(height(b)) ? a : b);
    }

    /// Drops roots at the very ends, which belong to the vertices.
    void keep_changes() {
        roots_.erase(std::remove_if(roots_.begin(), roots_.end(),
                                    [&](double t) { return t <= edge_.first || t >= edge_.last; }),
                     roots_.end());
    }

    const solid::GraphEdge& edge_;
    double level_;
    std::vector<double> roots_;
};

}  // namespace

std::vector<double> height_roots(const solid::GraphEdge& edge, double level) {
    return RootFinder(edge, level).run();
}

double height_root_between(const solid::GraphEdge& edge, double level, double a, double b) {
    const SignScan scan = scan_sign([&](double t) { return edge.point(t).z() - level; }, a, b, 1);
    return scan.roots.empty() ? 0.5 * (a + b) : scan.roots.front();
}

}  // namespace planform::flatten
