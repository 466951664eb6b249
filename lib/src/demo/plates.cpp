#include "demo/plates.hpp"

#include <cmath>
#include <vector>

#include "demo/outlines.hpp"
#include "demo/sheet.hpp"

namespace planform::demo {

using namespace dimensions;

namespace {

constexpr Color oak = {0.76, 0.60, 0.38};
constexpr Color moss = {0.40, 0.52, 0.30};
constexpr Color brick = {0.66, 0.28, 0.20};
constexpr Color cream = {0.93, 0.89, 0.78};
constexpr Color steel = {0.62, 0.65, 0.68};

/// The four mirror images of a point in x and y.
std::vector<Point2> mirrored(double x, double y) { return {{x, y}, {-x, y}, {-x, -y}, {x, -y}}; }

}  // namespace

double dimensions::slope_length() { return eave_y / std::cos(roof_slope); }
double dimensions::ridge_height() { return eave_height + eave_y * std::tan(roof_slope); }

Plate base_plate() {
    std::vector<TopoDS_Wire> holes;
    for (const Point2& at : mirrored(post_x, post_y))
        holes.push_back(rectangle(at, post_tab, thick));
    for (const Point2& at : mirrored(102.0, 62.0)) holes.push_back(circle(at, 3.0));
    return {"base plate", oak, sheet(rounded_rectangle({0, 0}, 240.0, 160.0, 18.0), holes, thick)};
}

Plate post() {
    const double u = post_width / 2.0, tab = post_tab / 2.0, top = post_height;
    const TopoDS_Wire outer = Outline({-tab, -thick})
                                  .line_to(tab, -thick)
                                  .line_to(tab, 0.0)
                                  .line_to(u, 0.0)
                                  .line_to(u, top)
                                  .line_to(tab, top)
                                  .line_to(tab, top + thick)
                                  .line_to(-tab, top + thick)
                                  .line_to(-tab, top)
                                  .line_to(-u, top)
                                  .line_to(-u, 0.0)
                                  .line_to(-tab, 0.0)
                                  .close();
    const Point2 slot(0.0, brace_low + brace_tab / 2.0);
    return {"post", oak, sheet(outer, {rectangle(slot, thin, brace_tab)}, thick)};
}

Plate cross_brace() {
    // Drawn about the middle of the tab; the upper edge is an arc that sags by `sag`.
    const double u = post_y - thick / 2.0, reach = post_y + thick / 2.0;
    const double v = brace_height / 2.0, tab = brace_tab / 2.0, sag = 8.0;
    const double radius = (u * u + sag * sag) / (2.0 * sag);
    const double turn = -2.0 * std::asin(u / radius);
    const TopoDS_Wire outer = Outline({-u, -v})
                                  .line_to(u, -v)
                                  .line_to(u, -tab)
                                  .line_to(reach, -tab)
                                  .line_to(reach, tab)
                                  .line_to(u, tab)
                                  .line_to(u, v)
                                  .arc({0.0, v - sag + radius}, turn)
                                  .line_to(-u, tab)
                                  .line_to(-reach, tab)
                                  .line_to(-reach, -tab)
                                  .line_to(-u, -tab)
                                  .close();
    return {"cross brace", moss, sheet(outer, {ellipse({0.0, -4.0}, 30.0, 14.0)}, thin)};
}

Plate tray_floor() {
    std::vector<TopoDS_Wire> holes;
    for (const Point2& at : mirrored(post_x, post_y))
        holes.push_back(rectangle(at, post_tab, thick));
    for (const Point2& at : mirrored(side_tab_x, side_y)) {
        holes.push_back(rectangle(at, tray_tab, thin));
    }
    for (const Point2& at : mirrored(end_x, end_tab_y))
        holes.push_back(rectangle(at, thin, tray_tab));
    for (const Point2& at : mirrored(gable_x, gable_tab_y)) {
        holes.push_back(rectangle(at, thick, tray_tab));
    }
    for (const double x : {-hanger_x, hanger_x})
        holes.push_back(rectangle({x, 0}, hanger_tab, thin));
    for (const Point2& at : mirrored(25.0, 50.0)) holes.push_back(slotted_hole(at, 24.0, 5.0));
    for (const double x : {-40.0, -20.0, 0.0, 20.0, 40.0}) {
        for (const double y : {-20.0, 0.0, 20.0}) holes.push_back(circle({x, y}, 3.0));
    }
    return {"tray floor", oak, sheet(rounded_rectangle({0, 0}, 260.0, 190.0, 15.0), holes, thick)};
}

Plate tray_side() {
    // A finger in the middle third of each end, two tabs below.
    const double u = end_x - thin / 2.0, finger = end_x + thin / 2.0, third = tray_height / 3.0;
    const double tab = tray_tab / 2.0, x = side_tab_x;
    const TopoDS_Wire outer = Outline({-u, 0.0})
                                  .line_to(-x - tab, 0.0)
                                  .line_to(-x - tab, -thick)
                                  .line_to(-x + tab, -thick)
                                  .line_to(-x + tab, 0.0)
                                  .line_to(x - tab, 0.0)
                                  .line_to(x - tab, -thick)
                                  .line_to(x + tab, -thick)
                                  .line_to(x + tab, 0.0)
                                  .line_to(u, 0.0)
                                  .line_to(u, third)
                                  .line_to(finger, third)
                                  .line_to(finger, 2.0 * third)
                                  .line_to(u, 2.0 * third)
                                  .line_to(u, tray_height)
                                  .line_to(-u, tray_height)
                                  .line_to(-u, 2.0 * third)
                                  .line_to(-finger, 2.0 * third)
                                  .line_to(-finger, third)
                                  .line_to(-u, third)
                                  .close();
    return {"tray side", moss, sheet(outer, {}, thin)};
}

Plate tray_end() {
    // Fingers in the lower and the upper third of each end, round those of the sides.
    const double u = side_y - thin / 2.0, finger = side_y + thin / 2.0, third = tray_height / 3.0;
    const double tab = tray_tab / 2.0, y = end_tab_y;
    const TopoDS_Wire outer = Outline({-finger, 0.0})
                                  .line_to(-y - tab, 0.0)
                                  .line_to(-y - tab, -thick)
                                  .line_to(-y + tab, -thick)
                                  .line_to(-y + tab, 0.0)
                                  .line_to(y - tab, 0.0)
                                  .line_to(y - tab, -thick)
                                  .line_to(y + tab, -thick)
                                  .line_to(y + tab, 0.0)
                                  .line_to(finger, 0.0)
                                  .line_to(finger, third)
                                  .line_to(u, third)
                                  .line_to(u, 2.0 * third)
                                  .line_to(finger, 2.0 * third)
                                  .line_to(finger, tray_height)
                                  .line_to(-finger, tray_height)
                                  .line_to(-finger, 2.0 * third)
                                  .line_to(-u, 2.0 * third)
                                  .line_to(-u, third)
                                  .line_to(-finger, third)
                                  .close();
    return {"tray end", moss, sheet(outer, {}, thin)};
}

Plate roof_panel() {
    // v runs down the slope from the ridge; the upper edge keeps 1 mm from it.
    const double half = 90.0, top = 1.0, bottom = slope_length() + 14.0, radius = 10.0;
    const TopoDS_Wire outer = Outline({-half, top})
                                  .line_to(half, top)
                                  .line_to(half, bottom - radius)
                                  .arc({half - radius, bottom - radius}, pi / 2)
                                  .line_to(-half + radius, bottom)
                                  .arc({-half + radius, bottom - radius}, pi / 2)
                                  .close();
    const double v = slope_length() - roof_tab_start - roof_tab / 2.0;
    return {
        "roof panel", brick,
        sheet(outer,
              {rectangle({-gable_x, v}, thick, roof_tab), rectangle({gable_x, v}, thick, roof_tab)},
              thin)};
}

Plate hanger() {
    // The tab above v = 0 goes up through the tray floor; the hook is a half ring with a round end.
    const double tab = hanger_tab / 2.0;
    const Point2 ring(10.0, -40.0);
    const TopoDS_Wire outer = Outline({-4.0, -10.0})
                                  .line_to(-4.0, -40.0)
                                  .arc(ring, pi)
                                  .arc({20.0, -40.0}, pi)
                                  .arc(ring, -pi)
                                  .line_to(4.0, -10.0)
                                  .line_to(9.0, -10.0)
                                  .line_to(9.0, 0.0)
                                  .line_to(tab, 0.0)
                                  .line_to(tab, thick)
                                  .line_to(-tab, thick)
                                  .line_to(-tab, 0.0)
                                  .line_to(-9.0, 0.0)
                                  .line_to(-9.0, -10.0)
                                  .close();
    return {"hanger", steel, sheet(outer, {}, thin)};
}

Plate perch_disc() {
    return {"perch disc", cream,
            sheet(circle({0, 0}, entrance_radius + 8.0), {circle({0, 0}, entrance_radius)}, thin)};
}

}  // namespace planform::demo
