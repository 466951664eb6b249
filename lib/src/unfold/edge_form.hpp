#pragma once

/// An edge of the solid, made ready for many questions: lines and circles, which nearly all edges
/// of sheets are, in closed form, without the kernel.

#include <cmath>
#include <utility>
#include <vector>

#include "planform/geometry.hpp"
#include "solid/shape_graph.hpp"

namespace planform::unfolding {

class EdgeForm {
  public:
    enum class Kind { line, circle, other };

    /// The edge must outlive its form, and must not be degenerate.
    explicit EdgeForm(const solid::GraphEdge& edge);

    Kind kind() const { return kind_; }
    double first() const { return edge_->first; }
    double last() const { return edge_->last; }
    Point3 point(double t) const;
    /// dP/dt.
    Vector3 derivative(double t) const { return first_order(t).second; }
    /// The place and dP/dt.
    std::pair<Point3, Vector3> first_order(double t) const;
    /// Distance of a place from the edge, mm.
    double distance(const Point3& place) const;
    /// No more than that, by a ball about the edge; -infinity of others than lines and circles.
    double least_distance(const Point3& place) const {
        return (place - ball_center_).norm() - ball_radius_;
    }
    /// Parameters between which the curve is smooth, the ends among them; empty if the curve is of
    /// a kind that tells none.
    std::vector<double> smooth_stretches() const;

    // Of a circle:
    const Point3& center() const { return center_; }
    const Vector3& x() const { return x_; }
    const Vector3& y() const { return y_; }
    double radius() const { return radius_; }

  private:
    const solid::GraphEdge* edge_;
    Kind kind_ = Kind::other;
    Point3 start_, end_, center_;
    Point3 ball_center_ = Point3::Zero();
    double ball_radius_ = INFINITY;
    Vector3 x_, y_;
    double radius_ = 0.0;
    Vector2 from_, to_;  ///< directions of a circle's ends in its frame
};

}  // namespace planform::unfolding
