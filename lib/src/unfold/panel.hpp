#pragma once

/// A face of the sheet in its middle layer, and how that is laid flat.
///
/// Notation: t thickness; the middle layer lies t/2 below either side. Of a cylinder or cone: angle
/// a about the axis from the middle of the face's turn, height z along the axis, distance s from
/// the apex along the cone; n what the neutral fibre has, m what the middle layer has.

#include "planform/geometry.hpp"
#include "unfold/sheet_surface.hpp"

namespace planform::unfolding {

class Panel {
  public:
    /// `upper`: the face is on the side that looks at the reader.
    Panel(int face, const SheetSurface& surface, bool upper, double thickness);

    int face() const { return face_; }
    SurfaceKind kind() const { return kind_; }
    bool is_upper() const { return upper_; }
    bool is_curved() const { return kind_ != SurfaceKind::plane; }
    /// True if the walls beside it rise towards the reader: the axis is above the sheet.
    bool bends_up() const { return is_curved() && !up_is_away_; }
    const Vector3& axis() const { return z_; }
    const Point3& origin() const { return origin_; }
    double half_angle() const { return half_angle_; }
    double middle_radius() const { return middle_radius_; }
    double neutral_radius() const { return neutral_radius_; }
    /// Of a cone: what distances from the apex are longer in the blank than in the middle layer.
    double neutral_shift() const { return neutral_shift_; }

    /// Unit normal towards the reader.
    Vector3 up_at(const Point3& place) const;
    /// Height over the middle layer, towards the reader.
    double height(const Point3& place) const;
    /// The place moved along the normal into the middle layer.
    Point3 in_middle(const Point3& place) const { return place - height(place) * up_at(place); }

    /// Angle of a place about the axis, -pi to pi.
    double angle(const Point3& place) const;
    /// Height along the axis (cylinder), distance from the apex of the middle layer (cone).
    double along(const Point3& place) const;

    /// Of a bend, the straight line in the middle layer at an angle about the axis: a place of it
    /// (a cone's apex) and its unit direction, upwards along the axis.
    struct Ruling {
        Point3 place;
        Vector3 direction;
    };
    Ruling ruling(double angle) const;

    /// A place of the middle layer, where it lies flat, and which way its flat x runs there.
    struct Frame {
        Point3 place;
        Vector3 x, up;
        Point2 flat;
    };
    Frame frame() const;

    /// Says where the neutral fibre of a bend lies, mm from its inside.
    void set_neutral_depth(double depth);
    /// Length of the neutral fibre over that of the middle layer, across the bend; 1 for walls. Of
    /// a cone where the middle layer has this distance from the apex.
    double stretch(double along) const;
    /// A place of the middle layer, laid flat, in coordinates of its own.
    Point2 flat(const Point3& place) const;
    /// The inverse for walls.
    Point3 from_flat(const Point2& place, double height) const;

    /// From its own flat coordinates to the blank.
    Transform2 placement = Transform2::Identity();
    bool is_placed = false;
    int parent = -1;  ///< the panel that it was placed beside

    Point2 in_blank(const Point3& place) const { return placement * flat(place); }

  private:
    int face_;
    SurfaceKind kind_;
    bool upper_;
    bool up_is_away_ = true;
    double thickness_;
    Point3 origin_;  ///< wall: of the middle plane; bend: on the axis; cone: apex of the middle
    Vector3 x_, y_, z_;
    double middle_radius_ = 0.0, neutral_radius_ = 0.0;
    double half_angle_ = 0.0, neutral_shift_ = 0.0;
};

}  // namespace planform::unfolding
