#pragma once

/// Curves in pieces that turn so little that they are simple, with bounds to tell them apart.

#include <memory>
#include <utility>
#include <variant>
#include <vector>

#include "curve/spline.hpp"
#include "planform/curve.hpp"

namespace planform::offset_detail {

/// A piece of a circle or an ellipse: center + u cos a + v sin a for a from `from` to `to`.
struct Bow {
    Point2 center;
    Vector2 u;
    Vector2 v;
    double from;
    double to;
    bool is_circle;  ///< u = (radius, 0), v = (0, radius)
};

/// A piece of a curve. It lies within `height` mm of the segment from start to end, and its
/// directions within `spread` (rad) of `along`; with a spread below pi / 2 it is simple, and seen
/// from either end lies in the cone of that spread.
struct Atom {
    Point2 start;
    Point2 end;
    Vector2 along;  ///< unit, from start to end
    double height;
    double spread;
    std::variant<std::monostate, Bow, std::shared_ptr<const detail::BezierPiece>> shape;

    bool is_line() const { return shape.index() == 0; }
    /// The pieces before and after the middle.
    std::pair<Atom, Atom> halves() const;
    /// A box that holds the piece.
    Box2 box() const;
};

/// Adds the atoms of a curve, all of it, head to tail. True if each has a spread of at most 60
/// degrees; where a spline turns back on the spot it has atoms with more, too small to be split.
bool append_atoms(const Curve& curve, std::vector<Atom>& atoms);

/// Distance of a point from the chord of an atom, mm.
double point_to_segment(const Point2& p, const Atom& s);
/// Distance of the chords of two atoms, mm; 0 where they cross.
double segment_distance(const Atom& a, const Atom& b);

}  // namespace planform::offset_detail
