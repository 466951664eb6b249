#include "flatten/curves/projected_curve.hpp"

#include <GeomAbs_Shape.hxx>
#include <GeomConvert.hxx>
#include <GeomConvert_ApproxCurve.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_Ellipse.hxx>
#include <Geom_Line.hxx>
#include <Geom_OffsetCurve.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <algorithm>
#include <cmath>

#include "curve/straight_pieces.hpp"
#include "planform/error.hpp"

namespace planform::flatten {
namespace {

/// Recognition of lines and arcs among splines, mm: the confusion of common solid modellers.
constexpr double recognition = 1e-7;
/// A curve shorter than this (mm) is a point on the datum.
constexpr double point_size = 1e-9;
/// A piece of a closed curve that lacks less than this share of its period is all of it.
constexpr double whole = 1e-9;

Point2 on_datum(const gp_Pnt& p) { return {p.X(), p.Y()}; }
Vector2 on_datum(const gp_Dir& d) { return {d.X(), d.Y()}; }

template <typename Conic>
void frame_of(const Conic& conic, const gp_Trsf& placement, bool is_placed, Point2& center,
              Vector2& x, Vector2& y) {
    gp_Ax2 frame = conic->Position();
    if (is_placed) frame.Transform(placement);
    center = on_datum(frame.Location());
    x = on_datum(frame.XDirection());
    y = on_datum(frame.YDirection());
}

/// Poles and knots of a kernel's spline as they stand, periodic or not clamped.
struct KernelPoles {
    KernelPoles(const Geom_BSplineCurve& source, const gp_Trsf& placement, bool is_placed)
        : degree(source.Degree()), is_rational(source.IsRational()) {
        if (source.IsPeriodic()) {
            for (int i = source.FirstUKnotIndex(); i < source.LastUKnotIndex(); ++i)
                knots.insert(knots.end(), static_cast<std::size_t>(source.Multiplicity(i)),
                             source.Knot(i));
            knots_before = degree + 1 - source.Multiplicity(source.FirstUKnotIndex());
        } else {
            const TColStd_Array1OfReal& sequence = source.KnotSequence();
            knots.assign(sequence.begin(), sequence.end());
        }
        for (int i = 1; i <= source.NbPoles(); ++i) {
            gp_Pnt pole = source.Pole(i);
            if (is_placed) pole.Transform(placement);
            points.push_back(on_datum(pole));
            if (is_rational) weights.push_back(source.Weight(i));
        }
    }

    void append_pole_to(Spline& spline, std::size_t index) const {
        spline.poles.push_back(points[index]);
        if (is_rational) spline.weights.push_back(weights[index]);
    }

    int degree;
    bool is_rational;
    std::vector<double> knots;  ///< of a periodic spline those of one period
    int knots_before = 0;       ///< how many of the period before the first pole needs
    std::vector<Point2> points;
    std::vector<double> weights;
};

/// The same curve from its first to its last parameter with ends that count degree + 1 times.
/// Beyond its domain a spline that isn't clamped gets poles that have no say within.
Spline clamped(const KernelPoles& poles) {
    const auto order = static_cast<std::size_t>(poles.degree) + 1;
    const std::vector<double>& u = poles.knots;
    const double first = u[order - 1], last = u[u.size() - order];
    Spline spline;
    spline.degree = poles.degree;
    if (u.front() == first && u.back() == last) {
        spline.knots = u;
        spline.poles = poles.points;
        spline.weights = poles.weights;
        return spline;
    }
    const double width = last - first;
    spline.knots.assign(order, u.front() - width);
    spline.knots.insert(spline.knots.end(), u.begin(), u.end());
    spline.knots.insert(spline.knots.end(), order, u.back() + width);
    for (std::size_t i = 0; i < order; ++i) poles.append_pole_to(spline, 0);
    for (std::size_t i = 0; i < poles.points.size(); ++i) poles.append_pole_to(spline, i);
    for (std::size_t i = 0; i < order; ++i) poles.append_pole_to(spline, poles.points.size() - 1);
    return std::get<Spline>(trimmed(spline, first, last));
}

/// The piece from..to of a periodic spline, at most a period long: its knots and poles are laid out
/// over some periods and what is not asked for is cut off (not by the kernel: its own restriction
/// gives random poles where `to` is a period and a last digit away from `from`).
Spline periodic_piece(const KernelPoles& poles, double first, double period, double from,
                      double to) {
    const double turns = std::floor((from - first) / period);
    from -= turns * period;
    to -= turns * period;
    if (to - from > period * (1.0 - whole)) to = from + period;
    const auto count = static_cast<int>(poles.points.size());
    const int before = (poles.knots_before + count - 1) / count;  // periods
    const int after = 3 + (poles.degree + 1) / count;
    Spline spline;
    spline.degree = poles.degree;
    for (int i = -poles.knots_before; i < after * count; ++i)
        spline.knots.push_back(poles.knots[static_cast<std::size_t>((i + before * count) % count)] +
                               std::floor(static_cast<double>(i) / count) * period);
    const auto laid_out = spline.knots.size() - static_cast<std::size_t>(poles.degree) - 1;
    for (std::size_t i = 0; i < laid_out; ++i)
        poles.append_pole_to(spline, i % poles.points.size());
    return std::get<Spline>(trimmed(spline, from, to));
}

Spline spline_piece(const Geom_BSplineCurve& source, double from, double to,
                    const gp_Trsf& placement, bool is_placed) {
    const KernelPoles poles(source, placement, is_placed);
    const double first = source.FirstParameter(), last = source.LastParameter();
    if (source.IsPeriodic()) return periodic_piece(poles, first, last - first, from, to);
    const Spline spline = clamped(poles);
    if (from <= first && to >= last) return spline;
    return std::get<Spline>(trimmed(spline, from, to));
}

bool is_point(const Spline& spline) {
    Box2 box;
    for (const Point2& pole : spline.poles) box.extend(pole);
    return box.sizes().maxCoeff() < point_size;
}

/// The piece from..to of a curve that is no spline as one: exact but for an offset curve, which is
/// approximated.
Handle(Geom_BSplineCurve)
    as_spline(const Handle(Geom_Curve) & curve, double from, double to, double tolerance) {
    const Handle(Geom_TrimmedCurve) piece = new Geom_TrimmedCurve(curve, from, to);
    if (curve->IsKind(STANDARD_TYPE(Geom_OffsetCurve))) {
        GeomConvert_ApproxCurve approximation(piece, tolerance, GeomAbs_C1, 200, 8);
        if (!approximation.HasResult())
            throw GeometryError(ErrorKind::kernel_failure, "an offset curve can't be approximated");
        return approximation.Curve();
    }
    return GeomConvert::CurveToBSplineCurve(piece);
}

}  // namespace

std::vector<Curve> project_conjugate_arc(const Point2& center, const Vector2& a, const Vector2& b,
                                         double from, double to) {
    // Principal axes of the ellipse with conjugate half diameters a, b: the singular values of [a
    // b]. With t = phase + s the curve is center + p cos s + q sin s, p and q perpendicular.
    const double phase = 0.5 * std::atan2(2.0 * a.dot(b), a.squaredNorm() - b.squaredNorm());
    const Vector2 p = a * std::cos(phase) + b * std::sin(phase);
    const Vector2 q = b * std::cos(phase) - a * std::sin(phase);
    const double size = p.norm();
    if (size < point_size) return {};
    const double sweep = to - from;
    if (q.norm() < 1e-12 * size) {
        // Seen edge-on: straight pieces that turn where cos s = +-1.
        std::vector<double> stops = {from - phase};
        const double low = std::min(from, to) - phase, high = std::max(from, to) - phase;
        std::vector<double> turns;
        for (double k = std::ceil(low / pi); k * pi < high; k += 1.0)
            if (k * pi > low) turns.push_back(k * pi);
        if (sweep < 0.0) std::reverse(turns.begin(), turns.end());
        stops.insert(stops.end(), turns.begin(), turns.end());
        stops.push_back(to - phase);
        std::vector<Curve> pieces;
        for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
            const Line line{center + std::cos(stops[i]) * p, center + std::cos(stops[i + 1]) * p};
            if ((line.end - line.start).norm() >= point_size) pieces.push_back(line);
        }
        return pieces;
    }
    const double turn = cross(p, q) < 0.0 ? -1.0 : 1.0;
    if (std::abs(q.norm() - size) < 1e-12 * size) {
        const double start = std::atan2(p.y(), p.x()) + turn * (from - phase);
        return {Arc{center, size, start, turn * sweep}};
    }
    // p is the longer axis by the choice of the phase.
    return {EllipticalArc{center, p, q.norm() / size, turn * (from - phase), turn * sweep}};
}

std::vector<Curve> project_edge(const solid::GraphEdge& edge, double from, double to,
                                double tolerance) {
    Handle(Geom_Curve) curve = edge.curve;
    while (curve->IsKind(STANDARD_TYPE(Geom_TrimmedCurve)))
        curve = Handle(Geom_TrimmedCurve)::DownCast(curve)->BasisCurve();
    if (curve->IsKind(STANDARD_TYPE(Geom_Line))) {
        const Line line{edge.point(from).head<2>(), edge.point(to).head<2>()};
        if ((line.end - line.start).norm() < point_size) return {};
        return {line};
    }
    Point2 center;
    Vector2 x, y;
    if (const auto circle = Handle(Geom_Circle)::DownCast(curve); !circle.IsNull()) {
        frame_of(circle, edge.placement(), edge.is_placed, center, x, y);
        const double radius = circle->Radius();
        return project_conjugate_arc(center, radius * x, radius * y, from, to);
    }
    if (const auto ellipse = Handle(Geom_Ellipse)::DownCast(curve); !ellipse.IsNull()) {
        frame_of(ellipse, edge.placement(), edge.is_placed, center, x, y);
        return project_conjugate_arc(center, ellipse->MajorRadius() * x, ellipse->MinorRadius() * y,
                                     from, to);
    }
    if (to - from < 1e-9 * (edge.last - edge.first)) {
        // Too short for the kernel to cut out.
        const Line line{edge.point(from).head<2>(), edge.point(to).head<2>()};
        if ((line.end - line.start).norm() < point_size) return {};
        return {line};
    }
    Handle(Geom_BSplineCurve) source = Handle(Geom_BSplineCurve)::DownCast(curve);
    if (source.IsNull()) {
        source = as_spline(curve, from, to, 0.1 * tolerance);
        from = source->FirstParameter();
        to = source->LastParameter();
    }
    const Spline spline = spline_piece(*source, from, to, edge.placement(), edge.is_placed);
    if (is_point(spline)) return {};
    return canonical_pieces(spline, recognition);
}

}  // namespace planform::flatten
