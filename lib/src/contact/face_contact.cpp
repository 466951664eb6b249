#include "contact/face_contact.hpp"

#include <ShapeAnalysis_Surface.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <numeric>
#include <string>
#include <utility>
#include <vector>

#include "flatten/collect/outline.hpp"
#include "flatten/curves/projected_curve.hpp"
#include "model/kernel/points.hpp"
#include "planform/error.hpp"
#include "solid/face_interior.hpp"

namespace planform::contact {
namespace {

/// Normals that differ from opposite by less than this (cosine) look at each other: what touches
/// over an area has them opposite, and free forms are followed within a small angle only.
constexpr double opposite = -0.999;
/// Of the places on a face, so many have to touch: one alone may be a coincidence.
constexpr std::size_t least_places = 2;

Box3 common_box(const TouchFace& first, const TouchFace& second, double within) {
    const auto grown = [within](const Box3& box) {
        return Box3(box.min() - Vector3::Constant(within), box.max() + Vector3::Constant(within));
    };
    return grown(first.box()).intersection(grown(second.box()));
}

/// Planes that look at each other within `within` over the box.
bool on_one_plane(const model::Plane& a, const model::Plane& b, const Box3& box, double within) {
    if (a.outward.dot(b.outward) > opposite) return false;
    const Point3 middle = box.center();
    const double apart = (middle - a.point).dot(a.outward) + (middle - b.point).dot(b.outward);
    const double tilt = (a.outward + b.outward).norm() * box.diagonal().norm() / 2.0;
    return std::abs(apart) + tilt <= within;
}

/// Which edges of a face's graph lie in loops that reach into a box of the datum's plane: a hole
/// elsewhere takes nothing from what lies in it.
std::vector<bool> edges_near(const solid::ShapeGraph& graph, const Box2& near) {
    std::vector<int> root(graph.vertices.size());
    std::iota(root.begin(), root.end(), 0);
    const auto find = [&root](int vertex) {
        const auto up = [&root](int of) -> int& { return root[static_cast<std::size_t>(of)]; };
        while (up(vertex) != vertex) vertex = up(vertex) = up(up(vertex));
        return vertex;
    };
    std::vector<bool> is_near(graph.edges.size(), true);
    std::map<int, Box2> loops;
    for (const solid::GraphEdge& edge : graph.edges)
        if (edge.start_vertex >= 0 && edge.end_vertex >= 0)
            root[static_cast<std::size_t>(find(edge.start_vertex))] = find(edge.end_vertex);
    for (const solid::GraphEdge& edge : graph.edges) {
        if (edge.degenerate() || edge.start_vertex < 0) continue;
        Box2& box = loops[find(edge.start_vertex)];
        for (const Curve& curve : flatten::project_edge(edge, edge.first, edge.last, 1.0))
            box.extend(bounds(curve));
    }
    for (std::size_t i = 0; i < graph.edges.size(); ++i)
        if (const int vertex = graph.edges[i].start_vertex; vertex >= 0)
            is_near[i] = loops[find(vertex)].intersects(near);
    return is_near;
}

/// Adds the boundary of a face, counter-clockwise as the datum is seen, as an operand, as far as it
/// matters in a box.
void add_face(const TopoDS_Face& face, const Datum& datum, const Vector3& outward, const Box2& near,
              int operand, double tolerance, flatten::Outline& outline) {
    const solid::ShapeGraph graph = solid::build_shape_graph(face, datum);
    const std::vector<bool> is_near = edges_near(graph, near);
    outline.set_operand(operand);
    std::vector<int> nodes;
    for (const Point3& vertex : graph.vertices) nodes.push_back(outline.add_node(vertex.head<2>()));
    const auto node = [&](int vertex) {
        return vertex < 0 ? -1 : nodes[static_cast<std::size_t>(vertex)];
    };
    for (const solid::GraphFace& part : graph.faces) {
        const int seen = part.outward * (outward.dot(datum.normal()) > 0.0 ? 1 : -1);
        for (const solid::EdgeUse& use : part.uses) {
            const solid::GraphEdge& edge = graph.edges[static_cast<std::size_t>(use.edge)];
            if (edge.degenerate() || !is_near[static_cast<std::size_t>(use.edge)]) continue;
            outline.add(flatten::project_edge(edge, edge.first, edge.last, tolerance),
                        node(edge.start_vertex), node(edge.end_vertex), (use.along ? 1 : -1) * seen,
                        {});
        }
    }
}

/// The corners of a box in the datum's plane.
Box2 seen_on(const Datum& datum, const Box3& box) {
    Box2 seen;
    for (int corner = 0; corner < 8; ++corner)
        seen.extend(
            Point2(datum.to_datum(box.corner(static_cast<Box3::CornerType>(corner))).head<2>()));
    return seen;
}

/// A place inside a profile: the middle of the widest piece of a level line through it.
Point2 place_inside(const std::vector<Point2>& ring, double level) {
    std::vector<double> cuts;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
        if ((a.y() > level) == (b.y() > level)) continue;
        cuts.push_back(a.x() + (level - a.y()) / (b.y() - a.y()) * (b.x() - a.x()));
    }
    std::sort(cuts.begin(), cuts.end());
    Point2 best = ring.front();
    double widest = -1.0;
    for (std::size_t i = 0; i + 1 < cuts.size(); i += 2)
        if (cuts[i + 1] - cuts[i] > widest) {
            widest = cuts[i + 1] - cuts[i];
            best = {(cuts[i] + cuts[i + 1]) / 2.0, level};
        }
    return best;
}

std::optional<Contact> of_planes(const TouchFace& first, const TouchFace& second, const Box3& box,
                                 double within) {
    const model::Plane& plane = *first.plane();
    const Datum datum(plane.point, plane.outward);
    const Box2 near = seen_on(datum, box);
    flatten::Outline outline;
    add_face(first.face(), datum, plane.outward, near, 0, within, outline);
    add_face(second.face(), datum, second.plane()->outward, near, 1, within, outline);
    Contact contact;
    for (const Profile& part : flatten::unite(outline, within, {""}, merge::in_both)) {
        // Narrower than `within`: an edge in common, and rounding.
        if (2.0 * part.area() <= within * part.length()) continue;
        const std::vector<Point2> ring = part.outer().points(within);
        std::vector<Point3> border;
        for (const Point2& point : ring) border.push_back(datum.to_model(point));
        contact.borders.push_back(std::move(border));
        contact.area += part.area();
        const Box2 extent = part.bounds();
        // Not half-way: there a corner may lie on the line.
        const double level = extent.min().y() + 0.4871 * extent.sizes().y();
        contact.points.push_back({datum.to_model(place_inside(ring, level)), plane.outward});
    }
    if (contact.points.empty()) return std::nullopt;
    return contact;
}

/// Asks a face whether a place lies on it.
class Probe {
  public:
    explicit Probe(const TouchFace& face)
        : face_(face),
          interior_(face.surface(), 0.0),
          analysis_(new ShapeAnalysis_Surface(face.surface().adaptor().Surface())),
          to_surface_(face.surface().placement().Inverted()) {}

    /// True if a face that looks the opposite way is within `within` of the place.
    bool touches(const solid::FaceSample& sample, double within) {
        gp_Pnt place(sample.place.x(), sample.place.y(), sample.place.z());
        place.Transform(to_surface_);
        const gp_Pnt2d foot = analysis_->ValueOfUV(place, 0.01 * within);
        const Point2 uv = into_box(model::from_kernel(foot));
        const solid::SurfacePoint at = face_.surface().first_order(uv);
        if ((at.position - sample.place).norm() > within) return false;
        const Vector3 normal = face_.outward() * at.du.cross(at.dv);
        return normal.norm() > 0.0 && normal.normalized().dot(sample.normal) < opposite &&
               interior_.holds(uv);
    }

  private:
    /// The same place by whole periods nearest to the middle of the face.
    Point2 into_box(Point2 uv) const {
        const auto& adaptor = face_.surface().adaptor();
        const Point2 middle = (face_.surface().low() + face_.surface().high()) / 2.0;
        if (adaptor.IsUPeriodic())
            uv.x() += adaptor.UPeriod() * std::round((middle.x() - uv.x()) / adaptor.UPeriod());
        if (adaptor.IsVPeriodic())
            uv.y() += adaptor.VPeriod() * std::round((middle.y() - uv.y()) / adaptor.VPeriod());
        return uv;
    }

    const TouchFace& face_;
    solid::FaceInterior interior_;
    Handle(ShapeAnalysis_Surface) analysis_;
    gp_Trsf to_surface_;
};

/// Closed forms of different kinds meet along curves or in points only; equal ones of other size or
/// place, too.
bool may_be_one_surface(const TouchFace& first, const TouchFace& second, const Box3& box,
                        double within) {
    const features::FaceView &a = first.view(), &b = second.view();
    if (a.kind == GeomAbs_OtherSurface || b.kind == GeomAbs_OtherSurface) return true;
    if (a.kind != b.kind) return false;
    if (a.kind != GeomAbs_Cylinder) return true;
    const double tilt = a.axis.cross(b.axis).norm() * box.diagonal().norm();
    const Vector3 way = box.center() - a.on_axis, other = box.center() - b.on_axis;
    const Vector3 apart = way - way.dot(a.axis) * a.axis - other + other.dot(b.axis) * b.axis;
    return std::abs(a.radius - b.radius) <= within && tilt <= within && apart.norm() <= within;
}

/// Places of one face that lie on another.
std::vector<ContactPoint> places_on(const TouchFace& face, const TouchFace& other, const Box3& box,
                                    double within) {
    std::vector<ContactPoint> places;
    Probe probe(other);
    for (const solid::FaceSample& sample : face.samples())
        if (box.contains(sample.place) && probe.touches(sample, within))
            places.push_back({sample.place, sample.normal});
    return places;
}

std::optional<Contact> by_places(const TouchFace& first, const TouchFace& second, const Box3& box,
                                 double within) {
    if (!may_be_one_surface(first, second, box, within)) return std::nullopt;
    Contact contact;
    contact.points = places_on(first, second, box, within);
    std::vector<ContactPoint> back = places_on(second, first, box, within);
    for (ContactPoint& point : back) point.normal = -point.normal;
    const auto area_by = [](const TouchFace& face, std::size_t places) {
        const std::size_t all = std::max<std::size_t>(face.samples().size(), 1);
        return face.area() * static_cast<double>(places) / static_cast<double>(all);
    };
    // The face of which a larger share touches tells the area better.
    const bool by_first =
        contact.points.size() * second.samples().size() >= back.size() * first.samples().size();
    contact.area = by_first ? area_by(first, contact.points.size()) : area_by(second, back.size());
    contact.points.insert(contact.points.end(), back.begin(), back.end());
    if (contact.points.size() < least_places) return std::nullopt;
    return contact;
}

}  // namespace

std::optional<Contact> face_contact(const TouchFace& first, const TouchFace& second,
                                    double within) {
    const Box3 box = common_box(first, second, within);
    if (box.isEmpty()) return std::nullopt;
    std::optional<Contact> contact;
    if (first.plane() && second.plane()) {
        if (!on_one_plane(*first.plane(), *second.plane(), box, within)) return std::nullopt;
        try {
            contact = of_planes(first, second, box, within);
        } catch (const GeometryError&) {
            // Boundaries that don't close: places inside the faces tell.
            contact = by_places(first, second, box, within);
        }
    } else if (!first.plane() && !second.plane()) {
        contact = by_places(first, second, box, within);
    }
    if (contact) contact->faces = {first.number(), second.number()};
    return contact;
}

}  // namespace planform::contact
