#pragma once

/// Solids made with the kernel, and datums, for the tests of this floor.

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <TopoDS_Shape.hxx>
#include <cmath>
#include <gp_Ax2.hxx>
#include <random>
#include <vector>

#include "planform/flatten.hpp"
#include "planform/occt.hpp"

namespace bodies {

inline std::vector<planform::Solid> solids_of(const TopoDS_Shape& shape) {
    return planform::from_shape(shape).solids();
}

inline planform::ProfileSet silhouette_of(const TopoDS_Shape& shape, const planform::Datum& datum,
                                          double tolerance = 0.01) {
    return planform::silhouette(solids_of(shape), datum, {tolerance, planform::Merge::unite});
}

/// A direction drawn evenly from the unit sphere (three normal deviates: G. Marsaglia, Annals of
/// Mathematical Statistics 43 (1972), notes this as the known way).
inline planform::Vector3 random_direction(std::mt19937_64& random) {
    std::normal_distribution<double> normal;
    planform::Vector3 v;
    do {
        v = {normal(random), normal(random), normal(random)};
    } while (v.norm() < 1e-3);
    return v.normalized();
}

inline planform::Datum random_datum(std::mt19937_64& random) {
    std::uniform_real_distribution<double> place(-50.0, 50.0);
    const planform::Point3 origin(place(random), place(random), place(random));
    return {origin, random_direction(random)};
}

/// A datum whose normal makes the given angle with the model's Z axis, turned about it.
inline planform::Datum tilted_datum(double angle, double turn) {
    return {planform::Point3(1.0, -2.0, 3.0),
            {std::sin(angle) * std::cos(turn), std::sin(angle) * std::sin(turn), std::cos(angle)}};
}

/// The plate of a feeding station's tray: 120 x 80 x 3 mm with two round holes and one slot.
inline TopoDS_Shape drilled_plate() {
    TopoDS_Shape plate = BRepPrimAPI_MakeBox(120.0, 80.0, 3.0).Shape();
    const auto drill = [&](double x, double y, double radius) {
        const gp_Ax2 axis(gp_Pnt(x, y, -1.0), gp_Dir(0, 0, 1));
        plate = BRepAlgoAPI_Cut(plate, BRepPrimAPI_MakeCylinder(axis, radius, 5.0).Shape()).Shape();
    };
    drill(20.0, 20.0, 4.0);
    drill(100.0, 60.0, 6.5);
    const TopoDS_Shape slot =
        BRepAlgoAPI_Fuse(
            BRepAlgoAPI_Fuse(
                BRepPrimAPI_MakeBox(gp_Pnt(50.0, 37.0, -1.0), gp_Pnt(70.0, 43.0, 4.0)).Shape(),
                BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(50.0, 40.0, -1.0), gp_Dir(0, 0, 1)), 3.0,
                                         5.0)
                    .Shape())
                .Shape(),
            BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(70.0, 40.0, -1.0), gp_Dir(0, 0, 1)), 3.0, 5.0)
                .Shape())
            .Shape();
    return BRepAlgoAPI_Cut(plate, slot).Shape();
}

}  // namespace bodies
