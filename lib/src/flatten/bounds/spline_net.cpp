#include "flatten/bounds/spline_net.hpp"

#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_BezierSurface.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "model/kernel/points.hpp"

namespace planform::flatten {
namespace {

/// Of a range of parameters: rounding in files.
constexpr double slack = 1e-9;

Eigen::Vector4d homogeneous(gp_Pnt p, const gp_Trsf& placement, double weight) {
    p.Transform(placement);
    return {weight * p.X(), weight * p.Y(), weight * p.Z(), weight};
}

std::vector<double> values_of(const TColStd_Array1OfReal& array) {
    return {array.begin(), array.end()};
}

void set_bezier_knots(SplineDirection& direction) {
    const auto ends = static_cast<std::size_t>(direction.degree + 1);
    direction.knots.assign(ends, 0.0);
    direction.knots.insert(direction.knots.end(), ends, 1.0);
}

template <class Surface>
void take_surface(const Surface& surface, const gp_Trsf& placement, SplineNet& net) {
    net.rows = surface.NbUPoles();
    net.columns = surface.NbVPoles();
    net.rational = surface.IsURational() || surface.IsVRational();
    for (int i = 1; i <= net.rows; ++i)
        for (int j = 1; j <= net.columns; ++j)
            net.poles.push_back(homogeneous(surface.Pole(i, j), placement, surface.Weight(i, j)));
    net.u.degree = surface.UDegree();
    net.v.degree = surface.VDegree();
}

template <class CurveOfPoles>
void take_curve(const CurveOfPoles& curve, const gp_Trsf& placement, SplineNet& net) {
    net.rows = curve.NbPoles();
    net.columns = 1;
    net.rational = curve.IsRational();
    for (int i = 1; i <= net.rows; ++i)
        net.poles.push_back(homogeneous(curve.Pole(i), placement, curve.Weight(i)));
    net.u.degree = curve.Degree();
}

SplineNet extruded_net(const GeomAdaptor_Surface& surface, const gp_Trsf& placement) {
    SplineNet net;
    net.is_extruded = true;
    net.extrusion = model::from_kernel(gp_Vec(surface.Direction()).Transformed(placement));
    const auto basis = surface.BasisCurve();
    if (basis->GetType() == GeomAbs_BezierCurve) {
        take_curve(*basis->Bezier(), placement, net);
        set_bezier_knots(net.u);
        return net;
    }
    Handle(Geom_BSplineCurve) spline = basis->BSpline();
    if (spline->IsPeriodic()) {
        net.u_period = spline->Period();
        spline = Handle(Geom_BSplineCurve)::DownCast(spline->Copy());
        spline->SetNotPeriodic();
    }
    take_curve(*spline, placement, net);
    net.u.knots = values_of(spline->KnotSequence());
    return net;
}

}  // namespace

void SplineNet::centre() {
    Eigen::Vector4d sum = Eigen::Vector4d::Zero();
    for (const Eigen::Vector4d& pole : poles) sum += pole;
    const Vector3 middle = sum.head<3>() / sum.w();
    for (Eigen::Vector4d& pole : poles) pole.head<3>() -= pole.w() * middle;
}

std::optional<Parameter> SplineNet::extruded_along() const {
    if (is_extruded) return Parameter::v;
    // The digits of a file.
    constexpr double digits = 1e-12;
    double size = 0.0;
    for (const Eigen::Vector4d& p : poles)
        size = std::max(size, (p.head<3>() / p.w() - poles.front().head<3>() / poles.front().w())
                                  .cwiseAbs()
                                  .maxCoeff());
    for (const Parameter along : {Parameter::u, Parameter::v}) {
        const bool by_v = along == Parameter::v;
        const int across_count = by_v ? rows : columns, along_count = by_v ? columns : rows;
        const auto at = [&](int across, int step) -> const Eigen::Vector4d& {
            return by_v ? pole(across, step) : pole(step, across);
        };
        const auto step_from_start = [&](int across, int step) -> Vector3 {
            return at(across, step).head<3>() / at(across, step).w() -
                   at(across, 0).head<3>() / at(across, 0).w();
        };
        const Vector3 whole = step_from_start(0, along_count - 1);
        bool is_moved = whole.norm() > digits * size;
        double reached = 0.0;
        for (int step = 1; step < along_count && is_moved; ++step) {
            const Vector3 way = step_from_start(0, step);
            const double share = way.dot(whole) / whole.squaredNorm();
            is_moved = share > reached && (way - share * whole).norm() <= digits * size;
            reached = share;
            for (int across = 0; across < across_count && is_moved; ++across)
                is_moved = (step_from_start(across, step) - way).norm() <= digits * size &&
                           std::abs(at(across, step).w() - at(across, 0).w()) <=
                               digits * at(across, 0).w();
        }
        if (is_moved) return along;
    }
    return std::nullopt;
}

bool has_spline_net(const GeomAdaptor_Surface& surface) {
    switch (surface.GetType()) {
        case GeomAbs_BSplineSurface:
        case GeomAbs_BezierSurface:
            return true;
        case GeomAbs_SurfaceOfExtrusion: {
            const GeomAbs_CurveType curve = surface.BasisCurve()->GetType();
            return curve == GeomAbs_BSplineCurve || curve == GeomAbs_BezierCurve;
        }
        default:
            return false;
    }
}

SplineNet spline_net(const GeomAdaptor_Surface& surface, const gp_Trsf& placement) {
    if (surface.GetType() == GeomAbs_SurfaceOfExtrusion) return extruded_net(surface, placement);
    SplineNet net;
    if (surface.GetType() == GeomAbs_BezierSurface) {
        take_surface(*surface.Bezier(), placement, net);
        set_bezier_knots(net.u);
        set_bezier_knots(net.v);
        return net;
    }
    Handle(Geom_BSplineSurface) spline = surface.BSpline();
    if (spline->IsUPeriodic()) net.u_period = spline->UPeriod();
    if (spline->IsVPeriodic()) net.v_period = spline->VPeriod();
    if (net.u_period > 0.0 || net.v_period > 0.0) {
        spline = Handle(Geom_BSplineSurface)::DownCast(spline->Copy());
        if (net.u_period > 0.0) spline->SetUNotPeriodic();
        if (net.v_period > 0.0) spline->SetVNotPeriodic();
    }
    take_surface(*spline, placement, net);
    net.u.knots = values_of(spline->UKnotSequence());
    net.v.knots = values_of(spline->VKnotSequence());
    return net;
}

std::vector<NetSpan> spans_within(SplineDirection direction, double period, double low,
                                  double high) {
    const double first = direction.knot(direction.degree);
    const double last =
        direction.knot(static_cast<int>(direction.knots.size()) - 1 - direction.degree);
    const double beyond = slack * (high - low);
    const int from = period > 0.0 ? static_cast<int>(std::floor((low - first) / period)) : 0;
    const int to = period > 0.0 ? static_cast<int>(std::floor((high - first) / period)) : 0;
    std::vector<NetSpan> result;
    for (int turn = from; turn <= to; ++turn) {
        const double shift = turn * period;
        direction.low = low - shift;
        direction.high = high - shift;
        for (const int k : direction.spans()) {
            const Interval part = direction.clipped(k);
            if (part.last - part.first > beyond) result.push_back({k, part, shift});
        }
    }
    if (period == 0.0 && (low < first - beyond || high > last + beyond)) result.clear();
    return result;
}

}  // namespace planform::flatten
