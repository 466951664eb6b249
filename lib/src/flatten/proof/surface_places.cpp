#include "flatten/proof/surface_places.hpp"

#include <Geom2dAdaptor_Curve.hxx>
#include <Geom2d_Line.hxx>
#include <GeomAdaptor_Curve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_Ellipse.hxx>
#include <Geom_Line.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "curve/ray_parity.hpp"
#include "flatten/bounds/smooth_spans.hpp"
#include "model/kernel/points.hpp"
#include "solid/face_surface.hpp"

namespace planform::flatten {
namespace {

/// So many places along an edge, evenly.
std::vector<double> even_places(const solid::GraphEdge& edge, int count) {
    std::vector<double> places;
    for (int i = 0; i < count; ++i)
        places.push_back(edge.first + (edge.last - edge.first) * (i + 0.5) / count);
    return places;
}

/// Places along an edge, at most so many.
std::vector<double> places_along(const solid::GraphEdge& edge, int most) {
    const Handle(Standard_Type)& kind = edge.curve->DynamicType();
    if (kind == STANDARD_TYPE(Geom_Line)) return even_places(edge, 1);
    if (kind == STANDARD_TYPE(Geom_Circle) || kind == STANDARD_TYPE(Geom_Ellipse))
        return even_places(
            edge,
            std::min(most, static_cast<int>(std::ceil((edge.last - edge.first) / (0.25 * pi)))));
    const GeomAdaptor_Curve curve(edge.curve, edge.first, edge.last);
    const int spans = std::max(1, curve.NbIntervals(GeomAbs_CN));
    if (2 * spans > most) return even_places(edge, most);
    // Two in each span, however short it is: the middle alone is where a symmetric wave has its
    // crest.
    TColStd_Array1OfReal ends(1, spans + 1);
    curve.Intervals(ends, GeomAbs_CN);
    std::vector<double> places;
    for (int k = 1; k <= spans; ++k)
        for (const double share : {0.25, 0.75})
            places.push_back(ends(k) + share * (ends(k + 1) - ends(k)));
    return places;
}

/// The boundary of a face in its parameters as a polygon that is good enough to find places well
/// inside: what lies near a curved side counts as outside.
class RoughInterior {
  public:
    explicit RoughInterior(const solid::FaceSurface& surface)
        : low_(surface.low()), range_(surface.range().cwiseMax(1e-300)) {
        for (const solid::ParameterCurve& side : surface.boundary()) add(side);
    }

    /// Calls `visit` for the pairs of parameters that lie in it.
    template <typename Visit>
    void for_each_inside(const std::vector<double>& u, const std::vector<double>& v,
                         const Visit& visit) const {
        if (!is_whole_) return;
        std::vector<const Side*> in_row;  // the sides that matter to any place of the row
        for (const double at_v : v) {
            const double y = (at_v - low_.y()) / range_.y();
            in_row.clear();
            for (const Side& side : sides_)
                if (side.reaches(y)) in_row.push_back(&side);
            for (const double at_u : u)
                if (holds(in_row, {(at_u - low_.x()) / range_.x(), y})) visit(Point2(at_u, at_v));
        }
    }

  private:
    /// Sides of a curve that is not straight, and how near to a side is too near, as a share of its
    /// length: three times what a sixteenth of a circle rises over its chord.
    static constexpr int pieces = 16;
    static constexpr double beside = 0.15;

    struct Side {
        Point2 start, end;
        double square;  ///< of its length; 0 for one that stands for a straight curve

        bool reaches(double y) const {
            const double margin = beside * std::sqrt(square);
            return std::min(start.y(), end.y()) - margin <= y &&
                   y <= std::max(start.y(), end.y()) + margin;
        }
        bool is_beside(const Point2& p) const {
            if (square == 0.0) return false;
            const Vector2 way = end - start, from_start = p - start;
            const double along = std::clamp(from_start.dot(way) / square, 0.0, 1.0);
            return (along * way - from_start).squaredNorm() < beside * beside * square;
        }
    };

    static bool holds(const std::vector<const Side*>& in_row, const Point2& p) {
        bool inside = false;
        for (const Side* side : in_row) {
            if (side->is_beside(p)) return false;
            if (detail::ray_crosses(p, side->start, side->end)) inside = !inside;
        }
        return inside;
    }

    void add(const solid::ParameterCurve& side) {
        if (side.curve.IsNull()) {
            is_whole_ = false;
            return;
        }
        const bool is_straight = side.curve->DynamicType() == STANDARD_TYPE(Geom2d_Line);
        const int count = is_straight ? 1 : pieces;
        const Geom2dAdaptor_Curve curve(side.curve, side.first, side.last);
        const auto at = [&](int i) -> Point2 {
            const Point2 uv =
                model::from_kernel(curve.Value(side.first + (side.last - side.first) * i / count));
            return (uv - low_).cwiseQuotient(range_);
        };
        Point2 start = at(0);
        for (int i = 1; i <= count; ++i) {
            const Point2 end = at(i);
            sides_.push_back({start, end, is_straight ? 0.0 : (end - start).squaredNorm()});
            start = end;
        }
    }

    Point2 low_;
    Vector2 range_;
    bool is_whole_ = true;
    std::vector<Side> sides_;
};

/// At all pairs of parameters that lie in the face.
void add_places_at(const solid::FaceSurface& surface, const std::vector<double>& u,
                   const std::vector<double>& v, int face, int solid,
                   std::vector<proof::SurfacePlace>& places) {
    if (surface.is_plane()) return;  // its edges bound it on the datum, too
    RoughInterior(surface).for_each_inside(u, v, [&](const Point2& uv) {
        places.push_back({surface.position(uv).head<2>(), solid, face});
    });
}

}  // namespace

void add_edge_places(const solid::ShapeGraph& graph, const solid::GraphFace& face, int solid,
                     int most, std::vector<char>& seen, std::vector<proof::SurfacePlace>& places) {
    for (const solid::EdgeUse& use : face.uses) {
        if (seen[static_cast<std::size_t>(use.edge)] != 0) continue;
        seen[static_cast<std::size_t>(use.edge)] = 1;
        const solid::GraphEdge& edge = graph.edges[static_cast<std::size_t>(use.edge)];
        if (edge.degenerate()) continue;
        for (const double t : places_along(edge, most))
            places.push_back({edge.point(t).head<2>(), solid, face.number});
    }
}

void add_inner_places(const solid::FaceSurface& surface, int face, int solid, int count,
                      std::vector<proof::SurfacePlace>& places) {
    const Point2 &low = surface.low(), &high = surface.high();
    add_places_at(surface, places_inside({low.x(), high.x()}, count),
                  places_inside({low.y(), high.y()}, count), face, solid, places);
}

void add_places_in_spans(const solid::FaceSurface& surface, int face, int solid,
                         std::vector<proof::SurfacePlace>& places) {
    constexpr int least = 6, a_span = 3;
    const auto along = [&](Parameter parameter) {
        const std::vector<double> ends = smooth_spans(surface, parameter);
        const auto spans = static_cast<int>(ends.size()) - 1;
        return places_inside(ends, std::max(a_span, (least + spans - 1) / spans));
    };
    add_places_at(surface, along(Parameter::u), along(Parameter::v), face, solid, places);
}

}  // namespace planform::flatten
