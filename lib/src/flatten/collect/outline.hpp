#pragma once

/// Directed curves of one or more solids, collected for the arrangement, and the way back to
/// profiles.

#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "arrange/arrange.hpp"
#include "flatten/collect/bridged_gaps.hpp"
#include "merge/operands.hpp"
#include "planform/flatten.hpp"
#include "planform/proof.hpp"
#include "proof/surface_place.hpp"

namespace planform::flatten {

/// Collects closed chains. Nodes say which ends meet; nodes that fall on one point are united.
class Outline {
  public:
    int add_node(const Point2& position);
    /// For ends without a node of their own: the free node at this place, or a new one.
    int free_node(const Point2& position);

    /// The operand that curves are added to from now on: 0 (the default) or 1.
    void set_operand(int operand) { operand_ = operand; }

    /// Adds curves that run head to tail from one node to another, `weight` times. No curves: the
    /// nodes are one point; `place` is that of an end without a node.
    void add(const std::vector<Curve>& curves, int start_node, int end_node, int weight,
             const Provenance& provenance, const std::optional<Point2>& place = std::nullopt);

    /// Where a curve was joined to its node by a straight line since the model's edges miss their
    /// common vertex: a note if a gap is wider than widest_silent_gap. Whether the outline shows it
    /// comes out when it is united. Throws GeometryError with the edge or face, the place and the
    /// distance if it is farther than any cut would hide: the model is not closed there, whatever
    /// it says.
    void check_bridged_gaps(double tolerance);
    /// Throws GeometryError with the edge or face, the place and the distance if a gap wider than
    /// widest_silent_gap is one that the loops show.
    void check_visible_gaps(const std::vector<arrange::Loop>& loops, double tolerance,
                            const std::vector<std::string>& solid_names) const;

    /// Adds all that another outline holds; its chains stay its own.
    void append(const Outline& other);

    /// Remarks on how the outline was made, for the profile set.
    void add_note(std::string note) { notes_.push_back(std::move(note)); }
    const std::vector<std::string>& notes() const { return notes_; }

    /// Places of the surface that must lie under the shadow.
    std::vector<proof::SurfacePlace>& places() { return places_; }
    const std::vector<proof::SurfacePlace>& places() const { return places_; }

    /// Laws that what was collected was held against.
    void add_proof(const Proof& proof) { proof_.add(proof); }
    const Proof& proof() const { return proof_; }

    bool empty() const { return input_.curves.empty(); }
    std::size_t curve_count() const { return input_.curves.size(); }
    /// Where a node lies, with those that it was united with.
    const Point2& place(int node) const { return position(root(node)); }
    /// Node sums checked, united nodes replaced by one.
    const arrange::Input& input() const;
    /// Where the curve nearest to a place came from.
    Provenance nearest_provenance(const Point2& place) const;
    const Provenance& provenance(int tag) const {
        return provenances_[static_cast<std::size_t>(tag)];
    }

  private:
    int root(int node) const;
    const Point2& position(int node) const { return input_.nodes[static_cast<std::size_t>(node)]; }
    /// The node itself if the place is that of the node; else a new one, after `connect` was asked
    /// to bridge the way: models whose vertices lie beside their edges still give closed chains.
    int lead_to(const Point2& place, int node, const Provenance& provenance,
                const std::function<void(const Point2&, int)>& connect);

    /// Of a solid's curves on the datum, mm.
    double extent(int solid) const;

    mutable arrange::Input input_;  ///< its curves learn late which nodes were united
    mutable std::vector<int> united_with_;
    std::vector<int> free_nodes_;
    int operand_ = 0;
    std::vector<Provenance> provenances_;
    std::vector<std::string> notes_;
    std::vector<proof::SurfacePlace> places_;
    Proof proof_;
    std::vector<BridgedGap> gaps_;
};

/// The union of what was collected (or what else is inside by its winding numbers), as profiles in
/// a stable order, each under the name of the solid that its outer contour comes from, if it is
/// one. Held against the law of winding, and arranged more finely if it breaks it; the checks are
/// added to `proof`, if there is one. Throws GeometryError whose message begins with the solid and
/// the face or edge next to the place of trouble.
std::vector<Profile> unite(const Outline& outline, double tolerance,
                           const std::vector<std::string>& solid_names,
                           const merge::Inside& inside = merge::in_first,
                           Verify verify = Verify::quick, Proof* proof = nullptr);

/// Throws GeometryError(invalid_argument) unless the tolerance is a positive, finite number.
void check_tolerance(double tolerance);

}  // namespace planform::flatten
