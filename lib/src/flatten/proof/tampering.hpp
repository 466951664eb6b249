#pragma once

/// Errors made on purpose, to see which law of the proof notices them.

#include <functional>
#include <vector>

#include "flatten/collect/edge_coverage.hpp"
#include "flatten/proof/face_ledger.hpp"
#include "flatten/zero_sets/level_curve.hpp"

namespace planform::flatten {

/// Is asked at the places at which the engine could go wrong. The default changes nothing.
class Tampering {
  public:
    Tampering() = default;
    virtual ~Tampering() = default;
    Tampering(const Tampering&) = delete;
    Tampering& operator=(const Tampering&) = delete;

    /// True if the face, given by its number, is forgotten.
    virtual bool forgets(int /*face*/) { return false; }
    /// What is said of a face as a whole.
    virtual Facing facing(int /*face*/, Facing said) { return said; }
    /// The parts of a face that was split. `node_at(edge, t)` makes a node on an edge.
    virtual void parts(int /*face*/, std::vector<EdgeStretch>& /*stretches*/,
                       std::vector<LevelCurve>& /*folds*/,
                       const std::function<int(int, double)>& /*node_at*/) {}
    /// How often an edge, given by its number, is handed to the outline.
    virtual int times(int /*edge*/) { return 1; }
    /// False: no law is asked, to see what the error alone would do.
    virtual bool is_watched() const { return true; }
};

}  // namespace planform::flatten
