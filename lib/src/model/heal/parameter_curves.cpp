#include "model/heal/parameter_curves.hpp"

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <ElSLib.hxx>
#include <Geom2d_Line.hxx>
#include <GeomAdaptor_Curve.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <Precision.hxx>
#include <ShapeAnalysis_Surface.hxx>
#include <ShapeFix_Edge.hxx>
#include <algorithm>
#include <cmath>
#include <optional>

#include "model/kernel/points.hpp"
#include "planform/geometry.hpp"

namespace planform::model {

namespace {

/// How far, mm, a curve in the parameters may be from its edge: the kernel's confusion. Beyond it
/// an edge's tolerance would have to grow, which is healing.
constexpr double nearness = 1e-7;
/// Speeds in the parameters that differ by less, relative, from that in space are tried as the
/// same: the distance above decides.
constexpr double about = 1e-3;
/// Jumps between curves of a loop, radians or millimetres, and of the domain where it is neither:
/// rounding in files is far below, a pole far above.
constexpr double largest_jump = 1e-4;
/// Chords of a projected curve, for the sign of a loop's area.
constexpr int chords_of_projected = 8;

/// One use of an edge, with its curve in the parameters as it comes from the edge alone and the
/// periods by which it must move.
struct Side {
    TopoDS_Edge edge;
    Handle(Geom2d_Curve) curve;
    double first = 0.0, last = 0.0;
    bool is_straight = false;
    Vector2 shift = Vector2::Zero();

    bool forward() const { return edge.Orientation() == TopAbs_FORWARD; }
    Point2 at(double t) const { return from_kernel(curve->Value(t)) + shift; }
    /// The point after `part`, 0 to 1, of the way along the loop.
    Point2 along(double part) const {
        return at(forward() ? first + (last - first) * part : last + (first - last) * part);
    }
    Point2 from() const { return at(forward() ? first : last); }
    Point2 to() const { return at(forward() ? last : first); }
};

using EdgeSides = std::vector<Side>;

/// Works on one face; gives up by returning false.
class FaceCompletion {
  public:
    FaceCompletion(const TopoDS_Face& face, double precision)
        : surface_(BRep_Tool::Surface(face)), adaptor_(surface_), precision_(precision) {
        period_ = {adaptor_.IsUPeriodic() ? adaptor_.UPeriod() : 0.0,
                   adaptor_.IsVPeriodic() ? adaptor_.VPeriod() : 0.0};
        // A seam or pole of such a surface shows as a jump; one that is closed without a period
        // could be crossed unnoticed.
        is_open_or_periodic_ = (adaptor_.IsUPeriodic() || !adaptor_.IsUClosed()) &&
                               (adaptor_.IsVPeriodic() || !adaptor_.IsVClosed());
        largest_jump_ = {largest_jump, largest_jump};
        if (!is_elementary()) {
            largest_jump_.x() *= extent(adaptor_.FirstUParameter(), adaptor_.LastUParameter());
            largest_jump_.y() *= extent(adaptor_.FirstVParameter(), adaptor_.LastVParameter());
        }
    }

    bool run(const std::vector<Loop>& loops, TopTools_IndexedMapOfShape& projected) {
        if (!is_open_or_periodic_) return false;
        for (const Loop& loop : loops) {
            loops_.emplace_back();
            for (const TopoDS_Edge& edge : loop) {
                if (!take(edge)) return false;
            }
        }
        if (!project() ||
            !std::all_of(loops_.begin(), loops_.end(),
                         [&](EdgeSides& loop) { return connect(loop); }) ||
            !place_loops()) {
            take_back();
            return false;
        }
        write();
        for (const TopoDS_Edge& edge : unsolved_) projected.Add(edge);
        return true;
    }

  private:
    static double extent(double low, double high) {
        return Precision::IsInfinite(low) || Precision::IsInfinite(high) ? 1.0 : high - low;
    }

    bool is_elementary() const {
        switch (adaptor_.GetType()) {
            case GeomAbs_Cylinder:
            case GeomAbs_Cone:
            case GeomAbs_Sphere:
            case GeomAbs_Torus:
                return true;
            default:
                return false;
        }
    }

    Point2 parameters_of(const gp_Pnt& point) const {
        double u = 0.0, v = 0.0;
        switch (adaptor_.GetType()) {
            case GeomAbs_Cylinder:
                ElSLib::Parameters(adaptor_.Cylinder(), point, u, v);
                break;
            case GeomAbs_Cone:
                ElSLib::Parameters(adaptor_.Cone(), point, u, v);
                break;
            case GeomAbs_Sphere:
                ElSLib::Parameters(adaptor_.Sphere(), point, u, v);
                break;
            default:
                ElSLib::Parameters(adaptor_.Torus(), point, u, v);
        }
        return {u, v};
    }

    /// The straight curve of an edge if it has one; else the edge waits for the kernel.
    bool take(const TopoDS_Edge& edge) {
        Side side;
        side.edge = edge;
        const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, side.first, side.last);
        if (curve.IsNull() || !parameter_curve(edge).IsNull()) return false;
        if (is_elementary()) side.curve = straight(GeomAdaptor_Curve(curve, side.first, side.last));
        side.is_straight = !side.curve.IsNull();
        if (!side.is_straight) unsolved_.push_back(edge);
        loops_.back().push_back(side);
        return true;
    }

    Handle(Geom2d_Curve) parameter_curve(const TopoDS_Edge& edge) const {
        double first = 0.0, last = 0.0;
        return BRep_Tool::CurveOnSurface(edge, surface_, TopLoc_Location(), first, last);
    }

    /// The line through the parameters of the curve's middle, along the parameter that the curve
    /// follows there; null if the curve isn't that line.
    Handle(Geom2d_Line) straight(const GeomAdaptor_Curve& curve) const {
        const double t = (curve.FirstParameter() + curve.LastParameter()) / 2.0;
        gp_Pnt point, foot;
        gp_Vec tangent, du, dv;
        curve.D1(t, point, tangent);
        const Point2 place = parameters_of(point);
        adaptor_.D1(place.x(), place.y(), foot, du, dv);
        const double u_square = du.SquareMagnitude(), v_square = dv.SquareMagnitude();
        if (!(u_square > 0.0) || !(v_square > 0.0)) return {};
        const Vector2 speed(tangent.Dot(du) / u_square, tangent.Dot(dv) / v_square);
        const bool along_u =
            std::abs(speed.x()) * std::sqrt(u_square) > std::abs(speed.y()) * std::sqrt(v_square);
        const double fast = along_u ? speed.x() : speed.y();
        if (std::abs(std::abs(fast) - 1.0) > about) return {};
        const double way = fast > 0.0 ? 1.0 : -1.0;
        const Vector2 direction = along_u ? Vector2(way, 0.0) : Vector2(0.0, way);
        const Point2 start = place - t * direction;
        const Handle(Geom2d_Line) line =
            new Geom2d_Line(gp_Pnt2d(start.x(), start.y()), gp_Dir2d(direction.x(), direction.y()));
        if (!is_near(line, curve)) return {};
        return line;
    }

    bool is_near(const Handle(Geom2d_Line) & line, const GeomAdaptor_Curve& curve) const {
        const bool is_simple = curve.GetType() == GeomAbs_Line || curve.GetType() == GeomAbs_Circle;
        const int steps = is_simple ? 4 : 32;
        const double first = curve.FirstParameter(), last = curve.LastParameter();
        for (int i = 0; i <= steps; ++i) {
            const double t = first + (last - first) * i / steps;
            const gp_Pnt2d place = line->Value(t);
            if (adaptor_.Value(place.X(), place.Y()).Distance(curve.Value(t)) > nearness) {
                return false;
            }
        }
        return true;
    }

    /// Has the kernel project the edges that are left, as its healing would. No seams: which of the
    /// two curves is which only healing knows.
    bool project() {
        if (unsolved_.empty()) return true;
        for (const EdgeSides& loop : loops_) {
            for (const Side& side : loop) {
                if (!side.is_straight && other_use(side) != nullptr) return false;
            }
        }
        const Handle(ShapeAnalysis_Surface) analysis = new ShapeAnalysis_Surface(surface_);
        ShapeFix_Edge tool;
        for (EdgeSides& loop : loops_) {
            for (Side& side : loop) {
                if (side.is_straight) continue;
                tool.FixAddPCurve(side.edge, surface_, {}, Standard_False, analysis, precision_);
                side.curve =
                    BRep_Tool::CurveOnSurface(side.edge, surface_, {}, side.first, side.last);
                if (side.curve.IsNull()) return false;
            }
        }
        return true;
    }

    /// Removes what was projected: healing goes astray on curves that it finds out of place.
    void take_back() const {
        for (const TopoDS_Edge& edge : unsolved_) {
            builder_.UpdateEdge(edge, Handle(Geom2d_Curve)(), surface_, {}, 0.0);
        }
    }

    /// The multiple of each period that brings `from` nearest to `to`.
    Vector2 shift(const Point2& from, const Point2& to) const {
        Vector2 result = Vector2::Zero();
        for (int i = 0; i < 2; ++i) {
            if (period_[i] > 0.0) {
                result[i] = period_[i] * std::round((to[i] - from[i]) / period_[i]);
            }
        }
        return result;
    }

    /// Moves the curves of a loop by periods so that each starts where the one before ends.
    bool connect(EdgeSides& loop) const {
        for (size_t i = 1; i < loop.size(); ++i) {
            const Point2 end = loop[i - 1].to();
            loop[i].shift += shift(loop[i].from(), end);
            if (!meet(end, loop[i].from())) return false;
        }
        return meet(loop.back().to(), loop.front().from());
    }

    bool meet(const Point2& a, const Point2& b) const {
        return ((a - b).cwiseAbs().array() <= largest_jump_.array()).all();
    }

    static std::vector<Point2> polygon_of(const EdgeSides& loop) {
        std::vector<Point2> points;
        for (const Side& side : loop) {
            const int chords = side.is_straight ? 1 : chords_of_projected;
            for (int i = 0; i < chords; ++i) {
                points.push_back(side.along(static_cast<double>(i) / chords));
            }
        }
        return points;
    }

    static double area_of(const std::vector<Point2>& polygon) {
        double twice = 0.0;
        for (size_t i = 0; i < polygon.size(); ++i) {
            twice += cross(polygon[i], polygon[(i + 1) % polygon.size()]);
        }
        return twice / 2.0;
    }

    static Box2 box_of(const std::vector<Point2>& polygon) {
        Box2 box;
        for (const Point2& point : polygon) box.extend(point);
        return box;
    }

    static void move(EdgeSides& loop, const Vector2& shift) {
        for (Side& side : loop) side.shift += shift;
    }

    /// The outline into the first period, the holes into the outline.
    bool place_loops() {
        std::vector<double> areas;
        std::vector<Box2> boxes;
        for (const EdgeSides& loop : loops_) {
            const std::vector<Point2> polygon = polygon_of(loop);
            areas.push_back(area_of(polygon));
            boxes.push_back(box_of(polygon));
        }
        if (!is_outline_with_holes(areas)) return false;
        const auto outline =
            static_cast<size_t>(std::max_element(areas.begin(), areas.end()) - areas.begin());
        Vector2 into_first = Vector2::Zero();
        for (int i = 0; i < 2; ++i) {
            if (period_[i] > 0.0) {
                const double low = boxes[outline].min()[i];
                into_first[i] = -period_[i] * std::floor((low + largest_jump_[i]) / period_[i]);
            }
        }
        move(loops_[outline], into_first);
        const Box2 box = boxes[outline].translated(into_first);
        for (size_t i = 0; i < loops_.size(); ++i) {
            if (i == outline) continue;
            const Vector2 into_outline = shift(boxes[i].center(), box.center());
            move(loops_[i], into_outline);
            if (!box.contains(boxes[i].translated(into_outline))) return false;
        }
        return true;
    }

    void write() const {
        for (const EdgeSides& loop : loops_) {
            for (const Side& side : loop) {
                const Side* other = other_use(side);
                if (other == nullptr) {
                    // What was projected is there already, with its tolerance.
                    if (side.is_straight || !side.shift.isZero(0.0)) {
                        builder_.UpdateEdge(side.edge, moved_curve(side), surface_, {},
                                            side.is_straight ? nearness : 0.0);
                    }
                } else if (side.forward()) {
                    builder_.UpdateEdge(side.edge, moved_curve(side), moved_curve(*other), surface_,
                                        {}, nearness);
                }
            }
        }
    }

    /// Of a seam.
    const Side* other_use(const Side& side) const {
        for (const EdgeSides& loop : loops_) {
            for (const Side& other : loop) {
                if (&other != &side && other.edge.IsSame(side.edge)) return &other;
            }
        }
        return nullptr;
    }

    static Handle(Geom2d_Curve) moved_curve(const Side& side) {
        if (side.shift.isZero(0.0)) return side.curve;
        return Handle(Geom2d_Curve)::DownCast(
            side.curve->Translated(gp_Vec2d(side.shift.x(), side.shift.y())));
    }

    Handle(Geom_Surface) surface_;
    GeomAdaptor_Surface adaptor_;
    double precision_;
    Vector2 period_ = Vector2::Zero();
    Vector2 largest_jump_ = Vector2::Zero();
    bool is_open_or_periodic_ = true;
    std::vector<EdgeSides> loops_;
    std::vector<TopoDS_Edge> unsolved_;
    BRep_Builder builder_;
};

}  // namespace

bool add_parameter_curves(const TopoDS_Face& face, const std::vector<Loop>& loops, double precision,
                          TopTools_IndexedMapOfShape& projected) {
    return FaceCompletion(face, precision).run(loops, projected);
}

}  // namespace planform::model
