/// The boundary of panels in the middle of the thickness, laid flat.
///
/// Where a cut stands square on the sheet, every layer has the same boundary, and the edge of the
/// side that is looked at has it. Where it is slanted (mitred ends, holes drilled through a bend)
/// the boundary is where the cut's own surface meets the middle layer: by Newton's method on the
/// two surfaces, so that it is as exact as they are, however well the model's edges lie on them.

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "flatten/curves/interpolated_fit.hpp"
#include "flatten/curves/projected_curve.hpp"
#include "unfold/development.hpp"
#include "unfold/refusals.hpp"
#include "unfold/rim.hpp"

namespace planform::unfolding {

namespace {

/// A developed curve that strays less than this share of the body's size from its chord is a line:
/// rounding of angles and square roots.
constexpr double straight_chord_share = 1e-11;
/// Corners off the ends of their edges by more than this share of the body's size were moved by a
/// slanted cut; less is what the model's edges miss their vertices by.
constexpr double moved_corner_share = 1e-5;

/// Places of a curve over 0 to 1 that are looked at, its ends among them.
std::vector<Point2> look_at(const std::function<Point2(double)>& point) {
    constexpr std::array<double, 9> shares = {0.0, 0.05, 0.17, 0.34, 0.5, 0.63, 0.81, 0.96, 1.0};
    std::vector<Point2> places;
    places.reserve(shares.size());
    for (const double share : shares) places.push_back(point(share));
    return places;
}

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
    Vector3 tangent(const Side& side, double t) const;
    double parameter(const Side& side, double share) const {
        return body_.parameter(side.edge, side.along ? share : 1.0 - share);
    }
    void make_curve(Side& side);
    /// Did a slanted cut beside it move a corner away from the end of the edge?
    bool is_off(const Panel& panel, const Side& side, double share, const Point3& corner) const {
        const Point3 end = panel.in_middle(body_.form(side.edge).point(parameter(side, share)));
        return (end - corner).norm() > moved_corner_share * body_.size;
    }
    std::vector<Curve> wall_curves(const Panel& panel, const Side& side) const;
    std::vector<Curve> fitted(const std::function<Point2(double)>& point,
                              std::span<const Point2> looked_at) const;
    std::optional<Curve> plain_curve(const Panel& panel, std::span<const Point2> places) const;
    std::vector<Curve> square_bend_curves(const Panel& panel, const Side& side) const;
    std::vector<Curve> bend_curves(const Panel& panel,
                                   const std::function<Point3(double)>& middle) const;
    std::vector<Curve> slanted_curves(const Side& side,
                                      const std::function<Point3(double)>& between) const;
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
        corner = on_rim(d_, panel, rim, t, panel.in_middle(place), across);
    }
    if (!corner) give_up(cut);
    side.end = after.start = panel.in_middle(*corner);
}

/// A spline through places of a smooth curve over 0 to 1, in pieces of an eighth of a turn at the
/// most, by `looked_at`, places of it in order.
std::vector<Curve> CurveMaker::fitted(const std::function<Point2(double)>& point,
                                      std::span<const Point2> looked_at) const {
    double turn = 0.0;
    for (std::size_t i = 2; i < looked_at.size(); ++i) {
        const Vector2 before = looked_at[i - 1] - looked_at[i - 2];
        const Vector2 after = looked_at[i] - looked_at[i - 1];
        turn += std::abs(std::atan2(cross(before, after), before.dot(after)));
    }
    // What it turns along the first and the last half of a chord is not seen; and a quarter turn at
    // the least, for two pieces.
    turn = std::max(1.2 * turn, 0.5 * pi);
    return flatten::fit_interpolated([&](double at) { return point(at / turn); }, 0.0, turn,
                                     d_.fit_tolerance());
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

/// A straight line if all places lie on one, on a cone an arc if all lie on one about its apex.
std::optional<Curve> CurveMaker::plain_curve(const Panel& panel,
                                             std::span<const Point2> places) const {
    const Point2 start = places.front(), end = places.back();
    const double straight = straight_chord_share * body_.size;
    const double chord = (end - start).norm();
    const auto is_all = [&places](const auto& holds) {
        return std::all_of(places.begin(), places.end(), holds);
    };
    if (chord > straight && is_all([&](const Point2& place) {
            return std::abs(cross(end - start, place - start)) <= straight * chord;
        }))
        return Line{start, end};
    if (panel.kind() == SurfaceKind::cone) {
        // About the apex: edges across the cone's axis.
        const double radius = start.norm();
        const double from = std::atan2(start.y(), start.x());
        const double to = std::atan2(end.y(), end.x());
        if (is_all(
                [&](const Point2& place) { return std::abs(place.norm() - radius) <= straight; }))
            return Arc{Point2::Zero(), radius, from, to - from};
    }
    return std::nullopt;
}

/// A curve of the middle layer of a bend, laid flat; `middle` over 0 to 1.
std::vector<Curve> CurveMaker::bend_curves(const Panel& panel,
                                           const std::function<Point3(double)>& middle) const {
    const auto flat = [&](double share) { return panel.flat(middle(share)); };
    const std::vector<Point2> places = look_at(flat);
    if (const auto plain = plain_curve(panel, places)) return {*plain};
    return fitted(flat, places);
}

/// The edge itself, moved into the middle layer. Straight edges of a bend are its rulings and
/// circles run about its axis: one place between the ends tells whether they are.
std::vector<Curve> CurveMaker::square_bend_curves(const Panel& panel, const Side& side) const {
    const EdgeForm& edge = body_.form(side.edge);
    const auto middle = [&](double share) {
        return panel.in_middle(edge.point(parameter(side, share)));
    };
    if (edge.kind() != EdgeForm::Kind::other) {
        const std::array<Point2, 3> places = {panel.flat(middle(0.0)), panel.flat(middle(0.5)),
                                              panel.flat(middle(1.0))};
        if (const auto plain = plain_curve(panel, places)) return {*plain};
    }
    return bend_curves(panel, middle);
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
            side.curves = square_bend_curves(panel, side);
        }
        return;
    }
    const FaceUse rim = body_.use_of(side.edge, side.rim);
    if (!panel.is_curved() && body_.surface(side.rim).kind() == GeomAbs_Plane) {
        side.curves = {Line{panel.flat(side.start), panel.flat(side.end)}};
        return;
    }
    if (const auto run = RimRun::along(d_, side)) {
        struct Lost {};
        try {
            side.curves = slanted_curves(side, [&](double share) {
                const auto place = run->at(share);
                if (!place) throw Lost{};
                return *place;
            });
            return;
        } catch (const Lost&) {
            // Beside the edge it may be found all the same.
        }
    }
    // How far the corners lie ahead of the edge's ends: shared out along it.
    const double first = parameter(side, 0.0), last = parameter(side, 1.0);
    const double ahead_at_start = (side.start - edge.point(first)).dot(tangent(side, first));
    const double ahead_at_end = (side.end - edge.point(last)).dot(tangent(side, last));
    side.curves = slanted_curves(side, [&](double share) {
        const double t = parameter(side, share);
        const Vector3 across = tangent(side, t);
        const double ahead = (1.0 - share) * ahead_at_start + share * ahead_at_end;
        const Point3 near = panel.in_middle(edge.point(t)) + ahead * across;
        const auto place = on_rim(d_, panel, rim, t, near, across);
        if (!place) give_up(side);
        return *place;
    });
}

/// From corner to corner by places of the middle layer between them.
std::vector<Curve> CurveMaker::slanted_curves(const Side& side,
                                              const std::function<Point3(double)>& between) const {
    const Panel& panel = d_.panel(side.panel);
    const bool is_closed = side.next == static_cast<int>(&side - d_.sides.data());
    const auto middle = [&](double share) -> Point3 {
        if (share <= 0.0) return side.start;
        if (share >= 1.0) return is_closed ? side.start : side.end;
        return between(share);
    };
    if (panel.is_curved()) return bend_curves(panel, middle);
    const auto flat = [&](double share) { return panel.flat(middle(share)); };
    return fitted(flat, look_at(flat));
}

}  // namespace

void make_curves(Development& development) { CurveMaker(development).run(); }

}  // namespace planform::unfolding
