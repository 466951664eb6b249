#include "flatten/proof/section_witnesses.hpp"

#include <Geom2d_Line.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_Line.hxx>
#include <algorithm>
#include <cmath>

#include "curve/ray_parity.hpp"
#include "model/kernel/points.hpp"

namespace planform::flatten {
namespace {

/// Samples nearer to the plane than this (mm) say nothing about their side.
constexpr double clear_of_plane = 1e-6;
/// Samples along an edge that is not straight, and in each direction of a curved face.
constexpr int along_edge = 8, across_face = 5;
/// Most places on one curved face: one may be a matter of luck, more than a few cost.
constexpr std::size_t most_on_face = 6;

bool is_clear(double height) { return std::abs(height) > clear_of_plane; }

/// A zero between two samples of different sign: false position, halved where that creeps.
template <typename Height>
double zero_between(const Height& height, double a, double fa, double b, double fb) {
    for (int i = 0; i < 60 && std::abs(b - a) > 1e-15 * (std::abs(a) + std::abs(b)); ++i) {
        double c = a + (b - a) * fa / (fa - fb);
        if (i % 3 == 2 || !((c > a && c < b) || (c > b && c < a))) c = 0.5 * (a + b);
        const double fc = height(c);
        if (std::abs(fc) < 1e-11) return c;
        if ((fc > 0.0) == (fa > 0.0)) {
            a = c;
            fa = fc;
        } else {
            b = c;
            fb = fc;
        }
    }
    return 0.5 * (a + b);
}

class WitnessFinder {
  public:
    WitnessFinder(const solid::SectionSolid& solid, double level)
        : solid_(solid), graph_(solid.graph()), level_(level), on_edge_(graph_.edges.size()) {}

    std::vector<SectionWitness> run() {
        std::vector<char> seen(graph_.edges.size(), 0);
        for (std::size_t i = 0; i < graph_.faces.size(); ++i) {
            if (!solid_.face_range(i).meets(level_, 0.0)) continue;
            const solid::GraphFace& face = graph_.faces[i];
            for (const solid::EdgeUse& use : face.uses) {
                const auto edge = static_cast<std::size_t>(use.edge);
                if (seen[edge]++ == 0) look_along(graph_.edges[edge], on_edge_[edge], i);
            }
            const solid::FaceSurface& surface = solid_.surface(i);
            if (surface.is_plane())
                look_across(face, surface, i);
            else
                look_over(face, surface, i);
        }
        return std::move(found_);
    }

  private:
    void look_along(const solid::GraphEdge& edge, std::vector<Point3>& places, std::size_t face) {
        if (edge.degenerate() || !solid_.edge_range(edge.number - 1).meets(level_, 0.0)) return;
        int samples = edge.curve->IsKind(STANDARD_TYPE(Geom_Line)) ? 1 : along_edge;
        if (const auto spline = Handle(Geom_BSplineCurve)::DownCast(edge.curve); !spline.IsNull())
            samples = std::clamp(2 * spline->NbKnots(), along_edge, 64);
        const auto height = [&](double t) { return edge.point(t).z() - level_; };
        double from = edge.first, value = height(from);
        for (int i = 1; i <= samples; ++i) {
            const double to = edge.first + (edge.last - edge.first) * i / samples;
            const double next = height(to);
            if ((value > 0.0) != (next > 0.0) && is_clear(value) && is_clear(next)) {
                const Point3 place = edge.point(zero_between(height, from, value, to, next));
                places.push_back(place);
                found_.push_back({place.head<2>(), Vector2::Zero(), true, edge.number, face});
            }
            from = to;
            value = next;
        }
    }

    /// Of the places along the line in which a plane face meets the plane every second stretch lies
    /// in the face.
    void look_across(const solid::GraphFace& face, const solid::FaceSurface& surface,
                     std::size_t index) {
        const Vector3 normal = face.outward * surface.handed() * surface.z();
        const Vector2 outward = normal.head<2>();
        if (outward.norm() < 1e-3) return;
        const Vector2 along = Vector2(-outward.y(), outward.x()).normalized();
        std::vector<Point2> places;
        for (const solid::EdgeUse& use : face.uses) {
            const solid::GraphEdge& edge = graph_.edges[static_cast<std::size_t>(use.edge)];
            for (const int vertex : {edge.start_vertex, edge.end_vertex})
                if (vertex >= 0 &&
                    !is_clear(graph_.vertices[static_cast<std::size_t>(vertex)].z() - level_))
                    return;  // parity says nothing where the plane passes a corner
            for (const Point3& place : on_edge_[static_cast<std::size_t>(use.edge)])
                places.push_back(place.head<2>());
        }
        if (places.size() % 2 != 0) return;
        std::sort(places.begin(), places.end(),
                  [&](const Point2& a, const Point2& b) { return a.dot(along) < b.dot(along); });
        for (std::size_t i = 0; i + 1 < places.size(); i += 2)
            found_.push_back({0.5 * (places[i] + places[i + 1]), outward.normalized(), false,
                              face.number, index});
    }

    void look_over(const solid::GraphFace& face, const solid::FaceSurface& surface,
                   std::size_t index) {
        const Point2& low = surface.low();
        const Vector2 range = surface.range();
        const auto uv = [&](double u, double v) -> Point2 {
            return low + Vector2(u, v).cwiseProduct(range);
        };
        const auto height = [&](const Point2& p) {
            return surface.first_order(p).position.z() - level_;
        };
        double values[across_face][across_face];
        // Not on a regular share of a turn, where planes in special position lie.
        const auto share = [](int i) { return (i + 0.4567) / across_face; };
        for (int i = 0; i < across_face; ++i)
            for (int j = 0; j < across_face; ++j) values[i][j] = height(uv(share(i), share(j)));
        struct Change {
            int i, j, next_i, next_j;
        };
        std::vector<Change> changes;
        const auto look = [&](int i, int j, int next_i, int next_j) {
            const double a = values[i][j], b = values[next_i][next_j];
            if ((a > 0.0) != (b > 0.0) && is_clear(a) && is_clear(b))
                changes.push_back({i, j, next_i, next_j});
        };
        for (int i = 0; i < across_face; ++i)
            for (int j = 0; j < across_face; ++j) {
                if (i + 1 < across_face) look(i, j, i + 1, j);
                if (j + 1 < across_face) look(i, j, i, j + 1);
            }
        // Spread over all of them: a face may meet the plane in several curves.
        const std::size_t count = std::min(changes.size(), most_on_face);
        for (std::size_t k = 0; k < count; ++k) {
            const Change& c = changes[(2 * k + 1) * changes.size() / (2 * count)];
            const Point2 from = uv(share(c.i), share(c.j)),
                         to = uv(share(c.next_i), share(c.next_j));
            const auto at = [&](double t) -> Point2 { return from + t * (to - from); };
            const double t = zero_between([&](double s) { return height(at(s)); }, 0.0,
                                          values[c.i][c.j], 1.0, values[c.next_i][c.next_j]);
            add(face, surface, at(t), index);
        }
    }

    void add(const solid::GraphFace& face, const solid::FaceSurface& surface, const Point2& uv,
             std::size_t index) {
        const solid::SurfacePoint place = surface.first_order(uv);
        const Vector3 normal = face.outward * place.du.cross(place.dv);
        const double size = normal.norm();
        Vector2 outward = Vector2::Zero();
        // Where the plane all but touches, the direction within it is noise.
        if (size > 0.0 && normal.head<2>().norm() > 0.05 * size)
            outward = normal.head<2>().normalized();
        found_.push_back({place.position.head<2>(), outward, false, face.number, index, uv});
    }

    const solid::SectionSolid& solid_;
    const solid::ShapeGraph& graph_;
    double level_;
    std::vector<std::vector<Point3>> on_edge_;
    std::vector<SectionWitness> found_;
};

}  // namespace

bool lies_within(const solid::FaceSurface& surface, const Point2& uv) {
    constexpr int chords = 24;
    bool inside = false;
    for (const solid::ParameterCurve& side : surface.boundary()) {
        if (side.curve.IsNull()) return true;
        const int count = side.curve->IsKind(STANDARD_TYPE(Geom2d_Line)) ? 1 : chords;
        Point2 a;
        for (int i = 0; i <= count; ++i) {
            const Point2 b = model::from_kernel(
                side.curve->Value(side.first + (side.last - side.first) * i / count));
            if (i > 0 && detail::ray_crosses(uv, a, b)) inside = !inside;
            a = b;
        }
    }
    return inside;
}

std::vector<SectionWitness> section_witnesses(const solid::SectionSolid& solid, double level) {
    if (!solid.range().meets(level, 0.0)) return {};
    return WitnessFinder(solid, level).run();
}

}  // namespace planform::flatten
