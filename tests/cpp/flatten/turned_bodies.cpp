#include "flatten/turned_bodies.hpp"

#include <unistd.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepOffsetAPI_MakePipe.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <GCPnts_AbscissaPoint.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <GeomAPI_Interpolate.hxx>
#include <GeomAdaptor_Curve.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_Ellipse.hxx>
#include <Geom_Line.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <STEPControl_Writer.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_HArray1OfPnt.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <gp_Circ.hxx>
#include <gp_Elips.hxx>
#include <random>
#include <sstream>
#include <utility>
#include <vector>

#include "planform/occt.hpp"

namespace turned_bodies {
namespace {

using planform::pi;
using planform::Point3;
using planform::Vector3;

/// The profile is drawn in the plane y = 0: x is the distance from the axis, z runs along it.
struct Profile {
    std::vector<Handle(Geom_Curve)> curves;
    bool meets_axis = false;
    std::string description;
};

class Draw {
  public:
    explicit Draw(std::uint64_t seed) : random_(seed) {}
    double between(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random_);
    }
    int one_of(int count) { return std::uniform_int_distribution<int>(0, count - 1)(random_); }

  private:
    std::mt19937_64 random_;
};

Handle(Geom_Curve) straight(const gp_Pnt& a, const gp_Pnt& b) {
    return new Geom_TrimmedCurve(new Geom_Line(a, gp_Dir(gp_Vec(a, b))), 0.0, a.Distance(b));
}

/// Clamped, of the given degree, inner knots single (or of full multiplicity: corners).
Handle(Geom_Curve)
    spline(const std::vector<gp_Pnt>& points, int degree, bool creased, bool rational, Draw& draw) {
    const int count = static_cast<int>(points.size());
    degree = std::min(degree, count - 1);
    TColgp_Array1OfPnt poles(1, count);
    TColStd_Array1OfReal weights(1, count);
    for (int i = 0; i < count; ++i) {
        poles.SetValue(i + 1, points[static_cast<std::size_t>(i)]);
        weights.SetValue(i + 1, rational ? draw.between(0.6, 1.6) : 1.0);
    }
    // The kernel makes closed ones periodic when it reads them, which is wrong for unequal weights.
    weights.SetValue(count, weights(1));
    int inner = count - degree - 1;
    std::vector<int> multiplicity = {degree + 1};
    while (inner > 0) {
        const int m = std::min(inner, creased ? degree : 1);
        multiplicity.push_back(m);
        inner -= m;
    }
    multiplicity.push_back(degree + 1);
    TColStd_Array1OfReal knots(1, static_cast<int>(multiplicity.size()));
    TColStd_Array1OfInteger multiplicities(1, static_cast<int>(multiplicity.size()));
    for (int i = 1; i <= knots.Length(); ++i) {
        knots.SetValue(i, i - 1.0);
        multiplicities.SetValue(i, multiplicity[static_cast<std::size_t>(i - 1)]);
    }
    if (rational) return new Geom_BSplineCurve(poles, weights, knots, multiplicities, degree);
    return new Geom_BSplineCurve(poles, knots, multiplicities, degree);
}

Handle(Geom_Curve) periodic(const std::vector<gp_Pnt>& points) {
    auto array = new TColgp_HArray1OfPnt(1, static_cast<int>(points.size()));
    for (std::size_t i = 0; i < points.size(); ++i)
        array->SetValue(static_cast<int>(i) + 1, points[i]);
    GeomAPI_Interpolate interpolation(array, Standard_True, 1e-7);
    interpolation.Perform();
    return Handle(Geom_Curve)(interpolation.Curve());
}

Profile pole_to_pole(Draw& draw) {
    Profile profile;
    profile.meets_axis = true;
    const double low = draw.between(-8.0, 0.0), high = low + draw.between(4.0, 16.0);
    const double bulge = draw.between(2.0, 7.0);
    const gp_Pnt south(0, 0, low), north(0, 0, high);
    std::ostringstream text;
    switch (draw.one_of(6)) {
        case 0: {  // an arc, by chance half a circle
            const double middle = 0.5 * (low + high);
            const double out = draw.one_of(2) == 0 ? 0.5 * (high - low) : bulge;
            profile.curves.emplace_back(
                GC_MakeArcOfCircle(south, gp_Pnt(out, 0, middle), north).Value());
            text << "arc";
            break;
        }
        case 1: {  // half an ellipse
            const double along = 0.5 * (high - low), middle = 0.5 * (low + high);
            const bool upright = along > bulge;
            const gp_Elips ellipse(gp_Ax2(gp_Pnt(0, 0, middle), gp_Dir(0, -1, 0),
                                          upright ? gp_Dir(0, 0, 1) : gp_Dir(1, 0, 0)),
                                   std::max(along, bulge) + (along == bulge ? 0.1 : 0.0),
                                   std::min(along, bulge));
            const double from = upright ? -pi : -0.5 * pi;
            profile.curves = {new Geom_TrimmedCurve(new Geom_Ellipse(ellipse), from, from + pi)};
            text << "half ellipse";
            break;
        }
        case 2: {  // lines
            profile.curves = {straight(south, gp_Pnt(bulge, 0, low + 0.3 * (high - low))),
                              straight(gp_Pnt(bulge, 0, low + 0.3 * (high - low)), north)};
            text << "two lines";
            break;
        }
        case 3: {  // a cylinder with a spline for a dome
            std::vector<gp_Pnt> points = {gp_Pnt(bulge, 0, low + 2.0),
                                          gp_Pnt(bulge, 0, low + 0.6 * (high - low)),
                                          gp_Pnt(0.8 * bulge, 0, high), north};
            profile.curves = {straight(south, gp_Pnt(bulge, 0, low)),
                              straight(gp_Pnt(bulge, 0, low), gp_Pnt(bulge, 0, low + 2.0)),
                              spline(points, 3, false, false, draw)};
            text << "disc, wall and dome";
            break;
        }
        default: {
            const int degree = 1 + draw.one_of(9);
            const int count = degree + 1 + draw.one_of(8);
            std::vector<gp_Pnt> points = {south};
            for (int i = 1; i + 1 < std::max(count, 3); ++i)
                points.emplace_back(draw.between(0.5, bulge), 0.0,
                                    low + (high - low) * i / (std::max(count, 3) - 1));
            points.push_back(north);
            // Square to the axis at the poles now and then: smooth there.
            if (draw.one_of(2) == 0) {
                points[1].SetZ(low);
                points[points.size() - 2].SetZ(high);
            }
            const bool creased = draw.one_of(3) == 0, rational = draw.one_of(3) == 0;
            profile.curves = {spline(points, degree, creased, rational, draw)};
            text << "spline of degree " << degree << ", " << points.size() << " poles"
                 << (creased ? ", creased" : "") << (rational ? ", rational" : "");
            break;
        }
    }
    profile.description = text.str();
    return profile;
}

Profile ring(Draw& draw) {
    Profile profile;
    const double out = draw.between(8.0, 20.0), up = draw.between(-5.0, 5.0);
    const double a = draw.between(1.0, 5.0), b = draw.between(0.5, 0.99) * a;
    std::ostringstream text;
    switch (draw.one_of(6)) {
        case 0:
            profile.curves = {
                new Geom_Circle(gp_Ax2(gp_Pnt(out, 0, up), gp_Dir(0, -1, 0), gp_Dir(1, 0, 0)), a)};
            text << "circle";
            break;
        case 1: {
            const double turn = draw.one_of(2) == 0 ? 0.0 : draw.between(0.0, pi);
            profile.curves = {new Geom_Ellipse(gp_Ax2(gp_Pnt(out, 0, up), gp_Dir(0, -1, 0),
                                                      gp_Dir(std::cos(turn), 0, std::sin(turn))),
                                               a, b)};
            text << "ellipse";
            break;
        }
        case 2: {
            std::vector<gp_Pnt> corners;
            const int count = 3 + draw.one_of(4);
            for (int i = 0; i < count; ++i)
                corners.emplace_back(out + a * std::cos(2 * pi * i / count), 0.0,
                                     up + b * std::sin(2 * pi * i / count));
            for (int i = 0; i < count; ++i)
                profile.curves.push_back(
                    straight(corners[static_cast<std::size_t>(i)],
                             corners[static_cast<std::size_t>((i + 1) % count)]));
            text << "polygon of " << count;
            break;
        }
        case 3: {
            std::vector<gp_Pnt> points;
            const int count = 4 + draw.one_of(20);
            for (int i = 0; i < count; ++i) {
                const double w = 2 * pi * i / count, r = draw.between(0.7, 1.0);
                points.emplace_back(out + a * r * std::cos(w), 0.0, up + b * r * std::sin(w));
            }
            profile.curves = {periodic(points)};
            text << "periodic spline through " << count;
            break;
        }
        default: {
            const int degree = 1 + draw.one_of(9), count = degree + 4 + draw.one_of(8);
            std::vector<gp_Pnt> points;
            for (int i = 0; i < count; ++i) {
                const double w = 2 * pi * i / (count - 1), r = draw.between(0.85, 1.0);
                points.emplace_back(out + a * r * std::cos(w), 0.0, up + b * r * std::sin(w));
            }
            points.back() = points.front();
            const bool creased = draw.one_of(3) == 0, rational = draw.one_of(3) == 0;
            profile.curves = {spline(points, degree, creased, rational, draw)};
            text << "closed spline of degree " << degree << ", " << points.size() << " poles"
                 << (creased ? ", creased" : "") << (rational ? ", rational" : "");
            break;
        }
    }
    profile.description = "ring, " + text.str();
    return profile;
}

/// Integral of x dz by Gauss' rule of ten nodes on each of many pieces between the curve's knots.
double swept_by(const Handle(Geom_Curve) & curve) {
    static const double node[5] = {0.1488743389816312, 0.4333953941292472, 0.6794095682990244,
                                   0.8650633666889845, 0.9739065285171717};
    static const double weight[5] = {0.2955242247147529, 0.2692667193099963, 0.2190863625159820,
                                     0.1494513491505806, 0.0666713443086881};
    std::vector<double> stops = {curve->FirstParameter(), curve->LastParameter()};
    if (const auto s = Handle(Geom_BSplineCurve)::DownCast(curve); !s.IsNull())
        for (int i = 1; i <= s->NbKnots(); ++i)
            if (s->Knot(i) > stops.front() && s->Knot(i) < stops[1]) stops.push_back(s->Knot(i));
    std::sort(stops.begin(), stops.end());
    double sum = 0.0;
    constexpr int pieces = 8;
    for (std::size_t i = 0; i + 1 < stops.size(); ++i)
        for (int k = 0; k < pieces; ++k) {
            const double half = 0.5 * (stops[i + 1] - stops[i]) / pieces;
            const double middle = stops[i] + (2 * k + 1) * half;
            for (int g = 0; g < 5; ++g)
                for (const double sign : {1.0, -1.0}) {
                    gp_Pnt p;
                    gp_Vec d;
                    curve->D1(middle + sign * half * node[g], p, d);
                    sum += weight[g] * half * p.X() * d.Z();
                }
        }
    return sum;
}

gp_Trsf placing(Draw& draw, bool plain) {
    gp_Trsf place;
    if (plain) return place;
    gp_Trsf turn;
    turn.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0),
                            gp_Dir(draw.between(-1, 1), draw.between(-1, 1), draw.between(0.1, 1))),
                     draw.between(-3.0, 3.0));
    place.SetTranslation(
        gp_Vec(draw.between(-30, 30), draw.between(-30, 30), draw.between(-30, 30)));
    return place * turn;
}

Point3 point(const gp_Pnt& p) { return {p.X(), p.Y(), p.Z()}; }
Vector3 vector(const gp_Vec& v) { return {v.X(), v.Y(), v.Z()}; }

}  // namespace

Turned turned(std::uint64_t seed) {
    Draw draw(seed * 977 + 5);
    Turned body;
    const Profile profile = draw.one_of(3) == 0 ? ring(draw) : pole_to_pole(draw);
    const bool plain = draw.one_of(3) != 0;
    BRepBuilderAPI_MakeWire wire;
    body.lowest = 1e9;
    body.highest = -1e9;
    for (const Handle(Geom_Curve) & curve : profile.curves) {
        wire.Add(BRepBuilderAPI_MakeEdge(curve).Edge());
        body.profile_area += swept_by(curve);
        for (int i = 0; i <= 1000; ++i) {
            const double a = curve->FirstParameter(), b = curve->LastParameter();
            const double z = curve->Value(a + (b - a) * i / 1000).Z();
            body.lowest = std::min(body.lowest, z);
            body.highest = std::max(body.highest, z);
        }
    }
    body.profile_area = std::abs(body.profile_area);
    const gp_Pnt begin = profile.curves.front()->Value(profile.curves.front()->FirstParameter());
    const gp_Pnt end = profile.curves.back()->Value(profile.curves.back()->LastParameter());
    if (profile.meets_axis) wire.Add(BRepBuilderAPI_MakeEdge(end, begin).Edge());
    gp_Trsf turn;
    turn.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)),
                     draw.one_of(2) == 0 ? 0.0 : draw.between(-3.0, 3.0));
    const gp_Trsf place = placing(draw, plain) * turn;
    const TopoDS_Shape face =
        BRepBuilderAPI_Transform(BRepBuilderAPI_MakeFace(wire.Wire()).Face(), place).Shape();
    const gp_Ax1 axis = gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)).Transformed(place);
    body.shape = BRepPrimAPI_MakeRevol(face, axis).Shape();
    body.foot = point(axis.Location());
    body.axis = vector(gp_Vec(axis.Direction()));
    body.seam = vector(gp_Vec(1, 0, 0).Transformed(place));
    body.corner = point(begin.Transformed(place));
    body.meets_axis = profile.meets_axis;
    body.description = profile.description + (plain ? "" : ", placed");
    return body;
}

Swept swept(std::uint64_t seed) {
    Draw draw(seed * 1931 + 3);
    Swept body;
    std::ostringstream text;
    const bool plain = draw.one_of(2) == 0;
    Handle(Geom_Curve) spine;
    const double size = draw.between(12.0, 25.0);
    switch (draw.one_of(5)) {
        case 0:
            spine = GC_MakeArcOfCircle(gp_Pnt(size, 0, 0), gp_Pnt(0, size, 0), gp_Pnt(-size, 0, 0))
                        .Value();
            text << "along half a circle";
            break;
        case 1:
            spine = new Geom_Circle(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), size);
            text << "along a circle";
            break;
        case 2:
            spine = new Geom_Ellipse(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), size,
                                     draw.between(0.75, 0.95) * size);
            text << "along an ellipse";
            break;
        case 3: {
            std::vector<gp_Pnt> points;
            const int count = 6 + draw.one_of(10);
            for (int i = 0; i < count; ++i) {
                const double w = 2 * pi * i / count, r = size * (1.0 + 0.06 * std::cos(2 * w + 1));
                points.emplace_back(r * std::cos(w), r * std::sin(w), 0.0);
            }
            spine = periodic(points);
            text << "along a closed spline";
            break;
        }
        default: {
            const int degree = 2 + draw.one_of(6);
            std::vector<gp_Pnt> points;
            for (int i = 0; i < degree + 3; ++i)
                points.emplace_back(10.0 * i, draw.between(-3.0, 3.0), 0.0);
            spine = spline(points, degree, false, false, draw);
            text << "along a spline of degree " << degree;
            break;
        }
    }
    const GeomAdaptor_Curve adaptor(spine);
    const double length = GCPnts_AbscissaPoint::Length(adaptor, 1e-12);
    gp_Pnt start;
    gp_Vec along;
    spine->D1(spine->FirstParameter(), start, along);
    body.is_closed = spine->Value(spine->LastParameter()).Distance(start) < 1e-6;
    const gp_Dir up(0, 0, 1), forward(along);
    const gp_Dir beside = up.Crossed(forward);
    // The rim's vertex: in the spine's plane, square to it, or anywhere.
    const double where =
        draw.one_of(3) == 0 ? draw.between(0.0, 2 * pi) : 0.5 * pi * draw.one_of(4);
    const gp_Dir to_vertex(gp_Vec(beside) * std::cos(where) + gp_Vec(up) * std::sin(where));
    const double a = draw.between(1.0, 3.0);
    const bool oval = draw.one_of(3) == 0 && std::abs(std::remainder(where, 0.5 * pi)) < 1e-9;
    const double b = oval ? 0.7 * a : a;
    const bool bored = draw.one_of(2) == 0;
    const auto tube = [&](double share) {
        Handle(Geom_Curve) rim;
        if (oval)
            rim = new Geom_Ellipse(gp_Ax2(start, forward, to_vertex), share * a, share * b);
        else
            rim = new Geom_Circle(gp_Ax2(start, forward, to_vertex), share * a);
        const TopoDS_Wire path = BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(spine).Edge());
        const TopoDS_Wire round = BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(rim).Edge());
        return BRepOffsetAPI_MakePipe(path, BRepBuilderAPI_MakeFace(round).Face()).Shape();
    };
    TopoDS_Shape shape = tube(1.0);
    constexpr double bore = 0.6;
    if (bored) shape = BRepAlgoAPI_Cut(shape, tube(bore)).Shape();
    const bool long_in_plane = std::abs(std::cos(where)) > 0.5;
    const double width = 2.0 * (oval ? (long_in_plane ? a : b) : a);
    body.area = length * width * (bored ? 1.0 - bore : 1.0);
    const gp_Trsf place = placing(draw, plain);
    body.shape = BRepBuilderAPI_Transform(shape, place, Standard_True).Shape();
    body.origin = point(gp_Pnt(0, 0, 0).Transformed(place));
    body.normal = vector(gp_Vec(up).Transformed(place));
    body.start = point(start.Translated(a * gp_Vec(to_vertex)).Transformed(place));
    body.start_normal = vector(gp_Vec(forward).Transformed(place));
    body.description = std::string(oval ? "oval" : "round") + (bored ? " tube " : " bar ") +
                       text.str() + (plain ? "" : ", placed");
    return body;
}

TopoDS_Shape through_step(const TopoDS_Shape& shape) {
    const std::filesystem::path path = std::filesystem::temp_directory_path() /
                                       ("planform_turned_" + std::to_string(getpid()) + ".step");
    STEPControl_Writer writer;
    writer.Transfer(shape, STEPControl_AsIs);
    writer.Write(path.c_str());
    const planform::Model model = planform::load(path);
    std::filesystem::remove(path);
    return planform::shape_of(model.solids().at(0));
}

TopoDS_Shape through_brep(const TopoDS_Shape& shape) {
    std::stringstream stream;
    BRepTools::Write(shape, stream);
    TopoDS_Shape back;
    BRepTools::Read(back, stream, BRep_Builder());
    return back;
}

TopoDS_Shape as_splines(const TopoDS_Shape& shape) {
    return BRepBuilderAPI_NurbsConvert(shape, Standard_True).Shape();
}

}  // namespace turned_bodies
