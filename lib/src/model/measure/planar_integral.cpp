#include "model/measure/planar_integral.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "curve/quadrature.hpp"
#include "model/kernel/points.hpp"
#include "model/measure/smooth_pieces.hpp"
#include "model/measure/strips.hpp"

namespace planform::model {

namespace {

/// A piece and its halves agree to this part of the square of its distance from the apex.
constexpr double planar_agreement = 1e-13;
constexpr int deepest = 20;
/// Of a quick integral, a piece and an edge.
constexpr int quick_planar_nodes = 5;
constexpr std::size_t quick_planar_breaks = 8;

class PlanarFace {
  public:
    PlanarFace(const TopoDS_Face& face, const gp_Pln& plane, const Point3& apex, Effort effort)
        : face_(TopoDS::Face(face.Oriented(TopAbs_FORWARD))),
          normal_(
              from_kernel(plane.XAxis().Direction()).cross(from_kernel(plane.YAxis().Direction()))),
          apex_(apex),
          effort_(effort),
          height_(normal_.dot(from_kernel(plane.Location()) - apex)) {}

    FaceIntegral run() {
        double area = 0.0;
        for (TopExp_Explorer edges(face_, TopAbs_EDGE); edges.More(); edges.Next()) {
            const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
            if (bounds_material(edge) && !BRep_Tool::Degenerated(edge)) area += swept_by(edge);
        }
        FaceIntegral result;
        result.cone = height_ * area / 3.0 + strips_.cone();
        result.vector_area = area * normal_ + strips_.vector_area();
        result.area = std::abs(area);
        return result;
    }

  private:
    double swept_by(const TopoDS_Edge& edge) {
        const BRepAdaptor_Curve curve(edge);
        const double way = edge.Orientation() == TopAbs_FORWARD ? 1.0 : -1.0;
        SmoothPieces along = pieces_of(curve.Curve().Curve());
        const bool is_quick = effort_ == Effort::quick;
        if (is_quick) along = along.thinned(quick_planar_breaks);
        const int nodes = is_quick ? std::min(quick_planar_nodes, along.nodes(3)) : along.nodes(3);
        const std::vector<double> stops =
            along.cover(curve.FirstParameter(), curve.LastParameter());
        double area = 0.0;
        for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
            const double whole = over(curve, stops[i], stops[i + 1], nodes);
            area += way * (is_quick || along.is_exact()
                               ? whole
                               : refined(curve, stops[i], stops[i + 1], nodes, whole, 0));
            if (effort_ == Effort::volume) add_strip(curve, stops[i], stops[i + 1], nodes, way);
        }
        return area;
    }

    /// A place on an edge and the speed there, relative to the apex.
    struct Place {
        Vector3 point, speed;
    };
    Place at(const BRepAdaptor_Curve& curve, double t) const {
        gp_Pnt point;
        gp_Vec speed;
        curve.D1(t, point, speed);
        return {from_kernel(point) - apex_, from_kernel(speed)};
    }

    double over(const BRepAdaptor_Curve& curve, double from, double to, int nodes) const {
        return detail::integrate_fixed(
            [&](double t) {
                const Place place = at(curve, t);
                return 0.5 * normal_.dot(place.point.cross(place.speed));
            },
            from, to, nodes);
    }

    double refined(const BRepAdaptor_Curve& curve, double from, double to, int nodes, double whole,
                   int depth) const {
        const double middle = 0.5 * (from + to);
        const double left = over(curve, from, middle, nodes);
        const double right = over(curve, middle, to, nodes);
        const double size = at(curve, from).point.squaredNorm() +
                            at(curve, middle).point.squaredNorm() +
                            at(curve, to).point.squaredNorm();
        if (depth >= deepest || std::abs(left + right - whole) <= planar_agreement * size)
            return left + right;
        return refined(curve, from, middle, nodes, left, depth + 1) +
               refined(curve, middle, to, nodes, right, depth + 1);
    }

    void add_strip(const BRepAdaptor_Curve& curve, double from, double to, int nodes, double way) {
        const auto& rule = detail::gauss_rule(nodes);
        const double middle = 0.5 * (from + to), half = 0.5 * (to - from);
        for (std::size_t i = 0; i < rule.nodes.size(); ++i) {
            const Place e = at(curve, middle + half * rule.nodes[i]);
            const Vector3 q = e.point + (height_ - normal_.dot(e.point)) * normal_;
            const Vector3 q_speed = e.speed - normal_.dot(e.speed) * normal_;
            strips_.add(way * half * rule.weights[i], e.point, e.speed, q, q_speed);
        }
    }

    TopoDS_Face face_;
    Vector3 normal_;
    Point3 apex_;
    Effort effort_;
    double height_;
    Strips strips_;
};

}  // namespace

FaceIntegral integral_over_plane(const TopoDS_Face& face, const gp_Pln& plane, const Point3& apex,
                                 Effort effort) {
    return PlanarFace(face, plane, apex, effort).run();
}

}  // namespace planform::model
