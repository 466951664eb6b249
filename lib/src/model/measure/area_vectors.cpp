#include "model/measure/area_vectors.hpp"

#include <BRep_Tool.hxx>
#include <GeomAdaptor_Curve.hxx>
#include <Geom_Line.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Vertex.hxx>
#include <cmath>
#include <gp_Circ.hxx>
#include <gp_Elips.hxx>
#include <gp_Trsf.hxx>

#include "curve/quadrature.hpp"
#include "model/kernel/points.hpp"
#include "model/kernel/shape_numbering.hpp"
#include "model/measure/smooth_pieces.hpp"

namespace planform::model {
namespace {

/// One edge, in the coordinates of its own curve about `reference` (in the same coordinates).
class EdgeIntegral {
  public:
    EdgeIntegral(const Handle(Geom_Curve) & curve, double first, double last,
                 const Point3& reference)
        : curve_(curve, first, last), reference_(reference), first_(first), last_(last) {}

    EdgeArea run() {
        const Vector3 start = place(first_), end = place(last_), chord = end - start;
        switch (curve_.GetType()) {
            case GeomAbs_Line:
                result_.area = 0.5 * start.cross(end);
                result_.length = chord.norm();
                break;
            case GeomAbs_Circle: {
                const gp_Circ circle = curve_.Circle();
                add_conic(circle.Position(), circle.Radius(), circle.Radius(), chord);
                break;
            }
            case GeomAbs_Ellipse: {
                const gp_Elips ellipse = curve_.Ellipse();
                add_conic(ellipse.Position(), ellipse.MajorRadius(), ellipse.MinorRadius(), chord);
                break;
            }
            default:
                add_spans();
        }
        return result_;
    }

  private:
    Vector3 place(double t) const { return from_kernel(curve_.Value(t)) - reference_; }

    /// With P = C + a cos t X + b sin t Y: P x dP = C x dP + a b (X x Y) dt.
    void add_conic(const gp_Ax2& frame, double a, double b, const Vector3& chord) {
        const Vector3 center = from_kernel(frame.Location()) - reference_;
        const Vector3 normal =
            from_kernel(frame.XDirection()).cross(from_kernel(frame.YDirection()));
        const double sweep = last_ - first_;
        result_.area = 0.5 * (center.cross(chord) + a * b * sweep * normal);
        result_.length = 0.5 * (a + b) * std::abs(sweep);
    }

    void add_spans() {
        const std::vector<double> knots = pieces_of(curve_.Curve()).cover(first_, last_);
        for (std::size_t i = 0; i + 1 < knots.size(); ++i) {
            constexpr int deepest = 12;
            add_halves(knots[i], knots[i + 1], rule(knots[i], knots[i + 1]), deepest);
        }
    }

    /// Eight points: exact for polynomials of degree 8 (Gauss-Legendre, P x dP has degree 15).
    Vector3 rule(double from, double to) const {
        const detail::GaussRule& gauss = detail::gauss_rule(8);
        const double half = 0.5 * (to - from), middle = 0.5 * (from + to);
        Vector3 sum = Vector3::Zero();
        for (std::size_t i = 0; i < gauss.nodes.size(); ++i) {
            gp_Pnt point;
            gp_Vec speed;
            curve_.D1(middle + half * gauss.nodes[i], point, speed);
            sum += gauss.weights[i] * (from_kernel(point) - reference_).cross(from_kernel(speed));
        }
        return 0.5 * half * sum;
    }

    void add_halves(double from, double to, const Vector3& whole, int deepest) {
        constexpr double rounding = 1e-12;
        const double middle = 0.5 * (from + to);
        const Vector3 start = place(from), halfway = place(middle), end = place(to);
        const Vector3 left = rule(from, middle), right = rule(middle, to);
        const double size = start.norm() + halfway.norm() + end.norm();
        if ((left + right - whole).norm() <= rounding * size * size || deepest == 0) {
            result_.area += left + right;
            result_.length += (halfway - start).norm() + (end - halfway).norm();
            return;
        }
        add_halves(from, middle, left, deepest - 1);
        add_halves(middle, to, right, deepest - 1);
    }

    GeomAdaptor_Curve curve_;
    Point3 reference_;
    double first_, last_;
    EdgeArea result_;
};

class Walk {
  public:
    AreaVectors run(const TopoDS_Shape& shape) {
        const TopExp_Explorer vertices(shape, TopAbs_VERTEX);
        if (vertices.More())
            result_.reference =
                from_kernel(BRep_Tool::Pnt(TopoDS::Vertex(vertices.Current())).XYZ());
        add_faces_below(shape);
        return std::move(result_);
    }

  private:
    void add_faces_below(const TopoDS_Shape& shape) {
        if (shape.ShapeType() == TopAbs_FACE) {
            add_face(shape);
            return;
        }
        if (shape.ShapeType() > TopAbs_FACE) return;
        for (TopoDS_Iterator part(shape); part.More(); part.Next()) add_faces_below(part.Value());
    }

    void add_face(const TopoDS_Shape& shape) {
        FaceArea face;
        const double outward = shape.Orientation() == TopAbs_REVERSED ? -1.0 : 1.0;
        for (TopoDS_Iterator wire(shape.Oriented(TopAbs_FORWARD)); wire.More(); wire.Next()) {
            if (wire.Value().ShapeType() != TopAbs_WIRE) continue;
            for (TopoDS_Iterator it(wire.Value()); it.More(); it.Next()) {
                const EdgeArea& edge = area_of(it.Value());
                const TopAbs_Orientation way = it.Value().Orientation();
                if (way != TopAbs_FORWARD && way != TopAbs_REVERSED) continue;
                face.area += (way == TopAbs_FORWARD ? outward : -outward) * edge.area;
                face.perimeter += edge.length;
            }
        }
        result_.faces.push_back(face);
    }

    const EdgeArea& area_of(const TopoDS_Shape& shape) {
        const auto [index, is_new] = numbers_.number(shape);
        if (is_new) result_.edges.push_back(measured_edge(TopoDS::Edge(shape)));
        return result_.edges[static_cast<std::size_t>(index)];
    }

    /// From vertex to vertex.
    EdgeArea measured_edge(const TopoDS_Edge& edge) const {
        if (BRep_Tool::Degenerated(edge)) return {};
        TopLoc_Location location;
        double first, last;
        const Handle(Geom_Curve)& curve = BRep_Tool::Curve(edge, location, first, last);
        if (curve.IsNull()) return {};
        const gp_Trsf placement = location.Transformation();
        EdgeArea area = edge_area(curve, first, last, placement, result_.reference);
        for (TopoDS_Iterator it(edge.Oriented(TopAbs_FORWARD)); it.More(); it.Next()) {
            const bool starts = it.Value().Orientation() == TopAbs_FORWARD;
            if (!starts && it.Value().Orientation() != TopAbs_REVERSED) continue;
            const Vector3 vertex = offset(BRep_Tool::Pnt(TopoDS::Vertex(it.Value())));
            const Vector3 end = offset(curve->Value(starts ? first : last).Transformed(placement));
            area.area += 0.5 * (starts ? vertex.cross(end) : end.cross(vertex));
        }
        return area;
    }

    Vector3 offset(const gp_Pnt& place) const { return from_kernel(place) - result_.reference; }

    AreaVectors result_;
    ShapeNumbering numbers_;
};

}  // namespace

EdgeArea edge_area(const Handle(Geom_Curve) & curve, double first, double last,
                   const gp_Trsf& placement, const Point3& reference) {
    if (placement.Form() == gp_Identity) return EdgeIntegral(curve, first, last, reference).run();
    // In the curve's own coordinates: a motion turns area vectors like any other.
    gp_XYZ origin(reference.x(), reference.y(), reference.z());
    placement.Inverted().Transforms(origin);
    EdgeArea area = EdgeIntegral(curve, first, last, from_kernel(origin)).run();
    const double scale = placement.ScaleFactor();
    gp_XYZ turned(area.area.x(), area.area.y(), area.area.z());
    turned.Multiply(placement.HVectorialPart());
    // The map is scale times a rotation; a mirror has a negative scale, and (-a) x (-b) = a x b.
    area.area = scale * scale * from_kernel(turned);
    area.length *= std::abs(scale);
    return area;
}

AreaVectors area_vectors(const TopoDS_Shape& shape) { return Walk().run(shape); }

}  // namespace planform::model
