#pragma once

/// What the recognition of plates asks of the faces of a solid.

#include <TopoDS_Face.hxx>
#include <optional>
#include <vector>

#include "model/measure/planar_face.hpp"
#include "planform/geometry.hpp"

namespace planform::plate {

/// A surface that turns around an axis.
struct TurnAxis {
    Point3 point;
    Vector3 axis;  ///< zero for a sphere: any axis through its centre
};

struct Cylinder {
    Point3 point;
    Vector3 axis;
    double radius;
    bool hollow;   ///< its material is outside
    double sweep;  ///< angle that the face covers, rad
};

/// Model coordinates, mm, mm^2.
struct FaceFacts {
    TopoDS_Face face;
    int number = 0;
    double area = 0.0;
    std::optional<model::Plane> plane;
    std::optional<Cylinder> cylinder;
    std::optional<TurnAxis> turning;
};

std::vector<FaceFacts> face_facts(const TopoDS_Shape& shape);

/// Area of all faces together.
double surface_area(const std::vector<FaceFacts>& faces);

/// Planar faces that look the same way.
struct Facing {
    Vector3 outward;
    double area = 0.0;
    std::vector<std::size_t> faces;  ///< the largest first, then by number
};

/// By falling area.
std::vector<Facing> facings(const std::vector<FaceFacts>& faces);

/// Two directions closer than this count as the same, rad: whether faces are flat at a height is
/// decided over their extent (solid::straight_within).
inline constexpr double same_direction = 1e-4;

}  // namespace planform::plate
