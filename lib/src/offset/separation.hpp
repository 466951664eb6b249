#pragma once

/// Which closed loops are simple and keep off each other.

#include <array>
#include <memory>
#include <vector>

#include "offset/atoms.hpp"
#include "planform/curve.hpp"

namespace planform::offset_detail {

/// Chains of one or more closed loops of curves. What it says to be simple or apart is; in doubt it
/// says no.
class LoopField {
  public:
    /// `clearance`: mm that loops must keep off each other, and curves of a loop, other than
    /// neighbours, off each other.
    explicit LoopField(double clearance) : clearance_(clearance) {}

    /// Adds a loop to the last chain, or begins the next with it. Ends need not meet exactly.
    void add_loop(const std::vector<Curve>& curves, bool begins_chain);
    /// To be called once, after the last loop, before groups and simple chains are asked for.
    void tell_apart();
    /// To be called once, after the last loop, before chains around a point are asked for.
    void index();
    /// To be called, unless tell_apart was, before comes_within() is asked.
    void index_curves();
    /// Does any curve come nearer to a point than `radius` mm, as far as 1e-9 mm tell?
    /// `but_for`: a curve that is left out, by the order in which curves were added.
    bool comes_within(const Point2& point, double radius, int but_for = -1) const;

    /// The number of atoms with boxes within `reach` mm of a point in both axes, counted up to
    /// `most`. To be asked as comes_within().
    int crowd(const Point2& point, double reach, int most) const;

    /// All pieces, in the order in which curves were added.
    const std::vector<Atom>& atoms() const { return atoms_; }

    int chains() const { return static_cast<int>(chains_.size()); }
    /// Chains of different groups keep off each other. A group's number is its first chain.
    int group(int chain) const;
    /// Is it a single loop that does not meet itself?
    bool is_simple(int chain) const { return chains_[static_cast<std::size_t>(chain)].simple; }
    /// Winding number of a chain around a point that keeps off it.
    int winding(int chain, const Point2& point) const;
    /// The same of all chains but those of a group (-1: none). To be asked as around().
    int winding_but_for(int group, const Point2& point) const;
    /// The chains whose boxes hold the point, ascending.
    std::vector<int> around(const Point2& point) const;
    /// Three points of a chain that has curves, none of them an end of a curve.
    std::array<Point2, 3> places(int chain) const;
    /// The middle one of the winding numbers around three points of another chain: chains that
    /// touch in a point or two don't upset it.
    int winding_of_most(int chain, const std::array<Point2, 3>& points) const;
    bool is_empty(int chain) const;

  private:
    struct Chain {
        int first;
        int last;
        Box2 box;
        bool simple;
        int group;
    };

    void compare(int a, int b);
    void unite(int a, int b);

    double clearance_;
    std::vector<Atom> atoms_;
    std::vector<int> next_;   ///< by atom: the one that follows in its loop
    std::vector<int> owner_;  ///< by atom: its chain
    std::vector<int> curve_;  ///< by atom: its curve
    int curves_ = 0;
    std::vector<Chain> chains_;
    std::shared_ptr<const class ChainIndex> curve_index_;  ///< of atoms
    std::shared_ptr<const class ChainIndex> index_;
};

}  // namespace planform::offset_detail
