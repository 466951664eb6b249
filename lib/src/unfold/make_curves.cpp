/// The boundary of panels in the middle of the thickness, laid flat.
///
/// Where a cut stands square on the sheet, every layer has the same boundary, and the edge of the
/// side that is looked at has it. Where it is slanted (mitred ends, holes drilled through a bend)
/// the boundary is where the cut's own surface meets the middle layer: by Newton's method on the
/// two surfaces, so that it is as exact as they are, however well the model's edges lie on them.

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>

#include "flatten/curves/interpolated_fit.hpp"
#include "flatten/curves/projected_curve.hpp"
#include "unfold/development.hpp"
#include "unfold/refusals.hpp"

namespace planform::unfolding {

namespace {

/// A developed curve that strays less than this share of the body's size from its chord is a line:
/// rounding of angles and square roots.
constexpr double straight_share = 1e-11;
/// Newton's method stops here, of the body's size, and gives up after so many steps.
constexpr double newton_share = 1e-14;
constexpr int most_steps = 50;
/// Corners off the ends of their edges by more than this share of the body's size were moved by a
/// slanted cut; less is what the model's edges miss their vertices by.
constexpr double corner_share = 1e-5;
/// A found place lies no further from where it was looked for than so many thicknesses.
constexpr double farthest = 4.0;

class CurveMaker {
  public:
    explicit CurveMaker(Development& development) : d_(development), body_(development.body) {}

    void run() {
        if (std::any_of(d_.sides.begin(), d_.sides.end(),
                        [](const Side& side) { return side.slanted; }))
            find_edges_at_vertices();
        for (Side& side : d_.sides) settle_corner(side);
        for (Side& side : d_.sides) make_curve(side);
    }

  private:
    void find_edges_at_vertices() {
        edges_at_.resize(body_.graph.vertices.size());
        for (std::size_t i = 0; i < body_.graph.edges.size(); ++i) {
            const solid::GraphEdge& edge = body_.graph.edges[i];
            for (const int vertex : {edge.start_vertex, edge.end_vertex})
                if (vertex >= 0)
                    edges_at_[static_cast<std::size_t>(vertex)].push_back(static_cast<int>(i));
        }
    }
    void settle_corner(Side& side);
    std::optional<Point3> along_rim_edge(const Panel& panel, const Side& before,
                                         const Side& after) const;
    std::optional<Point3> on_rim(const Panel& panel, const FaceUse& rim, double t,
                                 const Point3& near, const Vector3& across) const;
    Vector3 tangent(const Side& side, double t) const;
    double parameter(const Side& side, double share) const {
        return body_.parameter(side.edge, side.along ? share : 1.0 - share);
    }
    void make_curve(Side& side);
    /// Did a slanted cut beside it move a corner away from the end of the edge?
    bool is_off(const Panel& panel, const Side& side, double share, const Point3& corner) const {
        const Point3 end = panel.in_middle(body_.form(side.edge).point(parameter(side, share)));
        return (end - corner).norm() > corner_share * body_.size;
    }
    std::vector<Curve> wall_curves(const Panel& panel, const Side& side) const;
    std::vector<Curve> fitted(const std::function<Point2(double)>& point) const;
    std::vector<Curve> bend_curves(const Panel& panel,
                                   const std::function<Point3(double)>& middle) const;
    [[noreturn]] void give_up(const Side& side) const {
        refuse(NotUnfolded::not_one_thickness,
               "the cut at " + face_words(body_, {side.rim}) +
                   " does not go through the sheet; draw it through the full thickness",
               body_, {side.rim, d_.panel(side.panel).face()});
    }

    Development& d_;
    const SheetBody& body_;
    std::vector<std::vector<int>> edges_at_;  ///< by vertex; for slanted cuts
};

/// Unit tangent of the edge's curve in the direction of the side.
Vector3 CurveMaker::tangent(const Side& side, double t) const {
    const Vector3 direction = body_.form(side.edge).derivative(t);
    return (side.along ? 1.0 : -1.0) * direction.normalized();
}

/// Where the surface of a cut meets the middle layer of a panel, in the plane through `near` across
/// the given direction; begins at the parameter of the edge.
std::optional<Point3> CurveMaker::on_rim(const Panel& panel, const FaceUse& rim, double t,
                                         const Point3& near, const Vector3& across) const {
    const solid::FaceSurface& surface = body_.surface(rim.face);
    const int edge = body_.face(rim.face).uses[static_cast<std::size_t>(rim.use)].edge;
    Point2 uv;
    if (surface.kind() == GeomAbs_Plane) {
        const Vector3 d = body_.form(edge).point(t) - surface.origin();
        uv = {d.dot(surface.x()), d.dot(surface.y())};
    } else {
        const solid::ParameterCurve& side = surface.boundary()[static_cast<std::size_t>(rim.use)];
        if (side.curve.IsNull()) return std::nullopt;
        const gp_Pnt2d at = side.curve->Value(t);
        uv = {at.X(), at.Y()};
    }
    for (int step = 0; step < most_steps; ++step) {
        const solid::SurfacePoint at = surface.first_order(uv);
        const Vector2 off(panel.height(at.position), (at.position - near).dot(across));
        if (off.norm() <= newton_share * body_.size) {
            if ((at.position - near).norm() > farthest * d_.skin.thickness) return std::nullopt;
            return at.position;
        }
        const Vector3 up = panel.up_at(at.position);
        Eigen::Matrix2d slope;
        slope << at.du.dot(up), at.dv.dot(up), at.du.dot(across), at.dv.dot(across);
        const Eigen::FullPivLU<Eigen::Matrix2d> solver(slope);
        if (!solver.isInvertible()) return std::nullopt;
        const Point2 next = uv - solver.solve(off);
        if (!next.allFinite()) return std::nullopt;
        if ((next - uv).norm() <= 4e-16 * std::max(1.0, uv.norm())) {
            return surface.first_order(next).position;
        }
        uv = next;
    }
    const Point3 last = surface.first_order(uv).position;
    if (std::abs(panel.height(last)) > 1e-9 * body_.size) return std::nullopt;
    return last;
}

/// Where the edge between the cuts before and after a corner passes the middle layer.
std::optional<Point3> CurveMaker::along_rim_edge(const Panel& panel, const Side& before,
                                                 const Side& after) const {
    const solid::GraphEdge& last = body_.edge(before.edge);
    const int vertex = before.along ? last.end_vertex : last.start_vertex;
    for (const int index : edges_at_[static_cast<std::size_t>(vertex)]) {
        const auto& uses = body_.uses_of_edge[static_cast<std::size_t>(index)];
        if (index == before.edge || index == after.edge || uses.size() != 2) continue;
        if (d_.skin.side[static_cast<std::size_t>(uses[0].face)] != 0 ||
            d_.skin.side[static_cast<std::size_t>(uses[1].face)] != 0)
            continue;
        const solid::GraphEdge& edge = body_.edge(index);
        const bool from_start = edge.start_vertex == vertex;
        const auto height = [&](double share) {
            return panel.height(body_.point(index, from_start ? share : 1.0 - share));
        };
        constexpr int steps = 16;
        double low = 0.0;
        const double sign = height(0.0);
        for (int i = 1; i <= steps; ++i) {
            double high = static_cast<double>(i) / steps;
            if (sign * height(high) > 0.0) {
                low = high;
                continue;
            }
            for (int k = 0; k < 60; ++k) {
                const double middle = 0.5 * (low + high);
                (sign * height(middle) > 0.0 ? low : high) = middle;
            }
            const double share = 0.5 * (low + high);
            return body_.point(index, from_start ? share : 1.0 - share);
        }
    }
    return std::nullopt;
}

/// The corner at the end of a side: the same place ends it and starts the next.
void CurveMaker::settle_corner(Side& side) {
    Side& after = d_.side(side.next);
    const Panel& panel = d_.panel(side.panel);
    if (!side.slanted && !after.slanted) {
        const Point3 corner = 0.5 * (side.end + after.start);
        side.end = after.start = panel.in_middle(corner);
        return;
    }
    std::optional<Point3> corner;
    const Side& cut = side.slanted ? side : after;
    const double t = parameter(cut, side.slanted ? 1.0 : 0.0);
    const Point3 place = body_.form(cut.edge).point(t);
    const FaceUse rim = body_.use_of(cut.edge, cut.rim);
    if (side.rim >= 0 && after.rim >= 0 && side.rim != after.rim)
        corner = along_rim_edge(panel, side, after);
    if (!corner) {
        Vector3 across = tangent(cut, t);
        const Side& other = side.slanted ? after : side;
        if (other.twin >= 0) {
            // Stay above the line where the bend begins, whatever the cut does.
            const Vector3 line = tangent(other, parameter(other, side.slanted ? 0.0 : 1.0));
            across = panel.up_at(place).cross(line).normalized();
        }
        corner = on_rim(panel, rim, t, panel.in_middle(place), across);
    }
    if (!corner) give_up(cut);
    side.end = after.start = panel.in_middle(*corner);
}

std::vector<Curve> CurveMaker::fitted(const std::function<Point2(double)>& point) const {
    // Over a quarter turn: pieces of an eighth at the least, as for angles.
    return flatten::fit_interpolated([&](double at) { return point(at / (0.5 * pi)); }, 0.0,
                                     0.5 * pi, d_.fit_tolerance());
}

/// The exact projection of the edge onto the wall.
std::vector<Curve> CurveMaker::wall_curves(const Panel& panel, const Side& side) const {
    const Datum frame(panel.from_flat({0.0, 0.0}, 0.0), panel.axis(),
                      panel.from_flat({1.0, 0.0}, 0.0) - panel.from_flat({0.0, 0.0}, 0.0));
    solid::GraphEdge edge = body_.edge(side.edge);
    const gp_Trsf placement = solid::datum_transform(frame).Multiplied(edge.placement());
    edge.placed_by = &placement;
    edge.is_placed = true;
    std::vector<Curve> curves =
        flatten::project_edge(edge, edge.first, edge.last, d_.fit_tolerance());
    if (side.along) return curves;
    std::reverse(curves.begin(), curves.end());
    for (Curve& curve : curves) curve = reversed(curve);
    return curves;
}

/// A curve of the middle layer of a bend, laid flat; `middle` over 0 to 1.
std::vector<Curve> CurveMaker::bend_curves(const Panel& panel,
                                           const std::function<Point3(double)>& middle) const {
    const auto flat = [&](double share) { return panel.flat(middle(share)); };
    constexpr std::array<double, 7> shares = {0.05, 0.17, 0.34, 0.5, 0.63, 0.81, 0.96};
    const Point2 start = flat(0.0), end = flat(1.0);
    const double straight = straight_share * body_.size;
    const double chord = (end - start).norm();
    bool is_line = chord > straight;
    for (const double share : shares)
        is_line = is_line && std::abs(cross(end - start, flat(share) - start)) <= straight * chord;
    if (is_line) return {Line{start, end}};
    if (panel.kind() == SurfaceKind::cone) {
        // About the apex: edges across the cone's axis.
        const double radius = start.norm();
        bool is_arc = true;
        for (const double share : shares)
            is_arc = is_arc && std::abs(flat(share).norm() - radius) <= straight;
        const double from = std::atan2(start.y(), start.x());
        const double to = std::atan2(end.y(), end.x());
        if (is_arc) return {Arc{Point2::Zero(), radius, from, to - from}};
    }
    return fitted(flat);
}

void CurveMaker::make_curve(Side& side) {
    const Panel& panel = d_.panel(side.panel);
    const EdgeForm& edge = body_.form(side.edge);
    if (side.twin >= 0 && (side.start - side.end).norm() > 1e-9 * body_.size &&
        body_.sheet(panel.face()).kind !=
            body_.sheet(d_.panel(d_.side(side.twin).panel).face()).kind) {
        side.curves = {Line{panel.flat(side.start), panel.flat(side.end)}};
        return;
    }
    const bool is_settled_elsewhere = side.rim >= 0 && (is_off(panel, side, 0.0, side.start) ||
                                                        is_off(panel, side, 1.0, side.end));
    if (!side.slanted && !is_settled_elsewhere) {
        if (!panel.is_curved()) {
            side.curves = wall_curves(panel, side);
        } else {
            side.curves = bend_curves(panel, [&](double share) {
                return panel.in_middle(edge.point(parameter(side, share)));
            });
        }
        return;
    }
    const FaceUse rim = body_.use_of(side.edge, side.rim);
    if (!panel.is_curved() && body_.surface(side.rim).kind() == GeomAbs_Plane) {
        side.curves = {Line{panel.flat(side.start), panel.flat(side.end)}};
        return;
    }
    // How far the corners lie ahead of the edge's ends: shared out along it.
    const double first = parameter(side, 0.0), last = parameter(side, 1.0);
    const double ahead_at_start = (side.start - edge.point(first)).dot(tangent(side, first));
    const double ahead_at_end = (side.end - edge.point(last)).dot(tangent(side, last));
    const bool is_closed = side.next == static_cast<int>(&side - d_.sides.data());
    const auto middle = [&](double share) -> Point3 {
        if (share <= 0.0) return side.start;
        if (share >= 1.0) return is_closed ? side.start : side.end;
        const double t = parameter(side, share);
        const Vector3 across = tangent(side, t);
        const double ahead = (1.0 - share) * ahead_at_start + share * ahead_at_end;
        const Point3 near = panel.in_middle(edge.point(t)) + ahead * across;
        const auto place = on_rim(panel, rim, t, near, across);
        if (!place) give_up(side);
        return *place;
    };
    if (panel.is_curved()) {
        side.curves = bend_curves(panel, middle);
    } else {
        side.curves = fitted([&](double share) { return panel.flat(middle(share)); });
    }
}

}  // namespace

void make_curves(Development& development) { CurveMaker(development).run(); }

}  // namespace planform::unfolding
