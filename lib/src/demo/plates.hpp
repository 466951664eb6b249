#pragma once

/// The plates of the bird-feeding station, each drawn flat (but the gutter, which is bent): outline
/// in the plane z = 0, thickness along +z. Plates that meet share the numbers in `dimensions`, so
/// that tabs and slots fit.

#include <TopoDS_Shape.hxx>
#include <string>

#include "planform/model.hpp"

namespace planform::demo {

/// Lengths in mm, angles in radians. Invented for the demo.
namespace dimensions {
inline constexpr double thick = 6.0;  ///< Sheet of the load-bearing plates.
inline constexpr double thin = 3.0;   ///< Sheet of the light ones.

inline constexpr double post_x = 80.0;  ///< Posts stand at (+-post_x, +-post_y).
inline constexpr double post_y = 50.0;
inline constexpr double post_width = 30.0;
inline constexpr double post_height = 150.0;  ///< Between base plate and tray floor.
inline constexpr double post_tab = 14.0;

inline constexpr double brace_low = 60.0;  ///< Height of the brace's tab above the base plate.
inline constexpr double brace_tab = 20.0;
inline constexpr double brace_height = 60.0;

inline constexpr double tray_height = 30.0;
inline constexpr double side_y = 80.0;  ///< Middle of the sheet of the tray sides.
inline constexpr double end_x = 108.5;  ///< Middle of the sheet of the tray ends.
inline constexpr double tray_tab = 20.0;
inline constexpr double side_tab_x = 60.0;
inline constexpr double end_tab_y = 40.0;

inline constexpr double gable_x = 60.0;  ///< Middle of the sheet of the gables.
inline constexpr double gable_tab_y = 30.0;
inline constexpr double eave_y = 70.0;
inline constexpr double eave_height = 80.0;  ///< Above the tray floor.
inline constexpr double roof_slope = 40.0 * pi / 180.0;
inline constexpr double roof_tab = 20.0;
inline constexpr double roof_tab_start = 30.0;  ///< From the eave, along the slope.
inline constexpr double entrance_radius = 16.0;
inline constexpr double entrance_height = 70.0;

inline constexpr double hanger_x = 95.0;
inline constexpr double hanger_tab = 12.0;

inline constexpr double gutter_thick = 1.0;   ///< The sheet that is bent.
inline constexpr double gutter_radius = 2.0;  ///< Inside of its bends.
inline constexpr double gutter_length = 180.0;
inline constexpr double gutter_back = 18.0;  ///< Flat parts of its walls.
inline constexpr double gutter_bottom = 24.0;
inline constexpr double gutter_front = 14.0;
inline constexpr double gutter_lip = 5.0;
inline constexpr double gutter_lip_angle = pi / 3.0;  ///< By which the upper edge leans inward.
inline constexpr double gutter_y = 72.5;              ///< Outside of its back.
inline constexpr double gutter_height = 60.0;         ///< Upper edge, above the tray floor.

/// Length of the slope from the eave to the line where both roof planes meet.
double slope_length();
/// Height of that line above the tray floor.
double ridge_height();
}  // namespace dimensions

struct Plate {
    std::string name;
    Color color;  ///< sRGB
    TopoDS_Shape shape;
};

Plate base_plate();
Plate post();
Plate cross_brace();
Plate tray_floor();
Plate tray_side();
Plate tray_end();
Plate gable();
Plate roof_panel();
Plate hanger();
/// One part of several bodies: the counters of 0, 6, 8 and 9 lie loose in their cut-out digits.
Plate house_number();
Plate perch_disc();
/// Bent: its back lies in z = 0 with the length along x, the others rise from it.
Plate gutter();

}  // namespace planform::demo
