/// Planes all but parallel to the axis of a cylinder, near its side, and planes through the axis of
/// filleted cylinders.

#include <doctest/doctest.h>

#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Vertex.hxx>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <string>

#include "flatten/bodies.hpp"
#include "planform/error.hpp"
#include "random_count.hpp"

using namespace planform;

namespace {

/// Integral over [low, high] of the width 2 sqrt(R^2 - d^2), d = distance + tilt v, by Simpson's
/// rule: over v, or where the strip comes to an end over s with R - d = s^2, in which it is smooth.
double strip_area(double radius, double distance, double tilt, double low, double high) {
    const auto depth = [&](double v) { return std::max(0.0, radius - distance - tilt * v); };
    const auto width = [&](double d) { return 2.0 * std::sqrt(d * (2.0 * radius - d)); };
    constexpr int steps = 4000;
    const auto simpson = [&](double from, double to, const std::function<double(double)>& f) {
        double sum = 0.0;
        for (int i = 0; i <= steps; ++i)
            sum += (i == 0 || i == steps ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0)) *
                   f(from + (to - from) * i / steps);
        return std::abs(sum * (to - from) / steps / 3.0);
    };
    const double a = depth(low), b = depth(high);
    if (std::min(a, b) > 0.2 * std::max(a, b))
        return simpson(low, high, [&](double v) { return width(depth(v)); });
    return simpson(std::sqrt(a), std::sqrt(b),
                   [&](double s) { return width(s * s) * 2.0 * s / std::abs(tilt); });
}

TopoDS_Shape filleted(double radius, double height, double fillet, int ends) {
    const TopoDS_Shape cylinder = BRepPrimAPI_MakeCylinder(radius, height).Shape();
    BRepFilletAPI_MakeFillet rounding(cylinder);
    int edge = 0;
    for (TopExp_Explorer it(cylinder, TopAbs_EDGE); it.More(); it.Next(), ++edge) {
        const TopoDS_Edge e = TopoDS::Edge(it.Current());
        // The two rims: of the edges of the lateral face, those that are closed.
        TopoDS_Vertex a, b;
        TopExp::Vertices(e, a, b);
        if (!a.IsSame(b)) continue;
        const bool is_top = BRep_Tool::Pnt(a).Z() > 0.5 * height;
        if (is_top || ends == 2) rounding.Add(fillet, e);
    }
    return rounding.Shape();
}

}  // namespace

TEST_CASE("planes all but parallel to a cylinder's axis, near its side") {
    const int rounds = runs_in_full() ? 40 : 3;
    int planes = 0, wrong = 0, refused = 0;
    std::mt19937_64 random(11);
    std::uniform_real_distribution<double> unit(0.0, 1.0);
    for (int round = 0; round < rounds; ++round)
        for (int power = 6; power <= 13; ++power)
            for (const double share : {0.0, 1e-9, 1e-7, 1e-5, 5e-4, 0.3}) {
                const double radius = 2.0 + 18.0 * unit(random), height = 5.0 + 60.0 * unit(random);
                const double tilt = std::pow(10.0, -power) * (0.5 + unit(random)) *
                                    (unit(random) < 0.5 ? 1.0 : -1.0);
                const double turn = round == 0 ? 0.0 : 2.0 * pi * unit(random);
                const auto solids =
                    bodies::solids_of(BRepPrimAPI_MakeCylinder(radius, height).Shape());
                // In the middle of its height the plane lies this far from the axis.
                const double distance = radius * (1.0 - share);
                const Vector3 out(std::cos(turn), std::sin(turn), 0.0);
                const Vector3 normal = (out - tilt * Vector3::UnitZ()).normalized();
                const Datum datum(distance * out + 0.5 * height * Vector3::UnitZ(), normal);
                const double true_area =
                    strip_area(radius, distance, tilt, -0.5 * height, 0.5 * height);
                // The plane itself is known to rounding, and within 1e-7 mm it may count as
                // touching: the strip's width changes like a root.
                const double blur = share < 1e-8 ? 2e-7 : 2e-14 * (radius + height);
                const double slack =
                    height * 2.0 * std::sqrt(2.0 * radius) *
                        (std::sqrt(radius * share + blur) - std::sqrt(radius * share)) * 4.0 +
                    1e-9 * true_area;
                ++planes;
                std::string result;
                try {
                    const double area = section(solids, datum).area();
                    if (std::abs(area - true_area) <= slack) continue;
                    ++wrong;
                    result = std::to_string(area);
                } catch (const Error& error) {
                    ++refused;
                    result = error.what();
                }
                MESSAGE("radius " << radius << " height " << height << " tilt " << tilt << " share "
                                  << share << ": " << result << " for " << true_area);
            }
    MESSAGE(planes << " planes near a cylinder's side: " << wrong << " wrong, " << refused
                   << " refused");
    CHECK(planes == rounds * 48);
    CHECK(wrong == 0);
    CHECK(refused == 0);
}

TEST_CASE("filleted cylinders from memory through their axis") {
    const int bodies_asked = runs_in_full() ? 64 : 8;
    int planes = 0, wrong = 0, refused = 0;
    std::mt19937_64 random(12);
    std::uniform_real_distribution<double> unit(0.0, 1.0);
    for (int i = 0; i < bodies_asked; ++i) {
        const double radius = 2.0 + 10.0 * unit(random), height = 5.0 + 30.0 * unit(random);
        const double fillet = (0.05 + 0.4 * unit(random)) * std::min(radius, height);
        const int ends = 1 + i % 2;
        const auto solids = bodies::solids_of(filleted(radius, height, fillet, ends));
        // A rectangle less a square and plus a quarter disc at each rounded corner.
        const double area =
            2.0 * radius * height - 2.0 * ends * (1.0 - 0.25 * pi) * fillet * fillet;
        std::vector<Vector3> normals = {-Vector3::UnitX(), Vector3::UnitX(), Vector3::UnitY(),
                                        -Vector3::UnitY()};
        for (const int fifteens : {1, 2, 3, 5, 8, 14, 21})
            normals.emplace_back(std::cos(fifteens * pi / 12), std::sin(fifteens * pi / 12), 0.0);
        for (const Vector3& normal : normals)
            for (const Side side : {Side::below, Side::above}) {
                ++planes;
                SectionOptions options;
                options.side = side;
                std::string result;
                try {
                    const double found =
                        section(solids, Datum(Point3::Zero(), normal), 0.0, options).area();
                    if (std::abs(found - area) <= 1e-9 * area) continue;
                    ++wrong;
                    result = std::to_string(found);
                } catch (const Error& error) {
                    ++refused;
                    result = error.what();
                }
                MESSAGE("body " << i << " normal " << normal.transpose() << ": " << result
                                << " for " << area);
            }
    }
    MESSAGE(planes << " planes through filleted cylinders: " << wrong << " wrong, " << refused
                   << " refused");
    CHECK(planes == 22 * bodies_asked);
    CHECK(wrong == 0);
    CHECK(refused == 0);
}
