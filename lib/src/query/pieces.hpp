#pragma once

/// The outline as straight edges, each with the simple piece of a curve that it stands for.

#include <vector>

#include "offset/atoms.hpp"
#include "planform/profile.hpp"

namespace planform::query {

/// A curve of the outline and where it stands.
struct OutlineCurve {
    Curve curve;
    int profile;
    int contour;  ///< 0 the outer contour, n hole n - 1
    int number;   ///< in the contour
};

/// The chord of a piece. Edges of a contour are closed to the last digit, so that winding numbers
/// of their polygon are whole.
struct Edge {
    Point2 start;
    Point2 end;
    double height;  ///< mm: the piece keeps within it of the chord
    double slack;   ///< mm: rounding of coordinates and radius
    int piece;      ///< index in `pieces`; -1 for a gap of rounding between two curves
};

/// A simple piece of a curve: it runs along its chord without turning back.
struct Piece {
    offset_detail::Atom atom;
    int curve;  ///< index in `curves`
};

struct Pieces {
    explicit Pieces(const ProfileSet& set);

    std::vector<OutlineCurve> curves;
    std::vector<Piece> pieces;
    std::vector<Edge> edges;

  private:
    void add(const Contour& contour, int profile, int number, double chord_tolerance);
    void add_edge(const Point2& start, const Point2& end, double height, double slack, int piece);
};

/// Does a point lie to the left of the line through an edge? One that lies on it is taken to lie a
/// hair to the right, and less above: so that a path that touches an edge or a vertex crosses or
/// does not, the same for all who ask.
inline bool is_left(const Edge& edge, const Point2& point) {
    const Vector2 along = edge.end - edge.start;
    const double side = cross(along, point - edge.start);
    if (side != 0.0) return side > 0.0;
    return along.y() != 0.0 ? along.y() < 0.0 : along.x() > 0.0;
}

/// How a point lies to the piece of an edge.
struct Lie {
    bool on_curve = false;
    int turns = 0;  ///< to be added to the winding number of the polygon: the point is between
                    ///< chord and curve
};
Lie lie_of(const Point2& point, const Edge& edge, const Pieces& pieces);

}  // namespace planform::query
