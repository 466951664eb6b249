/// The distance between the outline of spline solids and the true one, both ways, by the kernel's
/// rays and by dense samples of the surfaces: neither knows anything of folds.

#include <doctest/doctest.h>

#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_GTransform.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepOffsetAPI_MakePipe.hxx>
#include <BRepOffsetAPI_ThruSections.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRepTools.hxx>
#include <GeomAPI_Interpolate.hxx>
#include <IntCurvesFace_ShapeIntersector.hxx>
#include <TColgp_HArray1OfPnt.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax1.hxx>
#include <gp_Elips.hxx>
#include <gp_GTrsf.hxx>
#include <gp_Lin.hxx>
#include <random>
#include <string>
#include <vector>

#include "flatten/bodies.hpp"

using namespace planform;

namespace {

Handle(Geom_BSplineCurve) spline_through(const std::vector<gp_Pnt>& places) {
    const Handle(TColgp_HArray1OfPnt) points =
        new TColgp_HArray1OfPnt(1, static_cast<int>(places.size()));
    for (std::size_t i = 0; i < places.size(); ++i)
        points->SetValue(static_cast<int>(i) + 1, places[i]);
    GeomAPI_Interpolate fit(points, Standard_False, 1e-9);
    fit.Perform();
    REQUIRE(fit.IsDone());
    return fit.Curve();
}

TopoDS_Wire wire_of(const TopoDS_Edge& edge) { return BRepBuilderAPI_MakeWire(edge).Wire(); }

TopoDS_Edge ellipse(const gp_Pnt& at, const gp_Dir& normal, double major, double minor) {
    return BRepBuilderAPI_MakeEdge(gp_Elips(gp_Ax2(at, normal), major, minor)).Edge();
}

/// A sphere stretched along the axes.
TopoDS_Shape stretched() {
    gp_GTrsf stretch;
    stretch.SetValue(1, 1, 12.0);
    stretch.SetValue(2, 2, 7.0);
    stretch.SetValue(3, 3, 4.0);
    return BRepBuilderAPI_GTransform(BRepPrimAPI_MakeSphere(1.0).Shape(), stretch).Shape();
}

/// A smooth skin through ellipses.
TopoDS_Shape lofted() {
    BRepOffsetAPI_ThruSections skin(Standard_True, Standard_False);
    const auto add = [&](double x, double z, double major, double minor) {
        skin.AddWire(
            wire_of(ellipse(gp_Pnt(x, 0.2 * x, z), gp_Dir(0.02 * x, 0.0, 1.0), major, minor)));
    };
    add(0.0, 0.0, 8.0, 6.0);
    add(2.0, 6.0, 5.0, 4.0);
    add(-1.0, 12.0, 7.0, 3.0);
    add(1.0, 20.0, 9.0, 8.0);
    return skin.Shape();
}

/// An ellipse swept along a bent curve: the hook of a hanger.
TopoDS_Shape swept() {
    const Handle(Geom_BSplineCurve) spine =
        spline_through({gp_Pnt(0, 0, 0), gp_Pnt(2, 4, 12), gp_Pnt(10, 6, 20), gp_Pnt(20, 0, 22)});
    gp_Pnt at;
    gp_Vec along;
    spine->D1(spine->FirstParameter(), at, along);
    const TopoDS_Face section =
        BRepBuilderAPI_MakeFace(wire_of(ellipse(at, gp_Dir(along), 3.0, 2.0))).Face();
    return BRepOffsetAPI_MakePipe(wire_of(BRepBuilderAPI_MakeEdge(spine).Edge()), section).Shape();
}

/// A block whose edges are blended with radii that change along them.
TopoDS_Shape blended() {
    const TopoDS_Shape block = BRepPrimAPI_MakeBox(20.0, 14.0, 9.0).Shape();
    BRepFilletAPI_MakeFillet fillet(block);
    int number = 0;
    for (TopExp_Explorer it(block, TopAbs_EDGE); it.More(); it.Next(), ++number)
        if (number == 0 || number == 9) fillet.Add(1.0, 3.0, TopoDS::Edge(it.Current()));
    fillet.Build();
    REQUIRE(fillet.IsDone());
    return fillet.Shape();
}

/// A post's finial: a spline turned about an axis.
TopoDS_Shape turned() {
    const Handle(Geom_BSplineCurve) curve =
        spline_through({gp_Pnt(6, 0, 0), gp_Pnt(3, 0, 6), gp_Pnt(5, 0, 12), gp_Pnt(2, 0, 18)});
    BRepBuilderAPI_MakeWire rim(BRepBuilderAPI_MakeEdge(curve).Edge());
    const gp_Pnt top(0, 0, 18), bottom(0, 0, 0);
    rim.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(2, 0, 18), top).Edge());
    rim.Add(BRepBuilderAPI_MakeEdge(top, bottom).Edge());
    rim.Add(BRepBuilderAPI_MakeEdge(bottom, gp_Pnt(6, 0, 0)).Edge());
    return BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(rim.Wire()).Face(),
                                 gp_Ax1(bottom, gp_Dir(0, 0, 1)))
        .Shape();
}

/// Does the line of sight through a place of the datum meet the solid? By the kernel's own rays.
class Sight {
  public:
    Sight(const TopoDS_Shape& shape, const Datum& datum) : datum_(datum) {
        rays_.Load(shape, 1e-9);
    }
    bool meets(const Point2& place) {
        const Point3 from = datum_.to_model(place, -500.0);
        const Vector3& n = datum_.normal();
        rays_.Perform(gp_Lin(gp_Pnt(from.x(), from.y(), from.z()), gp_Dir(n.x(), n.y(), n.z())),
                      0.0, 1000.0);
        return rays_.NbPnt() > 0;
    }

  private:
    Datum datum_;
    IntCurvesFace_ShapeIntersector rays_;
};

/// The contours as polygons, with what a place is to them.
class Polygons {
  public:
    Polygons(const ProfileSet& set, double tolerance) {
        for (const Profile& profile : set.profiles()) {
            add(profile.outer().points(tolerance));
            for (const Contour& hole : profile.holes()) add(hole.points(tolerance));
        }
    }
    bool hold(const Point2& p) const {
        bool inside = false;
        for (const auto& [a, b] : legs_)
            if ((a.y() > p.y()) != (b.y() > p.y()) &&
                p.x() < a.x() + (p.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x()))
                inside = !inside;
        return inside;
    }
    double distance(const Point2& p) const {
        double best = 1e300;
        for (const auto& [a, b] : legs_) {
            const Vector2 way = b - a;
            const double t = std::clamp((p - a).dot(way) / way.squaredNorm(), 0.0, 1.0);
            best = std::min(best, (a + t * way - p).squaredNorm());
        }
        return std::sqrt(best);
    }
    const std::vector<std::pair<Point2, Point2>>& legs() const { return legs_; }

  private:
    void add(const std::vector<Point2>& points) {
        for (std::size_t i = 0; i < points.size(); ++i) {
            const Point2& next = points[(i + 1) % points.size()];
            if (next != points[i]) legs_.emplace_back(points[i], next);
        }
    }
    std::vector<std::pair<Point2, Point2>> legs_;
};

/// Places of the outline, drawn evenly along it, beside which the line of sight does not meet the
/// solid outside, or misses it inside, within `distance`.
int places_off(const Polygons& polygons, Sight& sight, double distance, int count,
               std::mt19937_64& random) {
    std::vector<double> lengths;
    for (const auto& [a, b] : polygons.legs()) lengths.push_back((b - a).norm());
    std::discrete_distribution<std::size_t> pick(lengths.begin(), lengths.end());
    std::uniform_real_distribution<double> share(0.2, 0.8);
    int off = 0;
    for (int i = 0; i < count; ++i) {
        const auto& [a, b] = polygons.legs()[pick(random)];
        const Vector2 way = (b - a).normalized();
        const Vector2 outward(way.y(), -way.x());  // material lies on the left
        const Point2 place = a + share(random) * (b - a);
        // Near a corner the other side of it lies within the distance as well.
        if (polygons.hold(place + distance * outward) || !polygons.hold(place - distance * outward))
            continue;
        if (sight.meets(place + distance * outward) || !sight.meets(place - distance * outward))
            ++off;
    }
    return off;
}

/// How far places of the surfaces, on a grid of parameters, lie outside the outline.
double farthest_outside(const TopoDS_Shape& shape, const Datum& datum, const Polygons& polygons,
                        int steps) {
    double worst = 0.0;
    for (TopExp_Explorer it(shape, TopAbs_FACE); it.More(); it.Next()) {
        const TopoDS_Face& face = TopoDS::Face(it.Current());
        const BRepAdaptor_Surface surface(face);
        if (surface.GetType() == GeomAbs_Plane) continue;  // its rim belongs to its neighbours
        double u0, u1, v0, v1;
        BRepTools::UVBounds(face, u0, u1, v0, v1);
        for (int i = 0; i <= steps; ++i)
            for (int k = 0; k <= steps; ++k) {
                const gp_Pnt p =
                    surface.Value(u0 + (u1 - u0) * i / steps, v0 + (v1 - v0) * k / steps);
                const Point2 place = datum.to_datum(Point3(p.X(), p.Y(), p.Z())).head<2>();
                if (!polygons.hold(place)) worst = std::max(worst, polygons.distance(place));
            }
    }
    return worst;
}

/// Lattice places away from the outline that one side counts in and the other out.
int places_told_apart(const ProfileSet& set, const Polygons& polygons, Sight& sight,
                      double distance) {
    constexpr int steps = 24;
    const Box2 box = set.bounds();
    int apart = 0;
    for (int i = 0; i < steps; ++i)
        for (int k = 0; k < steps; ++k) {
            const Point2 place =
                box.min() + Vector2((i + 0.5) / steps, (k + 0.5) / steps).cwiseProduct(box.sizes());
            if (polygons.distance(place) <= distance) continue;
            if (polygons.hold(place) != sight.meets(place)) ++apart;
        }
    return apart;
}

}  // namespace

TEST_CASE("spline solids: the outline is within tolerance of the true one, both ways") {
    const std::vector<std::pair<std::string, TopoDS_Shape>> solids = {
        {"stretched sphere", stretched()},
        {"loft", lofted()},
        {"sweep", swept()},
        {"blends", blended()},
        {"turned spline", turned()}};
    std::mt19937_64 random(31);
    for (const auto& [name, shape] : solids) {
        CAPTURE(name);
        for (int view = 0; view < 4; ++view) {
            const Datum datum(Point3(1.0, 2.0, 3.0), bodies::random_direction(random));
            CAPTURE(view);
            Sight sight(shape, datum);
            for (const double tolerance : {0.1, 0.01, 0.001}) {
                CAPTURE(tolerance);
                const ProfileSet set = bodies::silhouette_of(shape, datum, tolerance);
                for (const auto& note : set.notes()) MESSAGE(note);
                CHECK(set.notes().empty());
                // The chords of the polygons take a hundredth of the tolerance.
                const Polygons polygons(set, 0.01 * tolerance);
                CHECK(places_off(polygons, sight, 1.01 * tolerance, 60, random) == 0);
                CHECK(farthest_outside(shape, datum, polygons, 60) <= 1.01 * tolerance);
                if (tolerance == 0.01)
                    CHECK(places_told_apart(set, polygons, sight, 1.01 * tolerance) == 0);
            }
        }
    }
}
