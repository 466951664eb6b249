#include "model/sides.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <IntCurvesFace_Intersector.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <gp_Lin.hxx>
#include <memory>
#include <vector>

#include "model/bounds.hpp"
#include "model/measure.hpp"

namespace planform::model {

namespace {

/// Rays that must agree, and how many are tried.
constexpr int wanted_rays = 3;
constexpr int most_rays = 60;
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
            faces_.push_back({face, BRepAdaptor_Surface(face, Standard_False),
                              std::make_unique<IntCurvesFace_Intersector>(face, 1e-9)});
        }
    }

    std::optional<bool> vote() const {
        if (box_.isEmpty()) return std::nullopt;
        int outward = 0, inward = 0;
        for (int ray = 0; ray < most_rays && outward + inward < wanted_rays; ++ray) {
            const std::optional<bool> enters = enters_first(ray);
            if (enters) ++(*enters ? outward : inward);
        }
        if (outward + inward < wanted_rays || (outward > 0 && inward > 0)) return std::nullopt;
        return outward > 0;
    }

  private:
    struct Face {
        TopoDS_Face face;
        BRepAdaptor_Surface surface;
        std::unique_ptr<IntCurvesFace_Intersector> intersector;
    };

    std::optional<bool> enters_first(int ray) const {
        const double size = box_.diagonal().norm();
        Point3 target;
        for (const int i : {0, 1, 2}) target[i] = box_.min()[i] + share(ray, i) * box_.sizes()[i];
        const double height = 2.0 * share(ray, 3) - 1.0, angle = 2.0 * pi * share(ray, 4);
        const double across = std::sqrt(1.0 - height * height);
        const Vector3 direction(across * std::cos(angle), across * std::sin(angle), height);
        const Point3 start = target - 2.0 * size * direction;
        const gp_Lin line(gp_Pnt(start.x(), start.y(), start.z()),
                          gp_Dir(direction.x(), direction.y(), direction.z()));
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
