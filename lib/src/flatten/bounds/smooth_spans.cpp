#include "flatten/bounds/smooth_spans.hpp"

#include <Geom2dAdaptor_Curve.hxx>
#include <GeomAbs_Shape.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>

namespace planform::flatten {
namespace {

/// Of the whole: ends nearer than this are one.
constexpr double same_knot = 1e-9;

std::vector<double> without_doubles(const std::vector<double>& sorted) {
    const double least = same_knot * (sorted.back() - sorted.front());
    std::vector<double> result = {sorted.front()};
    for (const double at : sorted)
        if (at - result.back() > least) result.push_back(at);
    if (result.size() > 1) result.back() = sorted.back();
    return result;
}

}  // namespace

std::vector<double> smooth_spans(const solid::FaceSurface& surface, Parameter along) {
    const Eigen::Index axis = along == Parameter::u ? 0 : 1;
    const double low = surface.low()[axis], high = surface.high()[axis];
    if (surface.is_closed_form() || !(high > low)) return {low, std::max(low, high)};
    const GeomAdaptor_Surface& s = surface.adaptor();
    const bool is_u = along == Parameter::u;
    const int count = is_u ? s.NbUIntervals(GeomAbs_CN) : s.NbVIntervals(GeomAbs_CN);
    TColStd_Array1OfReal ends(1, count + 1);
    if (is_u)
        s.UIntervals(ends, GeomAbs_CN);
    else
        s.VIntervals(ends, GeomAbs_CN);
    const bool is_periodic = is_u ? s.IsUPeriodic() : s.IsVPeriodic();
    const double period = !is_periodic ? 0.0 : (is_u ? s.UPeriod() : s.VPeriod());
    const int from = is_periodic ? static_cast<int>(std::floor((low - ends.First()) / period)) : 0;
    const int to = is_periodic ? static_cast<int>(std::floor((high - ends.First()) / period)) : 0;
    std::vector<double> result = {low};
    for (int turn = from; turn <= to; ++turn)
        for (const double end : ends) {
            const double at = end + turn * period;
            if (at > low && at < high) result.push_back(at);
        }
    result.push_back(high);
    return without_doubles(result);
}

std::vector<double> smooth_spans(const Handle(Geom2d_Curve) & curve, double first, double last) {
    if (!(last > first)) return {first, last};
    const Geom2dAdaptor_Curve adaptor(curve, first, last);
    const int count = adaptor.NbIntervals(GeomAbs_CN);
    TColStd_Array1OfReal ends(1, count + 1);
    adaptor.Intervals(ends, GeomAbs_CN);
    std::vector<double> result = {first};
    for (const double at : ends)
        if (at > first && at < last) result.push_back(at);
    result.push_back(last);
    return without_doubles(result);
}

std::vector<double> places_inside(const std::vector<double>& ends, int a_span) {
    std::vector<double> places;
    for (std::size_t i = 0; i + 1 < ends.size(); ++i)
        for (int k = 0; k < a_span; ++k)
            places.push_back(ends[i] + (ends[i + 1] - ends[i]) * (k + 0.5) / a_span);
    return places;
}

std::vector<double> merged(std::vector<double> ends, const std::vector<double>& others) {
    ends.insert(ends.end(), others.begin(), others.end());
    std::sort(ends.begin(), ends.end());
    return without_doubles(ends);
}

}  // namespace planform::flatten
