/// Sampled positions in the manner of Open CASCADE issue 1124: a tube, a tube with cross holes and
/// a pipe bend cut by many planes, near-tangent and tangent ones among them. Each section is
/// compared with the length of the curves in which planes of the same directions must meet the
/// body; the kernel's own section is counted beside.

#include <doctest/doctest.h>

#include <BRepAdaptor_Curve.hxx>
#include <BRepAlgoAPI_Section.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepClass3d_SolidClassifier.hxx>
#include <BRepOffsetAPI_MakePipe.hxx>
#include <GCPnts_AbscissaPoint.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <cstdlib>
#include <gp_Circ.hxx>
#include <gp_Pln.hxx>

#include "flatten/bodies.hpp"
#include "planform/error.hpp"
#include "random_count.hpp"

using namespace planform;

namespace {

TopoDS_Shape tube() {
    const gp_Ax2 axis(gp_Pnt(0, 0, -30), gp_Dir(0, 0, 1));
    return BRepAlgoAPI_Cut(BRepPrimAPI_MakeCylinder(axis, 10.0, 60.0).Shape(),
                           BRepPrimAPI_MakeCylinder(axis, 8.0, 60.0).Shape());
}

TopoDS_Shape tube_with_cross_holes() {
    TopoDS_Shape shape = tube();
    for (const double z : {-15.0, 0.0, 15.0}) {
        const gp_Ax2 axis(gp_Pnt(-20, 0, z), gp_Dir(1, 0, 0));
        shape = BRepAlgoAPI_Cut(shape, BRepPrimAPI_MakeCylinder(axis, 3.0, 40.0).Shape());
    }
    const gp_Ax2 slanted(gp_Pnt(0, -20, 5), gp_Dir(0.2, 1, 0.1));
    return BRepAlgoAPI_Cut(shape, BRepPrimAPI_MakeCylinder(slanted, 2.0, 40.0).Shape());
}

/// A quarter bend of radius 25 of a pipe of 6 by 4.5, with straight ends of 20.
TopoDS_Shape pipe_bend() {
    const auto solid = [](double radius) {
        BRepBuilderAPI_MakeWire spine;
        spine.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(0, 0, -20), gp_Pnt(0, 0, 0)).Edge());
        const double c = std::sqrt(0.5);
        spine.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(gp_Pnt(0, 0, 0),
                                                             gp_Pnt(25 * (1 - c), 0, 25 * c),
                                                             gp_Pnt(25, 0, 25))
                                              .Value())
                      .Edge());
        spine.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(25, 0, 25), gp_Pnt(45, 0, 25)).Edge());
        const gp_Circ circle(gp_Ax2(gp_Pnt(0, 0, -20), gp_Dir(0, 0, 1)), radius);
        const auto rim = BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(circle).Edge()).Wire();
        return BRepOffsetAPI_MakePipe(spine.Wire(), BRepBuilderAPI_MakeFace(rim).Face()).Shape();
    };
    return BRepAlgoAPI_Cut(solid(6.0), solid(4.5));
}

/// Planes that pass the body in general position, along its axes, and tangent or nearly tangent to
/// its cylinders of the given radii about Z.
Datum sampled_plane(std::mt19937_64& random, const std::vector<double>& radii, int i) {
    std::uniform_real_distribution<double> unit(-1.0, 1.0);
    const double turn = pi * unit(random);
    const Vector3 out(std::cos(turn), std::sin(turn), 0.0);
    switch (i % 4) {
        case 0:
            return {Point3(15 * unit(random), 15 * unit(random), 25 * unit(random)),
                    bodies::random_direction(random)};
        case 1:
            return {12.0 * unit(random) * out, out};
        case 2: {
            // Beside a tangent plane, by 1e-1 to 1e-9, or tangent.
            const double radius = radii[static_cast<std::size_t>(i / 4) % radii.size()];
            const int power = (i / 4) % 10;
            const double aside =
                power == 0 ? 0.0 : std::pow(10.0, -power) * (unit(random) < 0 ? -1 : 1);
            return {(radius + aside) * out, out};
        }
        default: {
            // Tilted against the axis by as little.
            const double tilt = std::pow(10.0, -1.0 - (i / 4) % 9);
            return {9.0 * unit(random) * out, out + tilt * Vector3::UnitZ()};
        }
    }
}

/// Length of the material on a straight line, from the kernel's classifier of points: an oracle
/// that knows no section. Coarse: it tells a missed piece, not the digits.
double sampled_area(const TopoDS_Shape& shape, const Datum& datum, const Box2& box, int steps) {
    BRepClass3d_SolidClassifier classifier(shape);
    const Vector2 cell = box.sizes() / steps;
    int inside = 0;
    for (int i = 0; i < steps; ++i)
        for (int j = 0; j < steps; ++j) {
            const Point2 p = box.min() + cell.cwiseProduct(Vector2(i + 0.5, j + 0.5));
            const Point3 q = datum.to_model(p);
            classifier.Perform(gp_Pnt(q.x(), q.y(), q.z()), 1e-7);
            inside += classifier.State() == TopAbs_IN;
        }
    return inside * cell.prod();
}

/// Area that the kernel's section would enclose if its edges closed; open or failed sections count
/// as misses. Returns its length.
double kernel_length(const TopoDS_Shape& shape, const Datum& datum) {
    const Point3 o = datum.origin();
    const Vector3 n = datum.normal();
    BRepAlgoAPI_Section section(
        shape, gp_Pln(gp_Pnt(o.x(), o.y(), o.z()), gp_Dir(n.x(), n.y(), n.z())), Standard_False);
    section.Build();
    double length = 0.0;
    for (TopExp_Explorer it(section.Shape(), TopAbs_EDGE); it.More(); it.Next()) {
        BRepAdaptor_Curve curve(TopoDS::Edge(it.Current()));
        length += GCPnts_AbscissaPoint::Length(curve, 1e-6);
    }
    return length;
}

struct PlaceCount {
    int planes = 0, errors = 0, empty = 0, inconsistent = 0;
    int kernel_compared = 0, kernel_misses = 0;
};

/// The section of a plane must have the area between those of two planes beside it, 1e-5 apart from
/// it, within what that distance can change; it must be the mirror image of what is seen from
/// behind; and the area must be that of the closed contours, oriented.
PlaceCount run(const std::string& name, const TopoDS_Shape& shape, const std::vector<double>& radii,
               int planes, int kernel_share, unsigned seed) {
    std::mt19937_64 random(seed);
    const auto solids = bodies::solids_of(shape);
    PlaceCount count;
    for (int i = 0; i < planes; ++i) {
        const Datum datum = sampled_plane(random, radii, i);
        ++count.planes;
        try {
            const SectionStack stack(solids, datum);
            const ProfileSet set = stack.at(0.0);
            count.empty += set.empty();
            const double step = 1e-5;
            const double before = stack.at(-step).area(), after = stack.at(step).area();
            // Area changes like the square root of the distance at worst, near a tangent plane: a
            // strip as long as the body and 2 sqrt(2 r step) wide.
            const double slack = 4.0 * 70.0 * std::sqrt(2.0 * 10.0 * 2.0 * step);
            if (std::abs(set.area() - before) > slack || std::abs(set.area() - after) > slack) {
                ++count.inconsistent;
                MESSAGE(name << " plane " << i << ": area " << set.area() << " between " << before
                             << " and " << after);
            }
            const Datum behind(datum.origin(), -datum.normal());
            SectionOptions above;
            above.side = Side::above;
            const double mirrored = section(solids, behind, 0.0, above).area();
            // Within 1e-7 of a tangent plane one side may show a strip 2.8e-3 wide that the other
            // does not.
            const bool tangent = (i % 4 == 2 && ((i / 4) % 10 == 0 || (i / 4) % 10 >= 7)) ||
                                 (i % 4 == 3 && (i / 4) % 9 >= 6);
            if (std::abs(mirrored - set.area()) > (tangent ? 0.2 : 1e-6 * (1.0 + set.area()))) {
                ++count.inconsistent;
                MESSAGE(name << " plane " << i << ": area " << set.area() << ", from behind "
                             << mirrored);
            }
            if (i % kernel_share == 0) {
                ++count.kernel_compared;
                double length = -1.0;
                try {
                    length = kernel_length(shape, datum);
                } catch (const Standard_Failure&) {
                }
                if (std::abs(length - set.length()) > 1e-3 * (1.0 + set.length()))
                    ++count.kernel_misses;
            }
        } catch (const GeometryError& error) {
            ++count.errors;
            MESSAGE(name << " plane " << i << ": " << std::string(error.what()));
        }
    }
    MESSAGE(name << ": " << count.planes << " planes, " << count.empty << " empty, " << count.errors
                 << " errors, " << count.inconsistent
                 << " inconsistent; kernel's section differs in " << count.kernel_misses << " of "
                 << count.kernel_compared);
    return count;
}

/// The whole count, and the kernel's section of each plane, with the environment variable
/// PLANFORM_LONG_TESTS set.
int planes_each() { return random_count(700, 7000); }
/// One plane out of so many is cut by the kernel, too.
int kernel_share() { return runs_in_full() ? 1 : 20; }

void check(const PlaceCount& count) {
    CHECK(count.errors == 0);
    CHECK(count.inconsistent == 0);
    CHECK(count.planes - count.empty > count.planes / 2);
}

}  // namespace

TEST_CASE("sampled planes: a tube") {
    check(run("tube", tube(), {10.0, 8.0}, planes_each(), kernel_share(), 51));
}

TEST_CASE("sampled planes: a tube with cross holes") {
    check(run("tube with cross holes", tube_with_cross_holes(), {10.0, 8.0}, planes_each(),
              kernel_share(), 52));
}

TEST_CASE("sampled planes: a pipe bend") {
    check(run("pipe bend", pipe_bend(), {6.0, 4.5}, planes_each(), kernel_share(), 53));
}

TEST_CASE("sampled planes: the area against sampled points") {
    std::mt19937_64 random(54);
    const TopoDS_Shape shapes[] = {tube_with_cross_holes(), pipe_bend()};
    for (const TopoDS_Shape& shape : shapes) {
        const auto solids = bodies::solids_of(shape);
        int seen = 0;
        for (int i = 0; i < 12; ++i) {
            const Datum datum = sampled_plane(random, {10.0, 6.0}, 4 * i);
            const ProfileSet set = section(solids, datum);
            if (set.empty()) continue;
            ++seen;
            const Box2 box = set.bounds();
            const int steps = 24;
            const double expected = sampled_area(shape, datum, box, steps);
            // Cells that the outline passes are decided by their middle.
            const double slack = set.length() * box.sizes().maxCoeff() / steps;
            CHECK(std::abs(set.area() - expected) < slack);
        }
        CHECK(seen > 4);
    }
}
