/// How far outlines of spline surfaces are from the truth, at three tolerances.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_GTransform.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepOffsetAPI_ThruSections.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <Geom_Surface.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <gp_Circ.hxx>
#include <gp_Elips.hxx>
#include <gp_GTrsf.hxx>

#include "flatten/bodies.hpp"

using namespace planform;

namespace {

const Vector3 half_axes(12.0, 7.0, 4.0);

/// A sphere stretched along the axes: the kernel makes B-spline surfaces of it.
TopoDS_Shape ellipsoid() {
    gp_GTrsf stretch;
    for (int i = 1; i <= 3; ++i) stretch.SetValue(i, i, half_axes[i - 1]);
    return BRepBuilderAPI_GTransform(BRepPrimAPI_MakeSphere(1.0).Shape(), stretch).Shape();
}

/// A smooth skin through ellipses of different sizes that stand askew over each other.
TopoDS_Shape loft() {
    BRepOffsetAPI_ThruSections skin(Standard_True, Standard_False);
    const auto add = [&](double x, double z, double major, double minor) {
        const gp_Elips ellipse(gp_Ax2(gp_Pnt(x, 0.2 * x, z), gp_Dir(0.02 * x, 0, 1)), major, minor);
        skin.AddWire(BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(ellipse).Edge()).Wire());
    };
    add(0.0, 0.0, 8.0, 6.0);
    add(2.0, 6.0, 5.0, 4.0);
    add(-1.0, 12.0, 7.0, 3.0);
    add(1.0, 20.0, 9.0, 8.0);
    return skin.Shape();
}

/// Support function of the outline in the datum's direction (cos t, sin t).
double support(const std::vector<Point2>& points, double t) {
    const Vector2 d(std::cos(t), std::sin(t));
    double best = -1e300;
    for (const Point2& p : points) best = std::max(best, d.dot(p));
    return best;
}

std::vector<Point2> dense_outline(const ProfileSet& set) {
    std::vector<Point2> points;
    for (const Profile& profile : set.profiles()) {
        const std::vector<Point2> part = profile.outer().points(1e-6);
        points.insert(points.end(), part.begin(), part.end());
    }
    return points;
}

/// Points of all faces on a grid of parameters, on the datum.
std::vector<Point2> surface_points(const TopoDS_Shape& shape, const Datum& datum, int count) {
    std::vector<Point2> points;
    for (TopExp_Explorer it(shape, TopAbs_FACE); it.More(); it.Next()) {
        const TopoDS_Face& face = TopoDS::Face(it.Current());
        double u0, u1, v0, v1;
        BRepTools::UVBounds(face, u0, u1, v0, v1);
        const Handle(Geom_Surface) surface = BRep_Tool::Surface(face);
        if (surface->IsKind("Geom_Plane")) continue;  // its rim belongs to its neighbours
        for (int i = 0; i <= count; ++i)
            for (int j = 0; j <= count; ++j) {
                const gp_Pnt p =
                    surface->Value(u0 + (u1 - u0) * i / count, v0 + (v1 - v0) * j / count);
                points.push_back(datum.to_datum({p.X(), p.Y(), p.Z()}).head<2>());
            }
    }
    return points;
}

}  // namespace

TEST_CASE("an ellipsoid of splines: its shadow is the ellipse of the closed form") {
    // The shadow along n of the ellipsoid {A x : |x| <= 1} has the area pi |det A| |A^-T n| and, in
    // the direction d of the plane, the support function |A^T d|. Elementary linear algebra.
    std::mt19937_64 random(17);
    const TopoDS_Shape shape = ellipsoid();
    for (int i = 0; i < 20; ++i) {
        const Datum datum(Point3::Zero(), bodies::random_direction(random));
        const double exact = pi * half_axes.prod() * datum.normal().cwiseQuotient(half_axes).norm();
        CHECK(bodies::silhouette_of(shape, datum, 1e-4).area() ==
              doctest::Approx(exact).epsilon(1e-6));
        for (const double tolerance : {0.1, 0.01, 0.001}) {
            CAPTURE(tolerance);
            const auto points = dense_outline(bodies::silhouette_of(shape, datum, tolerance));
            double worst = 0.0;
            for (int k = 0; k < 360; ++k) {
                const double t = 2.0 * pi * k / 360;
                const Vector3 d = std::cos(t) * datum.x() + std::sin(t) * datum.y();
                worst = std::max(worst,
                                 std::abs(support(points, t) - half_axes.cwiseProduct(d).norm()));
            }
            CHECK(worst <= tolerance);
        }
    }
}

TEST_CASE(
    "a lofted solid: the outline reaches as far as the densely sampled surface, in all "
    "directions") {
    std::mt19937_64 random(23);
    const TopoDS_Shape shape = loft();
    for (int i = 0; i < 6; ++i) {
        const Datum datum(Point3::Zero(), bodies::random_direction(random));
        const std::vector<Point2> sampled = surface_points(shape, datum, 400);
        for (const double tolerance : {0.1, 0.01, 0.001}) {
            CAPTURE(tolerance);
            const auto points = dense_outline(bodies::silhouette_of(shape, datum, tolerance));
            double worst = 0.0;
            for (int k = 0; k < 90; ++k) {
                const double t = 2.0 * pi * k / 90;
                worst = std::max(worst, std::abs(support(points, t) - support(sampled, t)));
            }
            // A grid of 400 steps misses the highest point by less than (step / 2)^2 / 2R: about
            // 2e-4 mm.
            CHECK(worst <= tolerance + 2e-4);
        }
    }
}
