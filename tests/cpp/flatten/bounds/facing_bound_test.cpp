/// Bounds on how a face looks at the viewer, against the surface itself at many places: a bound may
/// be wide, never wrong.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_MakeFace.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_SurfaceOfRevolution.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColStd_Array2OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <cmath>
#include <gp_Ax1.hxx>
#include <random>
#include <vector>

#include "flatten/zero_sets/level_field.hpp"

using namespace planform;
using namespace planform::flatten;

namespace {

class Dice {
  public:
    explicit Dice(unsigned seed) : engine_(seed) {}
    double between(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(engine_);
    }
    int one_of(int count) { return std::uniform_int_distribution<int>(0, count - 1)(engine_); }
    gp_Dir direction() {
        for (;;) {
            const gp_Vec v(between(-1, 1), between(-1, 1), between(-1, 1));
            if (v.Magnitude() > 0.1 && v.Magnitude() < 1.0) return gp_Dir(v);
        }
    }

  private:
    std::mt19937 engine_;
};

/// A curve beside the z axis, rising, with one inner knot or none, rational or not.
Handle(Geom_BSplineCurve) profile(Dice& dice) {
    const int degree = 2 + dice.one_of(5), spans = 1 + dice.one_of(2);
    const int count = degree + spans;
    TColgp_Array1OfPnt poles(1, count);
    TColStd_Array1OfReal weights(1, count);
    for (int i = 1; i <= count; ++i) {
        poles(i) = gp_Pnt(5.0 + dice.between(-0.5, 0.5), dice.between(-0.5, 0.5), i);
        weights(i) = dice.between(0.5, 2.0);
    }
    TColStd_Array1OfReal knots(1, spans + 1);
    TColStd_Array1OfInteger multiplicities(1, spans + 1);
    for (int i = 1; i <= spans + 1; ++i) {
        knots(i) = i;
        multiplicities(i) = i == 1 || i == spans + 1 ? degree + 1 : 1;
    }
    if (dice.one_of(2) == 0)
        return new Geom_BSplineCurve(poles, weights, knots, multiplicities, degree);
    return new Geom_BSplineCurve(poles, knots, multiplicities, degree);
}

/// A patch over the unit square of x and y, leaning by up to `lean`.
Handle(Geom_BSplineSurface) patch(Dice& dice, double lean) {
    const int m = 2 + dice.one_of(4), n = 2 + dice.one_of(10);
    TColgp_Array2OfPnt poles(1, m + 1, 1, n + 1);
    TColStd_Array2OfReal weights(1, m + 1, 1, n + 1);
    for (int i = 0; i <= m; ++i)
        for (int k = 0; k <= n; ++k) {
            poles(i + 1, k + 1) =
                gp_Pnt(10.0 * i / m + dice.between(-0.2, 0.2),
                       10.0 * k / n + dice.between(-0.2, 0.2), lean * dice.between(-1.0, 1.0));
            weights(i + 1, k + 1) = dice.between(0.8, 1.2);
        }
    TColStd_Array1OfReal knots(1, 2);
    knots(1) = 0.0;
    knots(2) = 1.0;
    TColStd_Array1OfInteger ends_u(1, 2), ends_v(1, 2);
    ends_u.Init(m + 1);
    ends_v.Init(n + 1);
    if (dice.one_of(2) == 0)
        return new Geom_BSplineSurface(poles, weights, knots, knots, ends_u, ends_v, m, n);
    return new Geom_BSplineSurface(poles, knots, knots, ends_u, ends_v, m, n);
}

/// The face as part of a graph, seen along `view`.
solid::ShapeGraph seen(const TopoDS_Shape& face, const gp_Dir& view) {
    const Vector3 normal(view.X(), view.Y(), view.Z());
    const Vector3 x = normal.unitOrthogonal();
    return solid::build_shape_graph(face, Datum(Point3(1.0, 2.0, 3.0), normal, x));
}

struct BoundTally {
    int told = 0, wrong = 0;
};

/// Compares what the bounds tell of a face with its field at 41 x 41 places.
void compare(const TopoDS_Shape& face, const gp_Dir& view, BoundTally& tally) {
    const solid::ShapeGraph graph = seen(face, view);
    const solid::FaceSurface surface(graph.faces.front(), graph.placement);
    const FacingField field(surface, graph.faces.front().outward);
    const FacingField::Sign sign = field.sign_of_whole();
    if (sign == FacingField::Sign::unknown) return;
    ++tally.told;
    for (int i = 0; i <= 40; ++i)
        for (int k = 0; k <= 40; ++k) {
            const Vector2 share(1e-4 + (1.0 - 2e-4) * i / 40, 1e-4 + (1.0 - 2e-4) * k / 40);
            const double value = field.value(surface.low() + share.cwiseProduct(surface.range()));
            if ((value > 0.0) != (sign == FacingField::Sign::positive)) {
                ++tally.wrong;
                return;
            }
        }
}

}  // namespace

TEST_CASE("bounds of turned splines: never another sign than the surface has") {
    Dice dice(1);
    BoundTally tally;
    for (int i = 0; i < 2000; ++i) {
        const gp_Dir axis = dice.direction();
        const Handle(Geom_BSplineCurve) curve = profile(dice);
        const Handle(Geom_SurfaceOfRevolution) surface =
            new Geom_SurfaceOfRevolution(curve, gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)));
        const double from = dice.between(0.0, 5.0), turn = dice.between(0.1, 1.5);
        BRepBuilderAPI_MakeFace face(surface, from, from + turn, curve->FirstParameter(),
                                     curve->LastParameter(), 1e-7);
        REQUIRE(face.IsDone());
        compare(face.Face(), axis, tally);
    }
    MESSAGE(tally.told << " of 2000 turned splines were told by bounds");
    CHECK(tally.wrong == 0);
    CHECK(tally.told > 500);
}

TEST_CASE("bounds of a turned spline seen along its axis: told wherever it rises or falls") {
    // z' > 0 throughout, and the distance from the axis falls throughout: it faces up.
    TColgp_Array1OfPnt poles(1, 4);
    poles(1) = gp_Pnt(4.0, 0.0, 0.0);
    poles(2) = gp_Pnt(3.9, 0.0, 1.0);
    poles(3) = gp_Pnt(3.0, 0.0, 1.8);
    poles(4) = gp_Pnt(2.0, 0.0, 2.0);
    TColStd_Array1OfReal knots(1, 2);
    knots(1) = 0.0;
    knots(2) = 1.0;
    TColStd_Array1OfInteger ends(1, 2);
    ends.Init(4);
    const Handle(Geom_BSplineCurve) curve = new Geom_BSplineCurve(poles, knots, ends, 3);
    const Handle(Geom_SurfaceOfRevolution) surface =
        new Geom_SurfaceOfRevolution(curve, gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)));
    BRepBuilderAPI_MakeFace face(surface, 0.0, 2.0 * pi, 0.0, 1.0, 1e-7);
    for (const double z : {1.0, -1.0}) {
        const solid::ShapeGraph graph = seen(face.Face(), gp_Dir(0, 0, z));
        const solid::FaceSurface placed(graph.faces.front(), graph.placement);
        const FacingField field(placed, graph.faces.front().outward);
        const FacingField::Sign sign = field.sign_of_whole();
        CHECK(sign == (z > 0.0 ? FacingField::Sign::positive : FacingField::Sign::negative));
    }
}

TEST_CASE("bounds of spline surfaces: never another sign, and patches keep to the surface") {
    Dice dice(2);
    BoundTally tally;
    double worst = 0.0, worst_in_box = 0.0, looser = 0.0;
    for (int i = 0; i < 300; ++i) {
        const Handle(Geom_BSplineSurface) surface = patch(dice, dice.between(0.1, 3.0));
        BRepBuilderAPI_MakeFace face(surface, 1e-7);
        const gp_Dir view = dice.direction();
        compare(face.Face(), view, tally);
        const solid::ShapeGraph graph = seen(face.Face(), view);
        const solid::FaceSurface placed(graph.faces.front(), graph.placement);
        const FacingField field(placed, graph.faces.front().outward);
        // Halved again and again, with falling degrees, a patch still bounds its own corners, and
        // its sign at each is the surface's.
        std::vector<FacingPatch> parts = field.bound().patches;
        for (int level = 0; level < 6; ++level) {
            std::vector<FacingPatch> halves;
            for (const FacingPatch& part : parts) {
                auto [first, second] = part.halves(level % 2 == 0);
                halves.push_back(std::move(first));
                halves.push_back(std::move(second));
            }
            parts = std::move(halves);
        }
        // What a box holds, of some width or none, is bounded as tightly as by cutting it out.
        for (const FacingPatch& whole : field.bound().patches) {
            Box2 box = whole.box();
            for (const Eigen::Index axis : {0, 1}) {
                const double a = dice.between(0.0, 1.0), b = dice.between(0.0, 1.0);
                const double low = whole.box().min()[axis], size = whole.box().sizes()[axis];
                box.min()[axis] = low + std::min(a, b) * size;
                box.max()[axis] = low + std::max(a, b) * size;
                if (dice.one_of(3) == 0) box.max()[axis] = box.min()[axis];
            }
            const Range range = whole.over(box);
            CHECK(range.low >= whole.low());
            CHECK(range.high <= whole.high());
            if (box.sizes().minCoeff() <= 0.0) continue;
            const FacingPatch part = whole.within(box);
            const double size = std::max(std::abs(whole.low()), std::abs(whole.high()));
            looser = std::max({looser, (part.low() - range.low) / size - 1e-12,
                               (range.high - part.high()) / size - 1e-12});
            for (const int u : {0, 1})
                for (const int v : {0, 1}) {
                    worst_in_box = std::max({worst_in_box, (range.low - part.corner(u, v)) / size,
                                             (part.corner(u, v) - range.high) / size});
                }
        }
        for (const FacingPatch& part : parts)
            for (const int u : {0, 1})
                for (const int v : {0, 1}) {
                    const double value = part.corner(u, v);
                    worst = std::max({worst, part.low() - value, value - part.high()});
                    if (std::abs(value) <= 10.0 * field.bound().noise) continue;
                    const Box2& box = part.box();
                    const Point2 at(u == 0 ? box.min().x() : box.max().x(),
                                    v == 0 ? box.min().y() : box.max().y());
                    CHECK((field.outward() * value > 0.0) == (field.value(at) > 0.0));
                }
    }
    MESSAGE(tally.told << " of 300 spline surfaces were told by bounds");
    CHECK(worst <= 0.0);
    CHECK(worst_in_box < 1e-9);  // a part may be off by what it was allowed
    CHECK(looser < 1e-9);
    CHECK(tally.wrong == 0);
    CHECK(tally.told > 30);
}
