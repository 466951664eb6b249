#include "flatten/base_outlines.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepTools_WireExplorer.hxx>
#include <GeomAPI_Interpolate.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BezierCurve.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_HArray1OfPnt.hxx>
#include <TopoDS_Edge.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <random>
#include <sstream>

namespace base_outlines {
namespace {

using planform::cross;
using planform::pi;
using planform::Point2;
using planform::Vector2;

gp_Pnt flat(double radius, double angle) {
    return {radius * std::cos(angle), radius * std::sin(angle), 0.0};
}

Vector2 outward_at(const TopoDS_Edge& edge, double share) {
    const BRepAdaptor_Curve curve(edge);
    gp_Pnt p;
    gp_Vec d;
    curve.D1(curve.FirstParameter() + share * (curve.LastParameter() - curve.FirstParameter()), p,
             d);
    return Vector2(d.Y(), -d.X()).normalized();
}

/// True if the polar angle grows all the way round once.
bool is_star_shaped(const std::vector<Point2>& polygon) {
    double turned = 0.0;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Point2 &a = polygon[i], &b = polygon[(i + 1) % polygon.size()];
        const double step = std::atan2(cross(a, b), a.dot(b));
        if (!(step > 0.0)) return false;
        turned += step;
    }
    return std::abs(turned - 2.0 * pi) < 1e-6;
}

struct Side {
    Point2 low, high;

    double at(double y) const {
        return low.x() + (y - low.y()) / (high.y() - low.y()) * (high.x() - low.x());
    }
};

}  // namespace

Base waved(int points, double radius, double wave, int lobes) {
    const Handle(TColgp_HArray1OfPnt) through = new TColgp_HArray1OfPnt(1, points + 1);
    for (int i = 0; i <= points; ++i) {
        const double angle = 2.0 * pi * (i % points) / points;
        through->SetValue(i + 1, flat(radius + wave * std::cos(lobes * angle), angle));
    }
    GeomAPI_Interpolate interpolation(through, Standard_False, 1e-9);
    interpolation.Perform();
    Base base;
    const TopoDS_Edge edge = BRepBuilderAPI_MakeEdge(interpolation.Curve());
    base.wire = BRepBuilderAPI_MakeWire(edge);
    for (const double share : {0.0, 0.21, 0.5})
        base.wall_normals.push_back(outward_at(edge, share));
    std::ostringstream words;
    words << points << " points on r = " << radius << " + " << wave << " cos " << lobes << " t";
    base.description = words.str();
    return base;
}

Base walled(std::uint64_t seed, double sag) {
    std::mt19937_64 random(seed);
    const auto whole = [&](int low, int high) {
        return std::uniform_int_distribution<int>(low, high)(random);
    };
    const auto number = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    Base base;
    std::ostringstream words;
    const int count = whole(3, 7);
    std::vector<gp_Pnt> corners;
    for (int i = 0; i < count; ++i)
        corners.push_back(flat(number(12.0, 20.0), 2.0 * pi * (i + number(0.0, 0.5)) / count));
    words << count << " walls:";
    BRepBuilderAPI_MakeWire wire;
    for (int i = 0; i < count; ++i) {
        const gp_Pnt a = corners[static_cast<std::size_t>(i)];
        const gp_Pnt b = corners[static_cast<std::size_t>((i + 1) % count)];
        const gp_Vec way(a, b), out = gp_Vec(way.Y(), -way.X(), 0.0).Normalized();
        const int degree = whole(1, 9), spans = whole(1, 6);
        const bool is_bezier = whole(0, 1) == 0;
        const int poles = is_bezier ? degree + 1 : degree + spans;
        TColgp_Array1OfPnt net(1, poles);
        for (int k = 0; k < poles; ++k) {
            const double share = static_cast<double>(k) / (poles - 1);
            const double rise = degree == 1 ? 0.0 : 4.0 * sag * share * (1.0 - share);
            net(k + 1) = a.Translated(share * way + rise * out);
        }
        if (is_bezier) {
            words << " Bezier " << degree;
            wire.Add(BRepBuilderAPI_MakeEdge(new Geom_BezierCurve(net)).Edge());
        } else {
            TColStd_Array1OfReal knots(1, spans + 1);
            TColStd_Array1OfInteger multiplicities(1, spans + 1);
            for (int k = 1; k <= spans + 1; ++k) {
                knots(k) = k;
                multiplicities(k) = k == 1 || k == spans + 1 ? degree + 1 : 1;
            }
            words << " spline " << degree << "/" << spans;
            wire.Add(
                BRepBuilderAPI_MakeEdge(new Geom_BSplineCurve(net, knots, multiplicities, degree))
                    .Edge());
        }
        base.wall_normals.emplace_back(out.X(), out.Y());
    }
    words << ", sag " << sag;
    base.wire = wire.Wire();
    base.description = words.str();
    return base;
}

Base random_spline(std::uint64_t seed, int most_poles) {
    std::mt19937_64 random(seed);
    const auto whole = [&](int low, int high) {
        return std::uniform_int_distribution<int>(low, high)(random);
    };
    const auto number = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    for (;;) {
        const int degree = whole(1, 9);
        const int poles =
            std::max(degree + 1,
                     static_cast<int>(std::exp(number(std::log(6.0), std::log(most_poles + 1.0)))));
        const bool is_rational = whole(0, 2) == 0, is_uniform = whole(0, 1) == 0;
        // Knots with multiplicities that leave room for them.
        std::vector<int> multiplicities = {degree + 1};
        int room = poles - degree - 1;
        while (room > 0) {
            const int next = whole(0, 5) == 0 ? whole(1, std::min(degree, room)) : 1;
            multiplicities.push_back(next);
            room -= next;
        }
        multiplicities.push_back(degree + 1);
        const int count = static_cast<int>(multiplicities.size());
        TColStd_Array1OfReal knots(1, count), weights(1, poles);
        TColStd_Array1OfInteger repeats(1, count);
        double at = 0.0;
        for (int k = 1; k <= count; ++k) {
            knots(k) = at;
            repeats(k) = multiplicities[static_cast<std::size_t>(k - 1)];
            at += is_uniform ? 1.0 : number(0.3, 2.0);
        }
        // Several corners at least, or poles of degree 1 would make a triangle of a line.
        const int turns = std::max(poles - 1, 3);
        const double depth = number(0.05, 0.35), phase = number(0.0, 2.0 * pi);
        const int lobes = whole(2, std::max(2, turns / 3));
        const bool is_wild = whole(0, 1) == 0;
        TColgp_Array1OfPnt net(1, poles);
        for (int k = 0; k < poles; ++k) {
            const double angle = 2.0 * pi * k / (poles - 1);
            const double wave =
                is_wild ? number(-depth, depth) : depth * std::cos(lobes * angle + phase);
            net(k + 1) = flat(15.0 * (1.0 + wave), angle);
            weights(k + 1) = is_rational ? number(0.5, 2.0) : 1.0;
        }
        net(poles) = net(1);
        const Handle(Geom_BSplineCurve) curve =
            is_rational ? new Geom_BSplineCurve(net, weights, knots, repeats, degree)
                        : new Geom_BSplineCurve(net, knots, repeats, degree);
        Base base;
        const TopoDS_Edge edge = BRepBuilderAPI_MakeEdge(curve);
        base.wire = BRepBuilderAPI_MakeWire(edge);
        if (!is_star_shaped(sampled(base.wire, 16))) continue;
        for (int i = 0; i < 3; ++i) base.wall_normals.push_back(outward_at(edge, number(0.0, 1.0)));
        std::ostringstream words;
        words << "spline of degree " << degree << ", " << poles << " poles, " << count << " knots"
              << (is_rational ? ", rational" : "") << (is_wild ? ", wild" : "");
        base.description = words.str();
        return base;
    }
}

std::vector<Point2> sampled(const TopoDS_Wire& wire, int steps) {
    std::vector<Point2> points;
    for (BRepTools_WireExplorer edges(wire); edges.More(); edges.Next()) {
        const BRepAdaptor_Curve curve(edges.Current());
        const int pieces = curve.NbIntervals(GeomAbs_CN);
        TColStd_Array1OfReal ends(1, pieces + 1);
        curve.Intervals(ends, GeomAbs_CN);
        for (int i = 1; i <= pieces; ++i)
            for (int k = 0; k < steps; ++k) {
                const gp_Pnt p = curve.Value(ends(i) + (ends(i + 1) - ends(i)) * k / steps);
                points.emplace_back(p.X(), p.Y());
            }
    }
    return points;
}

TopoDS_Shape prism(const Base& base, double height, Walls walls) {
    const TopoDS_Shape face = BRepBuilderAPI_MakeFace(base.wire, Standard_True).Shape();
    const TopoDS_Shape shape = BRepPrimAPI_MakePrism(face, gp_Vec(0, 0, height)).Shape();
    if (walls == Walls::extrusions) return shape;
    return BRepBuilderAPI_NurbsConvert(shape, Standard_True).Shape();
}

double swept_area(const std::vector<Point2>& polygon, const Vector2& way) {
    // Turned so that the way runs along x.
    const double length = way.norm();
    const Vector2 along = length > 0.0 ? Vector2(way / length) : Vector2(1.0, 0.0);
    std::vector<Point2> turned;
    for (const Point2& p : polygon) turned.emplace_back(p.dot(along), cross(along, p));
    std::vector<Side> sides;
    std::vector<double> heights;
    for (std::size_t i = 0; i < turned.size(); ++i) {
        Side side{turned[i], turned[(i + 1) % turned.size()]};
        heights.push_back(side.low.y());
        if (side.low.y() == side.high.y()) continue;
        if (side.low.y() > side.high.y()) std::swap(side.low, side.high);
        sides.push_back(side);
    }
    std::sort(heights.begin(), heights.end());
    std::sort(sides.begin(), sides.end(),
              [](const Side& a, const Side& b) { return a.low.y() < b.low.y(); });
    std::vector<Side> crossed;
    std::size_t next = 0;
    double area = 0.0;
    for (std::size_t i = 0; i + 1 < heights.size(); ++i) {
        const double from = heights[i], to = heights[i + 1], y = 0.5 * (from + to);
        if (!(to > from)) continue;
        while (next < sides.size() && sides[next].low.y() <= from) crossed.push_back(sides[next++]);
        std::erase_if(crossed, [from](const Side& side) { return side.high.y() <= from; });
        std::vector<double> at;
        for (const Side& side : crossed) at.push_back(side.at(y));
        std::sort(at.begin(), at.end());
        double reached = -1e300, covered = 0.0;
        for (std::size_t k = 0; k + 1 < at.size(); k += 2) {
            const double left = std::max(at[k], reached), right = at[k + 1] + length;
            if (right > left) covered += right - left;
            reached = std::max(reached, right);
        }
        area += covered * (to - from);
    }
    return area;
}

double prism_shadow(const Base& base, double height, const planform::Vector3& d) {
    const Vector2 aside(d.x(), d.y());
    const auto of = [&](int steps) {
        const std::vector<Point2> polygon = sampled(base.wire, steps);
        if (std::abs(d.z()) > 1e-12)
            return std::abs(d.z()) * swept_area(polygon, height / d.z() * aside);
        double low = 1e300, high = -1e300;
        for (const Point2& p : polygon) {
            low = std::min(low, cross(aside, p));
            high = std::max(high, cross(aside, p));
        }
        return height * (high - low) / aside.norm();
    };
    int pieces = 0;
    for (BRepTools_WireExplorer edges(base.wire); edges.More(); edges.Next())
        pieces += BRepAdaptor_Curve(edges.Current()).NbIntervals(GeomAbs_CN);
    const int steps = std::max(16, 40000 / pieces);
    return (4.0 * of(2 * steps) - of(steps)) / 3.0;
}

}  // namespace base_outlines
