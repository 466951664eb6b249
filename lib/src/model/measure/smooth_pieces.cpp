#include "model/measure/smooth_pieces.hpp"

#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Circle.hxx>
#include <Geom2d_Ellipse.hxx>
#include <Geom2d_OffsetCurve.hxx>
#include <Geom2d_TrimmedCurve.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_BezierSurface.hxx>
#include <Geom_Circle.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Ellipse.hxx>
#include <Geom_Line.hxx>
#include <Geom_OffsetCurve.hxx>
#include <Geom_OffsetSurface.hxx>
#include <Geom_Parabola.hxx>
#include <Geom_Plane.hxx>
#include <Geom_RectangularTrimmedSurface.hxx>
#include <Geom_SphericalSurface.hxx>
#include <Geom_SurfaceOfLinearExtrusion.hxx>
#include <Geom_SurfaceOfRevolution.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "planform/geometry.hpp"

namespace planform::model {

namespace {

/// Products of three sines on a quarter turn by 10 nodes: 1e-18 (error term of Gauss' rule,
/// Abramowitz and Stegun 25.4.30).
constexpr int nodes_of_angle = 10;
constexpr double quarter_turn = pi / 2.0;
/// What has a rule of more nodes is bisected instead.
constexpr int most_nodes = 32;
/// Breaks nearer than this part of a stretch to its ends are its ends.
constexpr double nearest_to_end = 1e-12;

SmoothPieces angle() {
    SmoothPieces pieces;
    pieces.longest = quarter_turn;
    pieces.is_angle = true;
    return pieces;
}

SmoothPieces polynomial(int degree) {
    SmoothPieces pieces;
    pieces.degree = degree;
    return pieces;
}

/// Of what is made from a curve or surface and smooth where that is.
SmoothPieces no_longer_exact(SmoothPieces pieces) {
    pieces.degree = 0;
    pieces.is_angle = false;
    return pieces;
}

template <class Spline>
SmoothPieces pieces_of_spline(const Spline& spline) {
    SmoothPieces pieces;
    if (!spline.IsRational()) pieces.degree = spline.Degree();
    for (int i = spline.FirstUKnotIndex(); i <= spline.LastUKnotIndex(); ++i)
        pieces.breaks.push_back(spline.Knot(i));
    if (spline.IsPeriodic()) pieces.period = spline.LastParameter() - spline.FirstParameter();
    return pieces;
}

template <class Kind, class Handle>
bool is(const Handle& geometry) {
    return geometry->IsKind(STANDARD_TYPE(Kind));
}

bool is_polynomial(const Geom_BSplineSurface& surface) {
    return !surface.IsURational() && !surface.IsVRational();
}

}  // namespace

bool SmoothPieces::is_exact() const {
    return is_angle || (degree > 0 && (3 * degree + 1) / 2 <= most_nodes);
}

int SmoothPieces::nodes(int factors) const {
    if (degree <= 0) return nodes_of_angle;
    return std::min(most_nodes, (factors * degree + 1) / 2);
}

std::vector<double> SmoothPieces::cover(double from, double to) const {
    const double low = std::min(from, to), high = std::max(from, to);
    const double slack = nearest_to_end * std::max(high - low, std::abs(high));
    std::vector<double> stops{low};
    if (!breaks.empty()) {
        const double turns_before =
            period > 0.0 ? std::floor((low - breaks.front()) / period) : 0.0;
        const double turns_after = period > 0.0 ? std::ceil((high - breaks.front()) / period) : 0.0;
        for (double turn = turns_before; turn <= turns_after; turn += 1.0) {
            for (const double knot : breaks) {
                const double stop = knot + turn * period;
                if (stop > stops.back() + slack && stop < high - slack) stops.push_back(stop);
            }
        }
    }
    stops.push_back(high);
    std::vector<double> all;
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
        const double width = stops[i + 1] - stops[i];
        const int parts = std::isfinite(longest)
                              ? std::max(1, static_cast<int>(std::ceil(width / longest - 1e-9)))
                              : 1;
        for (int part = 0; part < parts; ++part) all.push_back(stops[i] + width * part / parts);
    }
    all.push_back(high);
    if (from > to) std::reverse(all.begin(), all.end());
    return all;
}

SmoothPieces SmoothPieces::thinned(std::size_t most_breaks) const {
    if (breaks.size() <= most_breaks) return *this;
    SmoothPieces result = *this;
    result = no_longer_exact(result);
    const std::size_t step = (breaks.size() + most_breaks - 1) / most_breaks;
    result.breaks.clear();
    for (std::size_t i = 0; i < breaks.size(); i += step) result.breaks.push_back(breaks[i]);
    return result;
}

SmoothPieces pieces_of(const Handle(Geom_Curve) & curve) {
    if (const auto trimmed = Handle(Geom_TrimmedCurve)::DownCast(curve); !trimmed.IsNull())
        return pieces_of(trimmed->BasisCurve());
    if (const auto offset = Handle(Geom_OffsetCurve)::DownCast(curve); !offset.IsNull())
        return no_longer_exact(pieces_of(offset->BasisCurve()));
    if (const auto spline = Handle(Geom_BSplineCurve)::DownCast(curve); !spline.IsNull())
        return pieces_of_spline(*spline);
    if (const auto bezier = Handle(Geom_BezierCurve)::DownCast(curve); !bezier.IsNull())
        return bezier->IsRational() ? SmoothPieces() : polynomial(bezier->Degree());
    if (is<Geom_Line>(curve)) return polynomial(1);
    if (is<Geom_Parabola>(curve)) return polynomial(2);
    if (is<Geom_Circle>(curve) || is<Geom_Ellipse>(curve)) return angle();
    return {};
}

SmoothPieces pieces_of(const Handle(Geom2d_Curve) & curve) {
    if (const auto trimmed = Handle(Geom2d_TrimmedCurve)::DownCast(curve); !trimmed.IsNull())
        return pieces_of(trimmed->BasisCurve());
    if (const auto offset = Handle(Geom2d_OffsetCurve)::DownCast(curve); !offset.IsNull())
        return no_longer_exact(pieces_of(offset->BasisCurve()));
    if (const auto spline = Handle(Geom2d_BSplineCurve)::DownCast(curve); !spline.IsNull())
        return pieces_of_spline(*spline);
    if (is<Geom2d_Circle>(curve) || is<Geom2d_Ellipse>(curve)) return angle();
    return {};
}

SmoothPieces pieces_along_u(const Handle(Geom_Surface) & surface) {
    if (const auto trimmed = Handle(Geom_RectangularTrimmedSurface)::DownCast(surface);
        !trimmed.IsNull())
        return pieces_along_u(trimmed->BasisSurface());
    if (const auto offset = Handle(Geom_OffsetSurface)::DownCast(surface); !offset.IsNull())
        return no_longer_exact(pieces_along_u(offset->BasisSurface()));
    if (const auto swept = Handle(Geom_SurfaceOfLinearExtrusion)::DownCast(surface);
        !swept.IsNull())
        return pieces_of(swept->BasisCurve());
    if (const auto spline = Handle(Geom_BSplineSurface)::DownCast(surface); !spline.IsNull()) {
        SmoothPieces pieces;
        if (is_polynomial(*spline)) pieces.degree = spline->UDegree();
        for (int i = spline->FirstUKnotIndex(); i <= spline->LastUKnotIndex(); ++i)
            pieces.breaks.push_back(spline->UKnot(i));
        if (spline->IsUPeriodic()) pieces.period = spline->UPeriod();
        return pieces;
    }
    if (const auto bezier = Handle(Geom_BezierSurface)::DownCast(surface); !bezier.IsNull())
        return bezier->IsURational() || bezier->IsVRational() ? SmoothPieces()
                                                              : polynomial(bezier->UDegree());
    if (is<Geom_Plane>(surface)) return polynomial(1);
    if (is<Geom_CylindricalSurface>(surface) || is<Geom_ConicalSurface>(surface) ||
        is<Geom_SphericalSurface>(surface) || is<Geom_ToroidalSurface>(surface) ||
        is<Geom_SurfaceOfRevolution>(surface))
        return angle();
    return {};
}

SmoothPieces pieces_along_v(const Handle(Geom_Surface) & surface) {
    if (const auto trimmed = Handle(Geom_RectangularTrimmedSurface)::DownCast(surface);
        !trimmed.IsNull())
        return pieces_along_v(trimmed->BasisSurface());
    if (const auto offset = Handle(Geom_OffsetSurface)::DownCast(surface); !offset.IsNull())
        return no_longer_exact(pieces_along_v(offset->BasisSurface()));
    if (const auto turned = Handle(Geom_SurfaceOfRevolution)::DownCast(surface); !turned.IsNull())
        return pieces_of(turned->BasisCurve());
    if (const auto spline = Handle(Geom_BSplineSurface)::DownCast(surface); !spline.IsNull()) {
        SmoothPieces pieces;
        if (is_polynomial(*spline)) pieces.degree = spline->VDegree();
        for (int i = spline->FirstVKnotIndex(); i <= spline->LastVKnotIndex(); ++i)
            pieces.breaks.push_back(spline->VKnot(i));
        if (spline->IsVPeriodic()) pieces.period = spline->VPeriod();
        return pieces;
    }
    if (const auto bezier = Handle(Geom_BezierSurface)::DownCast(surface); !bezier.IsNull())
        return bezier->IsURational() || bezier->IsVRational() ? SmoothPieces()
                                                              : polynomial(bezier->VDegree());
    if (is<Geom_Plane>(surface) || is<Geom_CylindricalSurface>(surface) ||
        is<Geom_ConicalSurface>(surface) || is<Geom_SurfaceOfLinearExtrusion>(surface))
        return polynomial(1);
    if (is<Geom_SphericalSurface>(surface) || is<Geom_ToroidalSurface>(surface)) return angle();
    return {};
}

}  // namespace planform::model
