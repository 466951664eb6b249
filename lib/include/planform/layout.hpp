#pragma once

/// Outlines placed on sheets: exact checks of placements, polygons that contain outlines, free
/// places, plain shelves.
///
/// Millimetres throughout. The same input gives the same result.

#include <cstdint>
#include <limits>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "planform/profile.hpp"

namespace planform {

/// How much two exact distances may fall short of what is asked for, mm: rounding of motions of
/// outlines some metres large stays a thousand times below, and no machine tells it.
inline constexpr double layout_slack = 1e-6;

/// Where two curves are nearest to each other.
struct Nearness {
    double distance = 0.0;  ///< mm; 0 where they cross or touch
    Point2 first;           ///< on the first
    Point2 second;          ///< on the second
};

/// The least distance between two curves: lines and arcs in closed form, others to within
/// layout_slack / 4. If it is not below `limit` (mm) any value that is not below it may come back.
Nearness distance_between(const Curve& first, const Curve& second,
                          double limit = std::numeric_limits<double>::infinity());

/// The least distance between the contours of two sets, mm; infinite if one has none. Contours that
/// lie in each other's material are not told apart from those beside it.
Nearness distance_between(const ProfileSet& first, const ProfileSet& second);

/// What is asked of a layout. Throws nothing by itself; prove_layout checks the numbers.
struct LayoutRules {
    double gap = 0.0;     ///< least distance between two pieces, mm
    double margin = 0.0;  ///< least distance between a piece and the edge of the sheet, mm
};

/// What is wrong with a placement.
enum class LayoutFaultKind {
    outside_sheet,  ///< a piece reaches over the edge of the sheet or into a hole of it
    in_margin,      ///< a piece comes nearer to the edge than the margin
    not_clear,      ///< a piece lies on a place that is to be kept clear
    too_near,       ///< two pieces come nearer to each other than the gap
    overlap,        ///< two pieces have material in common
};

struct LayoutFault {
    LayoutFaultKind kind;
    int first;        ///< index of the piece
    int second;       ///< index of the other piece, -1 if there is none
    Point2 place;     ///< where, mm
    double measured;  ///< distance in mm
    double limit;     ///< mm
};

/// What a layout was held against.
struct LayoutProof {
    /// By pieces; empty if the layout is right.
    std::vector<LayoutFault> faults;
    /// Least distance between two pieces, mm, of those nearer than a hundredth above the gap;
    /// infinite if there are none.
    double least_gap = 0.0;
    /// Likewise between a piece and the edge of the sheet.
    double least_margin = 0.0;
    /// Pairs of curves whose distance was measured.
    std::int64_t measured_pairs = 0;
};

/// Holds placed outlines against the rules, on the exact curves: every piece lies in the sheet less
/// the margin, off the places to keep clear, and no two are nearer than the gap. Pieces may lie in
/// holes of others. Distances may fall short by layout_slack. With a gap (or margin) of 0 outlines
/// may touch: what they have in common is found by booleans, and is a fault if it is more than a
/// trace (1e-5 mm, their resolution, along the outline).
///
/// `sheet` is the material that there is: one profile or several, holes taken off; `keep_clear` the
/// places where nothing may lie. O(n log n) for curves that have few others near them.
///
/// Throws GeometryError (invalid_argument) for a gap or margin that is negative or not finite, a
/// sheet without profiles or a piece without one.
LayoutProof prove_layout(const ProfileSet& sheet, const ProfileSet& keep_clear,
                         const std::vector<ProfileSet>& pieces, const LayoutRules& rules);

/// A polygon as its vertices, the first not repeated.
using Ring = std::vector<Point2>;

/// A polygon with holes.
struct Rings {
    Ring outer;               ///< counter-clockwise
    std::vector<Ring> holes;  ///< clockwise
};

/// Polygons that hold the material of a set, grown by `distance` (mm, 0 or more; see offset.hpp):
/// one for each profile of the grown set. Where material bulges they go along tangents, elsewhere
/// along chords, and stray no more than `tolerance` (mm) from the grown outline; sets of lines with
/// a distance of 0 come back as they are. Ellipses and splines are grown by the tolerance more and
/// become arcs first.
///
/// Throws GeometryError: invalid_argument unless the tolerance is positive and finite; as offset.
std::vector<Rings> containing_polygons(const ProfileSet& set, double distance, double tolerance);

/// A polygon with fewer vertices that holds the given one (counter-clockwise, simple) and strays no
/// more than `bound` (mm) outside of it. It may be the given one.
Ring simplified_outward(const Ring& ring, double bound);

/// Where a shape goes.
struct FreePlace {
    int shape = 0;  ///< index of the shape that was offered
    Vector2 shift;  ///< mm, to be added to its coordinates
};

/// The room on a sheet that nothing lies on yet, for placing one piece after the other as far left,
/// then as low as there is room. What is found is free (polygons don't overlap, to rounding); that
/// nothing is found proves nothing, as the search runs on a grid.
class FreeSpace {
  public:
    /// The room is that within the rings, their holes taken off. `cell` (mm) is the grid's.
    /// Throws GeometryError (invalid_argument) unless cell is positive and finite, the room has
    /// three corners or more, and it has at most 64 million cells.
    FreeSpace(const Rings& room, double cell);
    ~FreeSpace();
    FreeSpace(FreeSpace&&) noexcept;
    FreeSpace& operator=(FreeSpace&&) noexcept;

    /// Takes away what lies under the shape; its holes stay free.
    void occupy(const Rings& shape);

    /// The place furthest left of any of the shapes (by their right ends), or nothing. Shapes are
    /// one piece turned in the ways it may be. Calls with the same number (0 or more) must offer
    /// the same shapes: where there was no room for them before is not looked at again.
    std::optional<FreePlace> find(std::span<const Rings> shapes, int number = -1);

    /// Does the shape lie in the room and off all that was occupied, to 1e-9 of the room's size?
    bool is_free(const Rings& shape) const;

    /// The largest rectangle along x and y that is free: the largest of whole cells, its sides
    /// moved out as far as they go. Nothing if no cell is free.
    std::optional<Box2> largest_rectangle() const;

  private:
    struct Grid;
    std::unique_ptr<Grid> grid_;
};

/// Moves polygons apart that overlap by a trace, and into the box: those of searches that count in
/// single precision. Returns a shift for each, in mm, or nothing if overlaps stay deeper than
/// `slack` (mm). Polygons are counter-clockwise and simple; the box may be infinite to the right.
std::optional<std::vector<Vector2>> separated(std::span<const Ring> rings, const Box2& box,
                                              double slack);

/// A rectangle to be laid on shelves, mm.
struct ShelfItem {
    double width;
    double height;
    bool may_turn = false;  ///< by a quarter turn
};

/// Where it lies: lower left corner, mm.
struct ShelfPlace {
    int item;
    int sheet;  ///< sheets are filled one after the other, from 0
    double x;
    double y;
    bool turned;
};

/// Rectangles on shelves across sheets of one size, `gap` mm apart: each goes on the first shelf
/// that is high and long enough (first fit by decreasing height: E. G. Coffman, M. R. Garey,
/// D. S. Johnson, R. E. Tarjan, "Performance bounds for level-oriented two-dimensional packing
/// algorithms", SIAM J. Comput. 9 (1980); from memory), what is left above a shelf's shorter items
/// stays free. Those that fit no sheet, or for which `sheets` (at least 0) don't suffice, are left
/// out. Throws GeometryError (invalid_argument) for numbers that are negative or not finite.
std::vector<ShelfPlace> shelves(std::span<const ShelfItem> items, double width, double height,
                                double gap, int sheets);

}  // namespace planform
