#include "flatten/proof/surface_places.hpp"

#include <Geom2d_Line.hxx>
#include <GeomAdaptor_Curve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_Ellipse.hxx>
#include <Geom_Line.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "curve/ray_parity.hpp"
#include "model/kernel/points.hpp"
#include "solid/face_surface.hpp"

namespace planform::flatten {
namespace {

/// How many pieces an edge has.
int pieces_of(const solid::GraphEdge& edge) {
    const Handle(Standard_Type)& kind = edge.curve->DynamicType();
    if (kind == STANDARD_TYPE(Geom_Line)) return 1;
    if (kind == STANDARD_TYPE(Geom_Circle) || kind == STANDARD_TYPE(Geom_Ellipse))
        return static_cast<int>(std::ceil((edge.last - edge.first) / (0.25 * pi)));
    const GeomAdaptor_Curve curve(edge.curve, edge.first, edge.last);
    // Twice as many as spans: the middle of a span alone is where a symmetric wave has its crest.
    return 2 * std::max(1, curve.NbIntervals(GeomAbs_CN));
}

/// The boundary of a face in its parameters as a polygon that is good enough to find places well
/// inside: what lies near a curved side counts as outside.
class RoughInterior {
  public:
    explicit RoughInterior(const solid::FaceSurface& surface)
        : low_(surface.low()), range_(surface.range().cwiseMax(1e-300)) {
        for (const solid::ParameterCurve& side : surface.boundary()) add(side);
    }

    bool holds(const Point2& uv) const {
        if (!is_whole_) return false;
        const Point2 p = (uv - low_).cwiseQuotient(range_);
        bool inside = false;
        for (std::size_t i = 0; i < starts_.size(); ++i) {
            const Point2 &a = starts_[i], &b = ends_[i];
            if (curved_[i] && is_beside(p, a, b)) return false;
            if (detail::ray_crosses(p, a, b)) inside = !inside;
        }
        return inside;
    }

  private:
    /// Sides of a curve that is not straight, and how near to a side is too near, as a share of its
    /// length: three times what a sixteenth of a circle rises over its chord.
    static constexpr int pieces = 16;
    static constexpr double beside = 0.15;

    static bool is_beside(const Point2& p, const Point2& a, const Point2& b) {
        const Vector2 way = b - a;
        const double square = way.squaredNorm();
        const double along = square > 0.0 ? std::clamp((p - a).dot(way) / square, 0.0, 1.0) : 0.0;
        return (a + along * way - p).squaredNorm() < beside * beside * square;
    }

    void add(const solid::ParameterCurve& side) {
        if (side.curve.IsNull()) {
            is_whole_ = false;
            return;
        }
        const bool is_straight = side.curve->DynamicType() == STANDARD_TYPE(Geom2d_Line);
        const int count = is_straight ? 1 : pieces;
        const auto at = [&](int i) -> Point2 {
            const Point2 uv = model::from_kernel(
                side.curve->Value(side.first + (side.last - side.first) * i / count));
            return (uv - low_).cwiseQuotient(range_);
        };
        Point2 start = at(0);
        for (int i = 1; i <= count; ++i) {
            const Point2 end = at(i);
            starts_.push_back(start);
            ends_.push_back(end);
            curved_.push_back(is_straight ? 0 : 1);
            start = end;
        }
    }

    Point2 low_;
    Vector2 range_;
    bool is_whole_ = true;
    std::vector<Point2> starts_, ends_;
    std::vector<char> curved_;  ///< by side: it stands for a curve
};

}  // namespace

void add_edge_places(const solid::ShapeGraph& graph, const solid::GraphFace& face, int solid,
                     int most, std::vector<char>& seen, std::vector<proof::SurfacePlace>& places) {
    for (const solid::EdgeUse& use : face.uses) {
        if (seen[static_cast<std::size_t>(use.edge)] != 0) continue;
        seen[static_cast<std::size_t>(use.edge)] = 1;
        const solid::GraphEdge& edge = graph.edges[static_cast<std::size_t>(use.edge)];
        if (edge.degenerate()) continue;
        const int count = std::min(most, pieces_of(edge));
        for (int i = 0; i < count; ++i) {
            const double t = edge.first + (edge.last - edge.first) * (i + 0.5) / count;
            places.push_back({edge.point(t).head<2>(), solid, face.number});
        }
    }
}

void add_inner_places(const solid::FaceSurface& surface, int face, int solid, int count,
                      std::vector<proof::SurfacePlace>& places) {
    if (surface.is_plane()) return;  // its edges bound it on the datum, too
    const RoughInterior interior(surface);
    for (int i = 0; i < count; ++i)
        for (int j = 0; j < count; ++j) {
            const Point2 share((i + 0.5) / count, (j + 0.5) / count);
            const Point2 uv = surface.low() + share.cwiseProduct(surface.range());
            if (interior.holds(uv))
                places.push_back({surface.first_order(uv).position.head<2>(), solid, face});
        }
}

}  // namespace planform::flatten
