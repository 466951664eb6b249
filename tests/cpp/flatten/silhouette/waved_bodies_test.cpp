/// Bodies of many waves that are not extrusions: turned ones, whose shadows have a closed form, and
/// lofts, compared with a mesh. Folds come and go on every piece of their surfaces.
///
/// A share of the bodies runs by default, all of them with PLANFORM_LONG_TESTS in the environment.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepOffsetAPI_ThruSections.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <GeomAPI_PointsToBSpline.hxx>
#include <Geom_BSplineCurve.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <string>

#include "flatten/base_outlines.hpp"
#include "flatten/bodies.hpp"
#include "flatten/mesh_oracle.hpp"
#include "planform/error.hpp"
#include "random_count.hpp"

using namespace planform;

namespace {

/// A spline turned about the z axis from z = 0 to z = 20, with flat ends.
struct Turned {
    TopoDS_Shape shape;
    std::function<gp_Pnt(double)> profile;  ///< radius and height over 0..1
};

Turned turned(int waves, double depth, double phase) {
    const int count = 6 * waves + 1;
    TColgp_Array1OfPnt points(1, count);
    for (int i = 0; i < count; ++i) {
        const double share = static_cast<double>(i) / (count - 1);
        points(i + 1) =
            gp_Pnt(9.0 + depth * std::cos(2.0 * pi * waves * share + phase), 0.0, 20.0 * share);
    }
    const Handle(Geom_BSplineCurve) curve = GeomAPI_PointsToBSpline(points).Curve();
    const gp_Pnt start = curve->StartPoint(), end = curve->EndPoint();
    const gp_Pnt bottom(0, 0, start.Z()), top(0, 0, end.Z());
    BRepBuilderAPI_MakeWire wire(
        BRepBuilderAPI_MakeEdge(bottom, start).Edge(), BRepBuilderAPI_MakeEdge(curve).Edge(),
        BRepBuilderAPI_MakeEdge(end, top).Edge(), BRepBuilderAPI_MakeEdge(top, bottom).Edge());
    Turned body;
    body.shape = BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(wire.Wire()).Face(),
                                       gp_Ax1(gp_Pnt(), gp_Dir(0, 0, 1)))
                     .Shape();
    body.profile = [curve](double share) {
        return curve->Value(curve->FirstParameter() +
                            share * (curve->LastParameter() - curve->FirstParameter()));
    };
    return body;
}

/// The shadow is the union of the shadows of discs of radius r at height z: seen at an angle a to
/// the axis, ellipses with half axes r and r cos a, moved by z sin a. Across the axis at x each
/// stretch of the profile with r >= |x| gives one piece. Midpoint rule in x.
double turned_shadow(const Turned& body, double angle) {
    constexpr int lines = 1500, steps = 3000;
    const double lift = std::sin(angle), lean = std::abs(std::cos(angle));
    std::vector<double> radius, height;
    for (int i = 0; i <= steps; ++i) {
        const gp_Pnt p = body.profile(static_cast<double>(i) / steps);
        radius.push_back(p.X());
        height.push_back(p.Z());
    }
    const double widest = *std::max_element(radius.begin(), radius.end());
    double area = 0.0;
    for (int line = 0; line < lines; ++line) {
        const double x = widest * (line + 0.5) / lines;
        std::vector<std::pair<double, double>> pieces;
        bool is_open = false;
        // Where the profile crosses x between two of its places the piece begins or ends in a
        // point.
        const auto crossing = [&](std::size_t i) {
            const double share = (x - radius[i - 1]) / (radius[i] - radius[i - 1]);
            return lift * (height[i - 1] + share * (height[i] - height[i - 1]));
        };
        for (std::size_t i = 0; i < radius.size(); ++i) {
            if (radius[i] < x) {
                if (is_open) {
                    pieces.back().first = std::min(pieces.back().first, crossing(i));
                    pieces.back().second = std::max(pieces.back().second, crossing(i));
                }
                is_open = false;
                continue;
            }
            const double half = lean * std::sqrt(radius[i] * radius[i] - x * x);
            const double low = height[i] * lift - half, high = height[i] * lift + half;
            if (!is_open) pieces.emplace_back(low, high);
            if (!is_open && i > 0) {
                pieces.back().first = std::min(low, crossing(i));
                pieces.back().second = std::max(high, crossing(i));
            }
            is_open = true;
            pieces.back().first = std::min(pieces.back().first, low);
            pieces.back().second = std::max(pieces.back().second, high);
        }
        std::sort(pieces.begin(), pieces.end());
        double reached = -1e300;
        for (const auto& [low, high] : pieces) {
            area += std::max(0.0, high - std::max(low, reached));
            reached = std::max(reached, high);
        }
    }
    return 2.0 * area * widest / lines;
}

}  // namespace

TEST_CASE("turned waves from the side, askew and along the axis") {
    std::mt19937_64 random(201);
    const auto number = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    // Many waves at a free angle take long, where their folds are followed on a mesh.
    const int wanted = (runs_in_full() ? 500 : 3), most_waves = (runs_in_full() ? 30 : 3);
    double worst = 0.0;
    int noted = 0;
    for (int i = 0; i < wanted; ++i) {
        const int waves = std::uniform_int_distribution<int>(1, most_waves)(random);
        const Turned body = turned(waves, number(0.05, 2.0), number(0.0, 2.0 * pi));
        const TopoDS_Shape shape =
            i % 2 == 0 ? body.shape
                       : BRepBuilderAPI_NurbsConvert(body.shape, Standard_True).Shape();
        const std::vector<Solid> solids = bodies::solids_of(shape);
        for (const double angle : {0.0, 0.5 * pi, number(0.05, 1.5)}) {
            CAPTURE(i);
            CAPTURE(waves);
            CAPTURE(angle);
            try {
                const ProfileSet set =
                    silhouette(solids, bodies::tilted_datum(angle, number(0.0, 6.0)));
                const double expected = turned_shadow(body, angle);
                const double off = std::abs(set.area() - expected) / expected;
                CHECK(off < 2e-4);
                worst = std::max(worst, off);
                if (!set.notes().empty()) ++noted;
            } catch (const Error& error) {
                FAIL_CHECK(std::string(error.what()));
            }
        }
    }
    MESSAGE(wanted << " turned bodies, worst off by " << worst << ", " << noted
                   << " followed on a mesh");
}

TEST_CASE("lofts through waves against a mesh") {
    std::mt19937_64 random(202);
    const auto number = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    const int wanted = (runs_in_full() ? 500 : 3);
    int compared = 0;
    for (int i = 0; i < wanted; ++i) {
        const int lobes = std::uniform_int_distribution<int>(3, 24)(random);
        const int points = lobes * std::uniform_int_distribution<int>(4, 8)(random);
        BRepOffsetAPI_ThruSections loft(Standard_True, i % 2 == 0);
        for (const double z : {0.0, 5.0, 11.0}) {
            gp_Trsf up;
            up.SetTranslation(gp_Vec(0, 0, z));
            const base_outlines::Base base =
                base_outlines::waved(points, number(14.0, 20.0), number(0.3, 1.5), lobes);
            loft.AddWire(TopoDS::Wire(base.wire.Moved(up)));
        }
        loft.Build();
        if (!loft.IsDone()) continue;
        const TopoDS_Shape shape = loft.Shape();
        const std::vector<Solid> solids = bodies::solids_of(shape);
        for (const double angle : {0.5 * pi, number(0.0, 1.5)}) {
            const Datum datum = bodies::tilted_datum(angle, number(0.0, 6.0));
            CAPTURE(i);
            CAPTURE(lobes);
            CAPTURE(points);
            CAPTURE(angle);
            try {
                const ProfileSet set = silhouette(solids, datum);
                constexpr double deflection = 0.01;
                const oracle::Area mesh = oracle::shadow_area(shape, datum, deflection);
                if (!oracle::mesh_covers_all_faces(shape)) continue;
                ++compared;
                CHECK(std::abs(set.area() - mesh.value) <=
                      2.0 * deflection * set.length() + mesh.scan_error);
            } catch (const Error& error) {
                FAIL_CHECK(std::string(error.what()));
            }
        }
    }
    CHECK(compared > wanted);
}
