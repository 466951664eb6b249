#pragma once

/// Assemblies that are drawn so that it is known which curves mate.

#include <TopoDS_Shape.hxx>
#include <gp_Trsf.hxx>
#include <random>
#include <vector>

#include "planform/contact.hpp"

namespace assemblies {

using planform::Point2;

/// A sheet over a polygon with polygonal holes, between z = 0 and `thickness`.
TopoDS_Shape sheet(const std::vector<Point2>& outer, double thickness,
                   const std::vector<std::vector<Point2>>& holes = {});
TopoDS_Shape cylinder(double x, double y, double radius, double from, double to);
TopoDS_Shape cut(const TopoDS_Shape& body, const TopoDS_Shape& tool);
std::vector<Point2> rectangle(double left, double low, double right, double high);

/// The sheet's x, y and z to these directions, its origin to this place.
gp_Trsf frame(const planform::Point3& origin, const planform::Vector3& x,
              const planform::Vector3& y);
gp_Trsf random_motion(std::mt19937_64& random);
/// As an instance that shares its geometry, or as a body of its own.
TopoDS_Shape placed(const TopoDS_Shape& body, const gp_Trsf& motion, bool as_instance);
planform::Model model_of(const std::vector<TopoDS_Shape>& bodies);

/// A ring of `sides` equal plates, upright, which mesh in fingers at each corner. Plates are drawn
/// with x along the ring, from -length to 0 between the inner corners, y up.
struct FingerRing {
    int sides = 4;
    int levels = 5;  ///< fingers and gaps over the height
    double thickness = 3.0;
    double height = 50.0;
    double length = 80.0;

    /// Inside angle at the corners.
    double angle() const;
    /// Where fingers and gaps end, beyond the inner corner.
    double finger_end() const;
    double gap_end() const;
    double level(int k) const { return height * k / levels; }
    std::vector<Point2> outline() const;
    std::vector<TopoDS_Shape> bodies(const gp_Trsf& motion, bool as_instances) const;
};

}  // namespace assemblies
