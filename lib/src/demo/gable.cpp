#include <cmath>

#include "demo/outlines.hpp"
#include "demo/plates.hpp"
#include "demo/sheet.hpp"

namespace planform::demo {

using namespace dimensions;

/// The gable: a straight base with two tabs, waisted sides (splines), straight slopes with a tab
/// for the roof panels each, and a round top (an arc tangent to both slopes).
Plate gable() {
    const double foot = 60.0, tab = tray_tab / 2.0, y = gable_tab_y, top_radius = 20.0;
    const Vector2 up(-std::cos(roof_slope), std::sin(roof_slope));  // along the right slope
    const Vector2 out(std::sin(roof_slope), std::cos(roof_slope));  // square to it
    const Point2 eave(eave_y, eave_height);
    const Point2 center(0.0, ridge_height() - top_radius / std::cos(roof_slope));
    const Point2 tangent = center + top_radius * out;

    const Point2 low = eave + roof_tab_start * up;
    const Point2 high = low + roof_tab * up;
    const Point2 low_out = low + thin * out, high_out = high + thin * out;

    Outline outline({-foot, 0.0});
    outline.line_to(-y - tab, 0.0)
        .line_to(-y - tab, -thick)
        .line_to(-y + tab, -thick)
        .line_to(-y + tab, 0.0)
        .line_to(y - tab, 0.0)
        .line_to(y - tab, -thick)
        .line_to(y + tab, -thick)
        .line_to(y + tab, 0.0)
        .line_to(foot, 0.0)
        .spline({{foot, 16.0}, {48.0, 34.0}, {50.0, 58.0}, {62.0, 66.0}, eave})
        .line_to(low.x(), low.y())
        .line_to(low_out.x(), low_out.y())
        .line_to(high_out.x(), high_out.y())
        .line_to(high.x(), high.y())
        .line_to(tangent.x(), tangent.y())
        .arc(center, 2.0 * roof_slope)
        .line_to(-high.x(), high.y())
        .line_to(-high_out.x(), high_out.y())
        .line_to(-low_out.x(), low_out.y())
        .line_to(-low.x(), low.y())
        .line_to(-eave.x(), eave.y())
        .spline({{-62.0, 66.0}, {-50.0, 58.0}, {-48.0, 34.0}, {-foot, 16.0}, {-foot, 0.0}});
    return {
        "gable",
        {0.93, 0.89, 0.78},
        sheet(outline.close(),
              {circle({0.0, entrance_height}, entrance_radius), circle({0.0, 36.0}, 4.0)}, thick)};
}

}  // namespace planform::demo
