#include <BRep_Builder.hxx>
#include <TopoDS_Compound.hxx>
#include <cmath>

#include "curve/angles.hpp"
#include "demo/outlines.hpp"
#include "demo/plates.hpp"
#include "demo/sheet.hpp"

namespace planform::demo {

using namespace dimensions;

namespace {

/// A digit, 20 mm high about its middle: the cut-out and the counters that lie loose in it.
struct Digit {
    TopoDS_Wire cut_out;
    std::vector<TopoDS_Wire> counters;
};

constexpr double stroke = 3.0;

Digit zero(const Point2& at) {
    return {ellipse(at, 7.0, 10.0), {ellipse(at, 7.0 - stroke, 10.0 - stroke)}};
}

/// Two rings, one on the other. The outline's corners are where the outer circles meet.
Digit eight(const Point2& at) {
    const double low_radius = 5.75, high_radius = 4.75;
    const Point2 low = at + Vector2(0.0, low_radius - 10.0);
    const Point2 high = at + Vector2(0.0, 10.0 - high_radius);
    const double distance = high.y() - low.y();
    // Height of the common chord above the lower centre: two circles' radical line.
    const double rise =
        (distance * distance + low_radius * low_radius - high_radius * high_radius) /
        (2.0 * distance);
    const double half_chord = std::sqrt(low_radius * low_radius - rise * rise);
    const double low_opening = 2.0 * std::atan2(half_chord, rise);
    const double high_opening = 2.0 * std::atan2(half_chord, distance - rise);
    return {Outline(low + Vector2(-half_chord, rise))
                .arc(low, full_turn - low_opening)
                .arc(high, full_turn - high_opening)
                .close(),
            {circle(low, low_radius - stroke), circle(high, high_radius - stroke)}};
}

/// A ring with a stroke that leaves it tangentially on the left; `turned` by half a turn it is a
/// nine.
Digit six(const Point2& at, bool turned) {
    const double sign = turned ? -1.0 : 1.0;
    const double bowl_radius = 6.0, tail_radius = 14.0;
    const Point2 bowl = at + sign * Vector2(0.0, -4.0);
    const Point2 tail = bowl + sign * Vector2(tail_radius - bowl_radius, 0.0);
    const double inner = tail_radius - stroke, distance = tail_radius - bowl_radius;
    // Where the inside of the tail meets the bowl: two circles' radical line.
    const double x =
        (distance * distance + bowl_radius * bowl_radius - inner * inner) / (2.0 * distance);
    const double y = std::sqrt(bowl_radius * bowl_radius - x * x);
    const double meeting_angle = std::atan2(y, x);          // seen from the bowl's centre
    const double tail_angle = std::atan2(y, x - distance);  // seen from the tail's centre
    const double end_angle = 110.0 * pi / 180.0;            // where the tail ends
    const Vector2 end(std::cos(end_angle), std::sin(end_angle));
    const Point2 end_outer = tail + sign * tail_radius * end;

    Outline outline(bowl + sign * Vector2(-bowl_radius, 0.0));
    outline.arc(bowl, pi + meeting_angle)
        .arc(tail, end_angle - tail_angle)
        .line_to(end_outer.x(), end_outer.y())
        .arc(tail, pi - end_angle);
    return {outline.close(), {circle(bowl, bowl_radius - stroke)}};
}

}  // namespace

Plate house_number() {
    const Digit digits[] = {zero({-36.0, 0.0}), six({-12.0, 0.0}, false), eight({12.0, 0.0}),
                            six({36.0, 0.0}, true)};
    std::vector<TopoDS_Wire> holes;
    for (const Digit& digit : digits) holes.push_back(digit.cut_out);
    for (const double x : {-51.0, 51.0}) holes.push_back(circle({x, 0.0}, 1.5));

    const BRep_Builder builder;
    TopoDS_Compound part;
    builder.MakeCompound(part);
    builder.Add(part, sheet(rounded_rectangle({0, 0}, 112.0, 28.0, 4.0), holes, thin));
    for (const Digit& digit : digits) {
        for (const TopoDS_Wire& counter : digit.counters)
            builder.Add(part, sheet(counter, {}, thin));
    }
    return {"house number", {0.20, 0.30, 0.55}, part};
}

}  // namespace planform::demo
