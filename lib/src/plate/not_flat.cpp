#include "plate/not_flat.hpp"

#include <algorithm>
#include <cmath>

#include "curve/angles.hpp"
#include "plate/text.hpp"

namespace planform::plate {

namespace {

/// A thickness is the same within this share of it, and never closer than a micrometre: sheets are
/// drawn with one number, offset surfaces are rounded.
constexpr double same_thickness = 0.02;
constexpr double least_difference = 1e-3;
/// Coaxial: axes closer than this, mm and rad.
constexpr double coaxial_within = 1e-3;
/// A wall at an angle counts from this share of the slab's side on, and from this many squares of
/// the thickness: smaller ones are bosses.
constexpr double least_wing = 0.02;
constexpr double least_wing_squares = 4.0;
/// The wall of a folded sheet has an area of more squares of its thickness.
constexpr double least_wall_squares = 16.0;
/// Past the sheet by this share of the thickness counts as beyond it.
constexpr double beyond_share = 0.5;
/// Above this angle two faces are the sides of something else than a wedge.
constexpr double greatest_wedge = pi / 6.0;
/// Of the walls' area.
constexpr double mostly = 0.5;
/// Share of a surface that must be curved for a turned part: less, and it is something with holes.
constexpr double least_curved = 0.1;

bool is_same_thickness(double a, double b) {
    return std::abs(a - b) <= std::max(least_difference, same_thickness * b);
}

bool are_parallel(const Vector3& a, const Vector3& b) {
    return a.cross(b).norm() <= coaxial_within;
}

double distance_to_axis(const Point3& point, const Point3& on_axis, const Vector3& axis) {
    const Vector3 apart = point - on_axis;
    return (apart - apart.dot(axis) * axis).norm();
}

bool are_coaxial(const Cylinder& a, const Cylinder& b) {
    return are_parallel(a.axis, b.axis) &&
           distance_to_axis(a.point, b.point, b.axis) <= coaxial_within;
}

/// How far a face reaches past the slab.
bool reaches_beyond(const TopoDS_Face& face, const Slab& slab) {
    const Box3 box = model::box_in(slab.datum, face);
    const double margin = beyond_share * slab.thickness();
    return box.max().z() > slab.top + margin || box.min().z() < slab.bottom - margin;
}

std::optional<Refusal> bend_between_cylinders(const std::vector<FaceFacts>& faces,
                                              const Slab& slab) {
    for (const FaceFacts& outer : faces) {
        if (!outer.cylinder || outer.cylinder->hollow ||
            are_parallel(outer.cylinder->axis, slab.datum.normal()))
            continue;
        for (const FaceFacts& inner : faces) {
            if (!inner.cylinder || !inner.cylinder->hollow ||
                !are_coaxial(*outer.cylinder, *inner.cylinder) ||
                !is_same_thickness(outer.cylinder->radius - inner.cylinder->radius,
                                   slab.thickness()))
                continue;
            return Refusal{NotFlat::bent_sheet,
                           "a bend between coaxial cylinders of radius " +
                               millimetres(inner.cylinder->radius) + " and " +
                               millimetres(outer.cylinder->radius) + " joins walls of " +
                               millimetres(slab.thickness()) + "; unfold it where it was drawn"};
        }
    }
    return std::nullopt;
}

/// Do two parallel faces lie over each other, seen along their normal? By their boxes.
bool face_each_other(const FaceFacts& a, const FaceFacts& b) {
    const Datum datum(a.plane->point, a.plane->outward);
    const Box3 first = model::box_in(datum, a.face);
    const Box3 second = model::box_in(datum, b.face);
    const double overlap_x =
        std::min(first.max().x(), second.max().x()) - std::max(first.min().x(), second.min().x());
    const double overlap_y =
        std::min(first.max().y(), second.max().y()) - std::max(first.min().y(), second.min().y());
    return overlap_x > 0.0 && overlap_y > 0.0;
}

std::optional<Refusal> wall_at_an_angle(const std::vector<FaceFacts>& faces, const Slab& slab) {
    const double t = slab.thickness();
    const double least = std::max(least_wing * slab.area, least_wing_squares * t * t);
    std::vector<const FaceFacts*> walls;
    for (const FaceFacts& face : faces)
        if (face.plane && face.area >= least && reaches_beyond(face.face, slab) &&
            face.plane->outward.cross(slab.datum.normal()).norm() > same_direction)
            walls.push_back(&face);
    for (const FaceFacts* front : walls) {
        for (const FaceFacts* back : walls) {
            const Vector3& outward = front->plane->outward;
            if ((outward + back->plane->outward).norm() > same_direction) continue;
            const double distance = (front->plane->point - back->plane->point).dot(outward);
            if (!is_same_thickness(distance, t) || !face_each_other(*front, *back)) continue;
            const double angle =
                std::acos(std::clamp(std::abs(outward.dot(slab.datum.normal())), 0.0, 1.0));
            return Refusal{NotFlat::bent_sheet, "walls of " + millimetres(t) + " stand at " +
                                                    degrees(angle) +
                                                    " to each other; unfold it where it was drawn"};
        }
    }
    return std::nullopt;
}

}  // namespace

std::optional<Refusal> find_bend(const std::vector<FaceFacts>& faces, const Slab& slab) {
    if (slab.beyond() <= beyond_share * slab.thickness()) return std::nullopt;
    if (auto bend = bend_between_cylinders(faces, slab)) return bend;
    return wall_at_an_angle(faces, slab);
}

namespace {

/// A planar face and the distance through the material to the nearest face opposite.
struct Wall {
    const FaceFacts* face;
    double thickness;
};

std::vector<Wall> thin_walls(const std::vector<FaceFacts>& faces) {
    const double least = least_wing * surface_area(faces);
    std::vector<Wall> walls;
    for (const FaceFacts& front : faces) {
        if (!front.plane || front.area < least) continue;
        double thickness = INFINITY;
        for (const FaceFacts& back : faces) {
            if (!back.plane || back.area < least) continue;
            const Vector3& outward = front.plane->outward;
            if ((outward + back.plane->outward).norm() > same_direction) continue;
            const double distance = (front.plane->point - back.plane->point).dot(outward);
            if (distance > 0.0 && distance < thickness && face_each_other(front, back))
                thickness = distance;
        }
        // As broad as high or narrower, and it is the end of something.
        if (front.area > least_wall_squares * thickness * thickness)
            walls.push_back({&front, thickness});
    }
    return walls;
}

}  // namespace

std::optional<Refusal> find_folded_sheet(const std::vector<FaceFacts>& faces) {
    const std::vector<Wall> walls = thin_walls(faces);
    const double whole = surface_area(faces);
    for (const Wall& wall : walls) {
        double area = 0.0, angle = 0.0;
        for (const Wall& other : walls) {
            if (!is_same_thickness(other.thickness, wall.thickness)) continue;
            area += other.face->area;
            const double cosine =
                std::abs(other.face->plane->outward.dot(wall.face->plane->outward));
            angle = std::max(angle, std::acos(std::clamp(cosine, 0.0, 1.0)));
        }
        if (angle <= same_direction || area < mostly * whole) continue;
        return Refusal{NotFlat::bent_sheet, "walls of " + millimetres(wall.thickness) +
                                                " stand at " + degrees(angle) +
                                                " to each other; unfold it where it was drawn"};
    }
    return std::nullopt;
}

std::optional<Refusal> find_rolled_sheet(const std::vector<FaceFacts>& faces) {
    const double whole = surface_area(faces);
    const double open = full_turn - 0.01;
    for (const FaceFacts& outer : faces) {
        if (!outer.cylinder || outer.cylinder->hollow || outer.cylinder->sweep > open) continue;
        for (const FaceFacts& inner : faces) {
            if (!inner.cylinder || !inner.cylinder->hollow || inner.cylinder->sweep > open ||
                !are_coaxial(*outer.cylinder, *inner.cylinder) ||
                outer.area + inner.area < mostly * whole)
                continue;
            return Refusal{NotFlat::bent_sheet,
                           "coaxial cylinders of radius " + millimetres(inner.cylinder->radius) +
                               " and " + millimetres(outer.cylinder->radius) +
                               " make most of its surface: a rolled sheet of " +
                               millimetres(outer.cylinder->radius - inner.cylinder->radius) +
                               "; unfold it where it was drawn"};
        }
    }
    return std::nullopt;
}

std::optional<Refusal> find_draft(const std::vector<FaceFacts>& faces, const StraightCut& cut,
                                  const Vector3& normal) {
    std::vector<bool> in_feature(faces.size() + 1, false), leans(faces.size() + 1, false);
    double angle = 0.0;
    for (const UncuttableFeature& feature : cut.features) {
        for (const int face : feature.faces) {
            in_feature[static_cast<std::size_t>(face)] = true;
            if (feature.kind == FeatureKind::bevelled_wall)
                leans[static_cast<std::size_t>(face)] = true;
        }
        if (feature.kind == FeatureKind::bevelled_wall)
            angle = std::max(angle, feature.angle.value_or(0.0));
    }
    double leaning = 0.0, straight = 0.0;
    for (const FaceFacts& face : faces) {
        const auto number = static_cast<std::size_t>(face.number);
        const bool is_flat =
            face.plane && face.plane->outward.cross(normal).norm() < same_direction;
        if (leans[number])
            leaning += face.area;
        else if (!in_feature[number] && !is_flat)
            straight += face.area;
    }
    if (!(leaning > mostly * (leaning + straight))) return std::nullopt;
    return Refusal{NotFlat::draft, percent(leaning / (leaning + straight)) +
                                       " of its walls' area leans, by up to " + degrees(angle) +
                                       "; a straight cut can't make them"};
}

std::optional<Refusal> find_wedge(const std::vector<FaceFacts>& faces, double parallel_area) {
    const std::vector<Facing> ways = facings(faces);
    // Single faces: many small ones, such as the sides of fins, make no wedge.
    const auto largest_face = [&](const Facing& way) { return faces[way.faces.front()].area; };
    double largest = parallel_area, angle = 0.0;
    for (std::size_t i = 0; i < ways.size(); ++i) {
        for (std::size_t j = i + 1; j < ways.size(); ++j) {
            const double area = std::min(largest_face(ways[i]), largest_face(ways[j]));
            const double cosine = std::clamp(-ways[i].outward.dot(ways[j].outward), -1.0, 1.0);
            const double between = std::acos(cosine);
            if (area <= largest || between <= same_direction || between > greatest_wedge) continue;
            largest = area;
            angle = between;
        }
    }
    if (!(angle > 0.0)) return std::nullopt;
    return Refusal{NotFlat::wedge, "its two large flat faces (the smaller has " + figure(largest) +
                                       " mm2) are " + degrees(angle) + " from parallel"};
}

Turned turned_share(const std::vector<FaceFacts>& faces) {
    const double whole = surface_area(faces);
    // Half of the surface has to turn about the axis: one of the largest curved faces has it.
    std::vector<const FaceFacts*> curved;
    for (const FaceFacts& face : faces)
        if (face.turning && face.turning->axis.norm() > 0.5) curved.push_back(&face);
    std::stable_sort(curved.begin(), curved.end(),
                     [](const FaceFacts* a, const FaceFacts* b) { return a->area > b->area; });
    if (curved.size() > 8) curved.resize(8);
    Turned best;
    // A ball has no axis: every one through its centre will do.
    for (const FaceFacts& face : faces)
        if (face.turning && face.area > 0.9 * whole) best = {face.area / whole, 0.0};
    for (const FaceFacts* candidate : curved) {
        const TurnAxis& axis = *candidate->turning;
        double turning = 0.0, ends = 0.0, diameter = 0.0;
        for (const FaceFacts& face : faces) {
            if (face.turning &&
                distance_to_axis(face.turning->point, axis.point, axis.axis) <= coaxial_within &&
                face.turning->axis.cross(axis.axis).norm() <= coaxial_within) {
                turning += face.area;
                if (face.cylinder) diameter = std::max(diameter, 2.0 * face.cylinder->radius);
            } else if (face.plane && are_parallel(face.plane->outward, axis.axis)) {
                ends += face.area;
            }
        }
        if (turning < least_curved * whole) continue;
        const double share = (turning + ends) / whole;
        if (share > best.share) best = {share, diameter};
    }
    return best;
}

}  // namespace planform::plate
