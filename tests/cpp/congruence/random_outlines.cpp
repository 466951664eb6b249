#include "congruence/random_outlines.hpp"

#include <algorithm>
#include <cmath>

namespace outlines {

using namespace planform;

namespace {

double between(std::mt19937_64& random, double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
}
int whole(std::mt19937_64& random, int low, int high) {
    return std::uniform_int_distribution<int>(low, high)(random);
}

Point2 polar(double radius, double angle) {
    return {radius * std::cos(angle), radius * std::sin(angle)};
}

Contour circle(const Point2& centre, double radius) {
    return Contour({Arc{centre, radius, 0.0, 2.0 * pi}});
}

/// Two half circles joined by lines.
Contour slot(const Point2& centre, double length, double radius, double angle) {
    const Vector2 along = polar(length / 2.0, angle);
    const Vector2 across = polar(radius, angle + pi / 2.0);
    const Point2 left = centre - along, right = centre + along;
    return Contour({Line{left - across, right - across}, Arc{right, radius, angle - pi / 2.0, pi},
                    Line{right + across, left + across}, Arc{left, radius, angle + pi / 2.0, pi}});
}

/// A smooth blob: one closed cubic, its ends in one point.
Contour blob(const Point2& centre, double size, std::mt19937_64& random) {
    Spline spline;
    spline.degree = 3;
    const Point2 start = centre + Vector2(size, 0.0);
    spline.poles = {start};
    for (int i = 1; i < 6; ++i)
        spline.poles.push_back(centre + polar(size * between(random, 0.8, 1.3), i * pi / 3.0));
    spline.poles.push_back(start);
    spline.knots = {0, 0, 0, 0, 0.25, 0.5, 0.75, 1, 1, 1, 1};
    return Contour({Curve(spline)});
}

/// A ring of corners at the given polar places, some sides bulged to arcs.
Contour ring_of(const std::vector<Point2>& corners, const std::vector<double>& bulges) {
    std::vector<Curve> curves;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Point2& start = corners[i];
        const Point2& end = corners[(i + 1) % corners.size()];
        const double bulge = bulges[i];
        if (bulge == 0.0) {
            curves.push_back(Line{start, end});
            continue;
        }
        // An arc over the chord: bulge is the tangent of a quarter of its sweep.
        const Vector2 chord = end - start;
        const double sweep = 4.0 * std::atan(bulge);
        const double radius = chord.norm() / (2.0 * std::sin(std::abs(sweep) / 2.0));
        const Vector2 left(-chord.y(), chord.x());
        const double height = (1.0 - bulge * bulge) / (4.0 * bulge);
        const Point2 centre = (start + end) / 2.0 + height * left;
        const Vector2 from = start - centre;
        curves.push_back(Arc{centre, radius, std::atan2(from.y(), from.x()), sweep});
    }
    return Contour(curves);
}

struct Plan {
    std::vector<Point2> corners;
    std::vector<double> bulges;
    std::vector<Contour> holes;
};

/// Nothing alike anywhere: no symmetry.
Plan plain_plan(std::mt19937_64& random) {
    Plan plan;
    const int corners = whole(random, 3, 12);
    for (int i = 0; i < corners; ++i) {
        plan.corners.push_back(polar(between(random, 40.0, 60.0),
                                     2.0 * pi * (i + between(random, -0.25, 0.25)) / corners));
        plan.bulges.push_back(whole(random, 0, 2) == 0 ? between(random, 0.02, 0.08) : 0.0);
    }
    const int holes = whole(random, 1, 8);
    for (int i = 0; i < holes; ++i) {
        const Point2 place = polar(between(random, 9.0, 14.0), 2.0 * pi * i / holes);
        const int kind = whole(random, 0, 3);
        if (kind <= 1)
            plan.holes.push_back(circle(place, between(random, 0.5, 2.0)));
        else if (kind == 2)
            plan.holes.push_back(slot(place, between(random, 1.0, 2.0), between(random, 0.3, 0.6),
                                      between(random, 0.0, pi)));
        else
            plan.holes.push_back(blob(place, between(random, 0.8, 1.4), random));
    }
    return plan;
}

/// `fold` copies of one sector round the centre: a gear, a flange; each copy its own mirror image
/// if asked.
Plan turned_plan(std::mt19937_64& random, bool mirror) {
    Plan plan;
    const int fold = whole(random, 2, 30);
    const double step = 2.0 * pi / fold;
    const double outer = between(random, 45.0, 60.0), inner = between(random, 35.0, 44.0);
    const double lean = mirror ? 0.5 : between(random, 0.2, 0.35);
    const double hole = std::min(0.3 * 12.0 * step, 2.0);
    for (int i = 0; i < fold; ++i) {
        plan.corners.push_back(polar(outer, i * step));
        plan.corners.push_back(polar(inner, (i + lean) * step));
        plan.bulges.insert(plan.bulges.end(), {0.0, 0.0});
        plan.holes.push_back(circle(polar(12.0, i * step), hole));
    }
    if (fold == 2) {
        // Two corners more, so that it is no strip.
        plan.corners = {polar(outer, 0.0), polar(inner, lean * pi), polar(outer, pi),
                        polar(inner, (1.0 + lean) * pi)};
        plan.bulges.assign(4, 0.0);
    }
    return plan;
}

/// One half and its mirror image in the x axis.
Plan halved_plan(std::mt19937_64& random) {
    Plan plan;
    const int corners = whole(random, 2, 6);
    std::vector<Point2> upper;
    for (int i = 0; i < corners; ++i)
        upper.push_back(polar(between(random, 40.0, 60.0),
                              pi * (i + 0.5 + between(random, -0.25, 0.25)) / corners));
    plan.corners = upper;
    for (auto corner = upper.rbegin(); corner != upper.rend(); ++corner)
        plan.corners.emplace_back(corner->x(), -corner->y());
    plan.bulges.assign(plan.corners.size(), 0.0);
    const double y = between(random, 5.0, 9.0), radius = between(random, 0.5, 2.0);
    const double x = between(random, -9.0, 9.0);
    plan.holes.push_back(circle({x, y}, radius));
    plan.holes.push_back(circle({x, -y}, radius));
    if (whole(random, 0, 1) == 1) plan.holes.push_back(slot({-14.0, 0.0}, 3.0, 1.0, 0.0));
    return plan;
}

Plan ring_plan(std::mt19937_64& random) {
    Plan plan;
    plan.holes.push_back(circle({0.0, 0.0}, between(random, 5.0, 20.0)));
    return plan;
}

std::vector<Curve> split_anew(const std::vector<Curve>& curves, std::mt19937_64& random) {
    std::vector<Curve> pieces;
    for (const Curve& curve : curves) {
        const Interval range = domain(curve);
        const int parts = whole(random, 1, 3);
        double from = range.first;
        for (int i = 1; i <= parts; ++i) {
            const double to = i == parts
                                  ? range.last
                                  : range.first + (range.last - range.first) *
                                                      (i + between(random, -0.3, 0.3)) / parts;
            pieces.push_back(trimmed(curve, from, to));
            from = to;
        }
    }
    std::rotate(pieces.begin(),
                pieces.begin() + whole(random, 0, static_cast<int>(pieces.size()) - 1),
                pieces.end());
    return pieces;
}

Contour written_anew(const Contour& contour, std::mt19937_64& random) {
    return Contour(split_anew(contour.curves(), random));
}

}  // namespace

Drawn random_drawn(std::mt19937_64& random) {
    const int kind = whole(random, 0, 9);
    const bool mirror = kind >= 5;
    const Plan plan = kind <= 3   ? plain_plan(random)
                      : kind <= 5 ? turned_plan(random, mirror)
                      : kind <= 8 ? halved_plan(random)
                                  : ring_plan(random);
    const Contour outer =
        plan.corners.empty() ? circle({0.0, 0.0}, 50.0) : ring_of(plan.corners, plan.bulges);
    return {ProfileSet({Profile(outer, plan.holes)}), mirror};
}

Transform2 random_motion(std::mt19937_64& random, bool mirrored) {
    Transform2 motion = Transform2::Identity();
    motion.translate(Vector2(between(random, -500.0, 500.0), between(random, -500.0, 500.0)));
    motion.rotate(between(random, 0.0, 2.0 * pi));
    if (mirrored) motion.scale(Vector2(1.0, -1.0));
    return motion;
}

ProfileSet written_anew(const ProfileSet& set, const Transform2& motion, std::mt19937_64& random) {
    const ProfileSet moved = set.transformed(motion);
    std::vector<Profile> profiles;
    for (const Profile& profile : moved.profiles()) {
        std::vector<Contour> holes;
        for (const Contour& hole : profile.holes()) holes.push_back(written_anew(hole, random));
        std::shuffle(holes.begin(), holes.end(), random);
        profiles.emplace_back(written_anew(profile.outer(), random), holes);
    }
    return ProfileSet(profiles);
}

ProfileSet with_moved_hole(const ProfileSet& set, double distance) {
    const Profile& profile = set.profiles().front();
    std::vector<Contour> holes = profile.holes();
    Transform2 shift = Transform2::Identity();
    const Vector2 out = holes.front().bounds().center() - profile.bounds().center();
    shift.translate(out.norm() > 1.0 ? Vector2(distance * out.normalized())
                                     : Vector2(distance, 0.0));
    holes.front() = holes.front().transformed(shift);
    return ProfileSet({Profile(profile.outer(), holes)});
}

}  // namespace outlines
