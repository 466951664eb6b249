#include "model/heal/sides.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <IntCurvesFace_Intersector.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <gp_Lin.hxx>
#include <memory>
#include <vector>

#include "curve/angles.hpp"
#include "model/kernel/points.hpp"
#include "model/measure/bounds.hpp"
#include "model/measure/measure.hpp"

namespace planform::model {

namespace {

/// By so many rays one side must lead, and how many are tried.
constexpr int wanted_lead = 3;
constexpr int most_rays = 200;
/// A ray counts where it meets faces at more than this sine, and so far apart, a share of the size.
constexpr double least_sine = 1e-3;
constexpr double least_step = 1e-7;

/// The fractional parts of i times these fill the cube evenly: 1 / g, 1 / g^2, ... with g the root
/// of x^6 = x + 1 (M. Roberts, "The unreasonable effectiveness of quasirandom sequences", 2018;
/// from memory, and nothing depends on it but the number of rays tried).
constexpr double steps[5] = {0.8812714616335696, 0.7766393890897682, 0.6844301295853426,
                             0.6031687406857282, 0.5315553977157792};

double share(int ray, int axis) {
    const double x = 0.5 + (ray + 1) * steps[axis];
    return x - std::floor(x);
}

/// Where a ray meets the boundary, and whether it goes into what that bounds.
struct Meeting {
    double way;
    bool enters;
};

class Rays {
  public:
    explicit Rays(const TopoDS_Shape& shape) : box_(tight_box(shape)) {
        for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
            const TopoDS_Face& face = TopoDS::Face(faces.Current());
            Face& added = faces_.emplace_back();
            added.face = face;
            added.surface.Initialize(face, Standard_False);
            added.intersector = std::make_unique<IntCurvesFace_Intersector>(face, 1e-9);
            for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
                const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
                if (!BRep_Tool::Degenerated(edge)) added.edges.push_back(edge);
            }
        }
    }

    std::optional<bool> vote() const {
        if (box_.isEmpty() || faces_.empty()) return std::nullopt;
        int lead = 0;  // of rays that say outward
        for (int ray = 0; ray < most_rays && std::abs(lead) < wanted_lead; ++ray) {
            const std::optional<bool> enters = enters_first(ray);
            if (enters) lead += *enters ? 1 : -1;
        }
        if (std::abs(lead) < wanted_lead) return std::nullopt;
        return lead > 0;
    }

  private:
    struct Face {
        TopoDS_Face face;
        BRepAdaptor_Surface surface;
        std::vector<TopoDS_Edge> edges;
        std::unique_ptr<IntCurvesFace_Intersector> intersector;
    };

    /// Between two places on the edges of one face after the other, so that slender bodies are met;
    /// without edges anywhere in the box.
    Point3 target_of(int ray) const {
        const std::vector<TopoDS_Edge>& edges =
            faces_[static_cast<std::size_t>(ray) % faces_.size()].edges;
        Point3 target;
        if (edges.empty()) {
            for (const int i : {0, 1, 2})
                target[i] = box_.min()[i] + share(ray, i) * box_.sizes()[i];
            return target;
        }
        const auto place = [&](int axis) {
            const double where = share(ray, axis) * static_cast<double>(edges.size());
            const auto number = static_cast<std::size_t>(where);
            const BRepAdaptor_Curve curve(edges[number]);
            const double part = where - static_cast<double>(number);
            return from_kernel(curve.Value(
                curve.FirstParameter() + part * (curve.LastParameter() - curve.FirstParameter())));
        };
        const double between = share(ray, 2);
        return (1.0 - between) * place(0) + between * place(1);
    }

    std::optional<bool> enters_first(int ray) const {
        const double size = box_.diagonal().norm();
        Point3 target;
        for (const int i : {0, 1, 2}) target[i] = box_.min()[i] + share(ray, i) * box_.sizes()[i];
        const double height = 2.0 * share(ray, 3) - 1.0, angle = full_turn * share(ray, 4);
        const double across = std::sqrt(1.0 - height * height);
        const Vector3 direction(across * std::cos(angle), across * std::sin(angle), height);
        const Point3 start = target - 2.0 * size * direction;
        const gp_Lin line(to_kernel_point(start), to_kernel_direction(direction));
        std::vector<Meeting> meetings;
        for (const Face& face : faces_)
            if (!meet(face, line, 4.0 * size, meetings)) return std::nullopt;
        std::sort(meetings.begin(), meetings.end(),
                  [](const Meeting& a, const Meeting& b) { return a.way < b.way; });
        if (meetings.empty() || meetings.size() % 2 != 0) return std::nullopt;
        for (std::size_t i = 1; i < meetings.size(); ++i) {
            if (meetings[i].enters == meetings[i - 1].enters) return std::nullopt;
            if (meetings[i].way - meetings[i - 1].way < least_step * size) return std::nullopt;
        }
        return meetings.front().enters;
    }

    /// False if the ray meets the face in a way that doesn't count.
    static bool meet(const Face& face, const gp_Lin& line, double reach,
                     std::vector<Meeting>& meetings) {
        face.intersector->Perform(line, 0.0, reach);
        if (!face.intersector->IsDone()) return false;
        for (int i = 1; i <= face.intersector->NbPnt(); ++i) {
            gp_Pnt point;
            gp_Vec along_u, along_v;
            face.surface.D1(face.intersector->UParameter(i), face.intersector->VParameter(i), point,
                            along_u, along_v);
            const gp_Vec normal = along_u.Crossed(along_v);
            const double way = normal.Dot(gp_Vec(line.Direction()));
            if (!(std::abs(way) > least_sine * normal.Magnitude())) return false;
            const bool is_reversed = face.face.Orientation() == TopAbs_REVERSED;
            meetings.push_back({face.intersector->WParameter(i), (way < 0.0) != is_reversed});
        }
        return true;
    }

    Box3 box_;
    std::vector<Face> faces_;
};

}  // namespace

std::optional<bool> is_outward_by_rays(const TopoDS_Shape& shape) { return Rays(shape).vote(); }

Sides sides_of(const TopoDS_Shape& shape) {
    if (rough_volume(shape) > 0.0) return Sides::outward;
    const std::optional<bool> by_rays = is_outward_by_rays(shape);
    if (by_rays && !*by_rays) return Sides::inside_out;
    const bool by_volume = volume_of(shape) > 0.0;
    const bool by_triangles = mesh_volume_of(shape) > 0.0;
    if (by_volume == by_triangles && (!by_rays || *by_rays == by_volume))
        return by_volume ? Sides::outward : Sides::inside_out;
    return by_rays && (by_volume || by_triangles) ? Sides::outward : Sides::unclear;
}

}  // namespace planform::model
