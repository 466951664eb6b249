#pragma once

/// Where two walls of a sheet meet without a bend of one thickness between them.

#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "unfold/sheet_body.hpp"
#include "unfold/skin.hpp"

namespace planform::unfolding {

/// A round between two walls, or a sharp edge.
struct Corner {
    int first, second;  ///< walls
    double radius;      ///< mm, 0: sharp
    double length;
    double angle;  ///< between the normals out of the solid
    int edge;      ///< of a sharp one
    bool hollow;   ///< inside of the bend
};

/// A round of a face, by index.
using Round = std::pair<int, Corner>;

class CornerFinder {
  public:
    /// `body` and `opposites` must outlive it.
    CornerFinder(const SheetBody& body, const Opposites& opposites, double thickness);

    /// Cylinders with no other a thickness behind or before them that go over smoothly into two
    /// walls.
    std::vector<Round> rounds() const;
    /// A face that goes on smoothly from the end of a round to others that are no rounds, as where
    /// edges were rounded all the way round: there is nothing that walls without the round could be
    /// prolonged to. The kernel takes seconds to find that. (What lies between rounds alone, where
    /// three of them meet, goes with them.)
    std::optional<std::pair<Corner, int>> find_bound(const std::vector<Round>& rounds) const;
    /// Edges in which two walls meet, but for those of bends of inside radius 0.
    std::vector<Corner> sharp_edges(bool hollow) const;
    /// Sharp ones, inside and outside, and rounds.
    std::vector<Corner> all(const std::vector<Round>& rounds) const;
    /// Do the walls of one corner lie behind those of the other?
    bool lie_behind(const Corner& inner, const Corner& outer) const;
    bool has_walls(const Corner& corner) const;

  private:
    bool is_wall(int face) const { return is_wall_[static_cast<std::size_t>(face)]; }
    const std::map<int, int>& sharp_bends() const;
    bool is_about_sharp_edge(int face) const;
    bool is_straight(int edge) const;
    double angle_between(int first, int second) const;
    int goes_on_to(int face, int use) const;

    const SheetBody& body_;
    const Opposites& opposites_;
    double thickness_;
    std::vector<bool> is_wall_;
    mutable std::optional<std::map<int, int>> sharp_bends_;
};

/// An inner corner with the outer one behind it.
struct Pair {
    Corner inner, outer;
    double inside_radius = 0.0;
};

std::vector<Pair> pairs_of(const CornerFinder& finder, const std::vector<Corner>& corners);

}  // namespace planform::unfolding
