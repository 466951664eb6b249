#include "unfold/blank.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "arrange/arrange.hpp"
#include "planform/part_view.hpp"
#include "unfold/refusals.hpp"

namespace planform::unfolding {

namespace {

/// Neighbours on one line or circle become one within this, mm: the confusion of common modellers.
constexpr double one_carrier = 1e-7;
/// Ends of curves nearer than this share of the size meet as they stand.
constexpr double meeting_share = 1e-9;

/// Lengthens the first by the second if both lie on one line or circle and run the same way.
bool lengthen(Curve& first, const Curve& second) {
    if (Line* line = std::get_if<Line>(&first)) {
        const Line* more = std::get_if<Line>(&second);
        if (!more) return false;
        const Vector2 one = line->end - line->start, other = more->end - more->start;
        const Vector2 chord = more->end - line->start;
        if (!(one.dot(other) > 0.0) || !(chord.norm() > 0.0)) return false;
        if (std::abs(cross(chord, one)) > one_carrier * chord.norm()) return false;
        line->end = more->end;
        return true;
    }
    if (Arc* arc = std::get_if<Arc>(&first)) {
        const Arc* more = std::get_if<Arc>(&second);
        if (!more || arc->sweep * more->sweep <= 0.0) return false;
        if (std::abs(arc->sweep + more->sweep) > 2.0 * pi) return false;
        if ((arc->center - more->center).norm() > one_carrier ||
            std::abs(arc->radius - more->radius) > one_carrier)
            return false;
        arc->sweep += more->sweep;
        return true;
    }
    return false;
}

bool can_move_ends(const Curve& curve) {
    return std::holds_alternative<Line>(curve) || std::holds_alternative<Spline>(curve);
}

class LoopMaker {
  public:
    explicit LoopMaker(const Development& development)
        : d_(development), meeting_(meeting_share * development.body.size) {}

    std::vector<std::vector<CutCurve>> run() {
        std::vector<bool> taken(d_.sides.size(), false);
        std::vector<std::vector<CutCurve>> loops;
        for (std::size_t i = 0; i < d_.sides.size(); ++i) {
            if (taken[i] || d_.sides[i].twin >= 0) continue;
            std::vector<CutCurve> loop;
            int at = static_cast<int>(i);
            while (!taken[static_cast<std::size_t>(at)]) {
                taken[static_cast<std::size_t>(at)] = true;
                append(loop, at);
                at = next_cut(at);
            }
            close(loop);
            if (!loop.empty()) loops.push_back(std::move(loop));
        }
        return loops;
    }

  private:
    /// The next side that is cut, across joints.
    int next_cut(int side) const {
        int next = d_.side(side).next;
        while (d_.side(next).twin >= 0) next = d_.side(d_.side(next).twin).next;
        return next;
    }

    void append(std::vector<CutCurve>& loop, int index) const {
        const Side& side = d_.side(index);
        for (const Curve& flat : side.curves) {
            Curve curve = transformed(flat, d_.panel(side.panel).placement);
            if (!loop.empty()) {
                meet(loop.back().curve, curve, loop, loop.back().side);
                if (lengthen(loop.back().curve, curve)) continue;
            }
            loop.push_back({std::move(curve), index});
        }
    }

    /// Lets the second begin where the first ends.
    void meet(Curve& first, Curve& second, std::vector<CutCurve>& loop, int side) const {
        const Point2 end = end_point(first), start = start_point(second);
        const double gap = (end - start).norm();
        if (gap <= meeting_) return;
        if (gap > d_.tolerance + 1e-6 * d_.body.size)
            throw GeometryError(
                ErrorKind::law_broken,
                "the blank does not close at face " +
                    std::to_string(d_.body.number(d_.panel(d_.side(side).panel).face())) +
                    ": its panels miss each other by " + std::to_string(gap) +
                    " mm; repair the solid where it was drawn");
        if (can_move_ends(second)) {
            second = with_ends(second, end, end_point(second));
        } else if (can_move_ends(first)) {
            first = with_ends(first, start_point(first), start);
        } else {
            loop.push_back({Line{end, start}, side});
        }
    }

    void close(std::vector<CutCurve>& loop) const {
        if (loop.empty()) return;
        const std::size_t count = loop.size();
        Curve first = loop.front().curve;
        Curve last = loop.back().curve;
        if (count > 1) {
            meet(last, first, loop, loop.back().side);
            loop[count - 1].curve = last;
            loop.front().curve = first;
            if (loop.size() == count && lengthen(last, first)) {
                loop.front().curve = last;
                loop.pop_back();
            }
        }
    }

    const Development& d_;
    double meeting_;
};

std::vector<Curve> curves_of(const std::vector<CutCurve>& loop) {
    std::vector<Curve> curves;
    for (const CutCurve& cut : loop) curves.push_back(cut.curve);
    return curves;
}

void transform_all(Development& development, const Transform2& motion) {
    for (Panel& panel : development.panels) panel.placement = motion * panel.placement;
}

/// Where the loops lie on each other, as outlines.
std::optional<ProfileSet> overlap_of(const std::vector<Contour>& contours, const Datum& datum,
                                     double tolerance) {
    arrange::Input input;
    for (const Contour& contour : contours) {
        const int first = static_cast<int>(input.nodes.size());
        const int count = static_cast<int>(contour.curves().size());
        for (int i = 0; i < count; ++i) {
            const Curve& curve = contour.curves()[static_cast<std::size_t>(i)];
            input.nodes.push_back(start_point(curve));
            input.curves.push_back({curve, first + i, first + (i + 1) % count, 1, 0, 0});
        }
    }
    arrange::Options options;
    options.tolerance = tolerance;
    options.inside = [](const arrange::Winding& winding) { return winding[0] > 1; };
    std::vector<Profile> profiles;
    try {
        for (const arrange::Loop& loop : arrange::arrange(input, options))
            if (!loop.hole)
                profiles.emplace_back(Contour(loop.curves, {}, Validate::no),
                                      std::vector<Contour>{}, std::string(), -1, Validate::no);
    } catch (const GeometryError&) {
        return std::nullopt;
    }
    if (profiles.empty()) return std::nullopt;
    return ProfileSet(std::move(profiles), {}, datum, tolerance, "overlap", {}, Validate::no);
}

[[noreturn]] void refuse_overlap(const Development& development,
                                 const std::vector<Contour>& contours, const Datum& datum) {
    UnfoldRefusal refusal;
    refusal.reason = NotUnfolded::overlaps;
    refusal.overlap = overlap_of(contours, datum, development.tolerance);
    std::vector<Profile> profiles;
    for (const Contour& contour : contours)
        profiles.emplace_back(contour, std::vector<Contour>{}, std::string(), -1, Validate::no);
    refusal.outline =
        ProfileSet(std::move(profiles), {}, datum, development.tolerance, "", {}, Validate::no);
    std::string where;
    if (refusal.overlap) {
        const Box2 box = refusal.overlap->bounds();
        const Point2 middle = box.center();
        refusal.place = datum.to_model(middle);
        // The walls that lie there, by the sides that end next to it.
        double nearest = INFINITY;
        for (const Side& side : development.sides) {
            const Panel& panel = development.panel(side.panel);
            const double distance = (panel.in_blank(side.start) - middle).norm();
            if (distance < nearest) {
                nearest = distance;
                refusal.faces = {development.body.number(panel.face())};
            }
        }
        char text[160];
        std::snprintf(text, sizeof text,
                      " by %.3g x %.3g mm about (%.3f, %.3f) mm of the blank, at face %d",
                      box.sizes().x(), box.sizes().y(), middle.x(), middle.y(),
                      refusal.faces.empty() ? 0 : refusal.faces.front());
        where = text;
    }
    refusal.text =
        "its blank would lie on itself" + where + "; make a wall shorter, or make it of two pieces";
    throw Refused{std::move(refusal)};
}

}  // namespace

std::vector<std::vector<CutCurve>> cut_loops(const Development& development) {
    return LoopMaker(development).run();
}

Datum settle_frame(Development& development, const Transform3& part) {
    const Panel& root = development.panel(development.root);
    const Panel::Frame frame = root.frame();
    // Which way x runs, in the plane of the root.
    Vector3 x;
    if (root.is_curved()) {
        // Along the turn; the axis upwards, whichever way the model has it.
        Vector3 up_the_page = root.kind() == SurfaceKind::cone ? frame.x : root.axis();
        if (root.kind() != SurfaceKind::cone)
            for (int i = 0; i < 3; ++i)
                if (std::abs(up_the_page[i]) > 1e-6) {
                    if (up_the_page[i] < 0.0) up_the_page = -up_the_page;
                    break;
                }
        x = up_the_page.cross(frame.up);
    } else {
        x = seen_from(frame.up, part, frame.place).x();
    }
    const Vector3 y = frame.up.cross(frame.x);
    const double turn = -std::atan2(x.dot(y), x.dot(frame.x));
    Transform2 motion = Transform2::Identity();
    motion.linear() = Eigen::Rotation2Dd(turn).toRotationMatrix();
    transform_all(development, motion * root.placement.inverse());

    Box2 box;
    for (const Side& side : development.sides)
        if (side.twin < 0)
            for (const Curve& curve : side.curves)
                box.extend(bounds(transformed(curve, development.panel(side.panel).placement)));
    Transform2 shift = Transform2::Identity();
    shift.translation() = -box.min();
    transform_all(development, shift);

    const Panel& settled = development.panel(development.root);
    const Point2 here = settled.placement * frame.flat;
    const Vector2 ahead = settled.placement.linear() * Vector2(1.0, 0.0);
    // The model's directions of the blank's x and y.
    const Vector3 blank_x = ahead.x() * frame.x - ahead.y() * y;
    const Vector3 blank_y = frame.up.cross(blank_x);
    const Point3 origin = frame.place - here.x() * blank_x - here.y() * blank_y -
                          0.5 * development.skin.thickness * frame.up;
    return Datum(origin, frame.up, blank_x);
}

Profile profile_of(const Development& development, const std::vector<std::vector<CutCurve>>& loops,
                   const Datum& datum, const std::string& name) {
    std::vector<Contour> contours;
    for (const std::vector<CutCurve>& loop : loops) {
        std::vector<Provenance> provenance;
        for (const CutCurve& cut : loop) {
            const int number = development.body.edge_number(development.side(cut.side).edge);
            provenance.push_back(number > 0 ? Provenance{Provenance::Kind::edge, 0, number}
                                            : Provenance{});
        }
        contours.emplace_back(curves_of(loop), std::move(provenance), Validate::no);
    }
    const auto outer =
        std::max_element(contours.begin(), contours.end(),
                         [](const Contour& a, const Contour& b) { return a.area() < b.area(); });
    const bool falls_apart =
        outer == contours.end() || !(outer->area() > 0.0) ||
        std::count_if(contours.begin(), contours.end(),
                      [](const Contour& contour) { return contour.area() > 0.0; }) != 1;
    if (falls_apart) refuse_overlap(development, contours, datum);
    std::vector<Contour> holes;
    try {
        Contour checked(outer->curves(), outer->provenance());
        for (auto contour = contours.begin(); contour != contours.end(); ++contour)
            if (contour != outer) holes.emplace_back(contour->curves(), contour->provenance());
        return Profile(std::move(checked), std::move(holes), name);
    } catch (const GeometryError& error) {
        switch (error.kind()) {
            case ErrorKind::contour_crosses_itself:
            case ErrorKind::hole_not_inside:
            case ErrorKind::holes_overlap:
                refuse_overlap(development, contours, datum);
            default:
                throw;
        }
    }
}

}  // namespace planform::unfolding
