#pragma once

/// Which rectangles of parameters a face reaches into: a search of the whole parameter box is
/// spared what lies outside the face's boundary.

#include <vector>

#include "solid/face_surface.hpp"

namespace planform::solid {

/// The boundary as a polygon. Places are in the face's parameter box scaled to the unit square.
class FaceReach {
  public:
    /// Which sides of the polygon come near a rectangle; where none does, on which side it lies.
    struct Near {
        std::vector<int> sides;
        bool is_inside = true;

        bool is_outside() const { return sides.empty() && !is_inside; }
    };

    /// `margin`: sides that come this near to a rectangle are near it. More than the polygon stands
    /// off the boundary (a quarter of a circle: 8e-5).
    FaceReach(const FaceSurface& surface, double margin);

    /// Of a rectangle anywhere.
    Near near(const Box2& cell) const;
    /// Of a rectangle within another, of which it is known.
    Near near(const Box2& cell, const Near& around) const;

  private:
    void set_bands();
    bool meets(int side, const Box2& cell) const;
    bool holds(const Point2& place) const;

    double margin_;
    /// False if the boundary leaves gaps: then every rectangle counts as inside.
    bool is_closed_ = true;
    std::vector<Point2> starts_, ends_;    ///< of the sides
    std::vector<std::vector<int>> bands_;  ///< sides that come into each band across v
};

}  // namespace planform::solid
