#pragma once

/// Bent sheets made with the kernel, whose blanks are known from how they are made.

#include <TopoDS_Shape.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Ax2.hxx>
#include <gp_Trsf.hxx>
#include <string>
#include <vector>

#include "planform/unfold.hpp"

namespace sheets {

using planform::Point2;
using planform::Point3;
using planform::ProfileSet;

/// rad
constexpr double degree = planform::pi / 180.0;

/// A bend and the wall after it. Radius 0 has a sharp inner edge.
struct Flange {
    double angle;  ///< rad
    bool up;
    double radius;  ///< inside, mm
    double length;  ///< of the wall after it, mm
};

/// One strip: a wall of the given length along x (0: none), bends and walls after it, `width` mm
/// along y; the first wall has its lower side on z = 0. Exact: one extruded cross-section.
TopoDS_Shape strip(double thickness, double width, double first, const std::vector<Flange>& rest);

/// The length of the strip's blank by K factor.
double strip_length(double thickness, double k_factor, double first,
                    const std::vector<Flange>& rest);

/// What is cut through a bend: a closed wire in the plane z = 0 about the origin, and how wide it
/// is along y.
struct Outline {
    TopoDS_Wire wire;
    double width;
};
Outline ellipse(double length, double width);
/// With round ends; the length is that over all.
Outline slot(double length, double width);

/// A base wall with flanges at its edges and flanges at theirs.
class BentSheet {
  public:
    BentSheet(double thickness, double k_factor, double width, double height);

    /// The wall number 0 is the base. Edges: 0 right, 1 upper, 2 left, 3 lower of a wall; of a
    /// wall after a bend 0 is the far one, 1 and 3 its sides. From `from` to `to` along the edge,
    /// counter-clockwise. Returns the number of the new wall.
    int attach(int wall, int edge, double from, double to, const Flange& flange);
    /// Cuts a round hole through a wall, at a place in its own coordinates.
    void drill(int wall, const Point2& place, double diameter);
    /// Cuts a rectangular window with a corner at `place`.
    void cut(int wall, const Point2& place, double width, double height);
    /// Cuts a round hole through the middle of the bend before a wall, along its bisector; not
    /// part of outline().
    void drill_bend(int wall, double along, double diameter);

    /// Cuts an outline through the same bend along the same direction; its x runs along the bend
    /// and its origin lies where a hole's middle would; not part of outline().
    void cut_bend(int wall, double along, const Outline& outline);

    const TopoDS_Shape& body() const { return body_; }
    /// Of the pieces before they were joined, holes taken off.
    double volume_of_pieces() const { return volume_; }
    /// Area of the pieces of the blank before they were joined; larger than that of outline() if
    /// they overlap.
    double area_of_pieces() const { return area_; }
    /// The blank: union of rectangles without holes, in coordinates of the base.
    ProfileSet outline() const;
    const std::vector<Flange>& bends() const { return bends_; }

  private:
    struct Wall {
        gp_Trsf placed;  ///< from its own frame: lower side on z = 0, corner in the origin
        planform::Transform2 flat;
        double width, height;
        Flange before{0.0, true, 0.0, 0.0};
    };
    ProfileSet rectangle(const planform::Transform2& at, double width, double height) const;
    /// Through the bend before a wall: z along the bisector, x along the axis.
    struct Bore {
        gp_Ax2 frame;
        double depth;
    };
    Bore through_bend(const Wall& wall, double along, double half_width) const;

    double thickness_, k_factor_;
    std::vector<Wall> walls_;
    std::vector<Flange> bends_;
    std::vector<ProfileSet> pieces_, holes_;
    TopoDS_Shape body_;
    double volume_ = 0.0, area_ = 0.0;
};

/// The only solid of a shape.
planform::Solid solid_of(const TopoDS_Shape& shape);
/// Unfolded by a K factor; the solid has to stay as it is, byte for byte.
planform::Blank unfolded(const TopoDS_Shape& shape, double k_factor, double tolerance = 0.01);
/// Why it isn't; the solid stays as it is here, too.
planform::UnfoldRefusal refused(const TopoDS_Shape& shape);
double volume(const TopoDS_Shape& shape);
/// Greatest distance between two outlines under the best motion, or infinity if there is none
/// within `tolerance`.
double difference(const ProfileSet& first, const ProfileSet& second, double tolerance,
                  bool mirrored = false);

}  // namespace sheets
