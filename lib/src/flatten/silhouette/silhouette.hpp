#pragma once

/// From one solid to the directed curves of its silhouette.

#include <functional>
#include <set>

#include "flatten/collect/outline.hpp"
#include "flatten/proof/tampering.hpp"
#include "model/measure/area_vectors.hpp"
#include "solid/shape_graph.hpp"

namespace planform::flatten {

/// Which faces of a solid take part.
using TakesPart = std::function<bool(const solid::GraphFace& face)>;

/// How the silhouette of one solid is taken.
struct SilhouetteWay {
    int solid = 0;            ///< its index in the call
    double tolerance = 0.01;  ///< mm
    TakesPart takes_part;     ///< empty: all faces do
    Verify verify = Verify::quick;
    /// Numbers of faces that broke a law when they were split on their surface.
    std::set<int> doubted;
    /// Spoils what was found before it is collected: for tests of the proof.
    Tampering* tampering = nullptr;
};

/// Adds the curves whose winding numbers are the number of sheets of the solid that face the
/// viewer; only those of the faces that take part, if it is said which. `areas` are those of the
/// graph's shape. Every face and the whole are held against the laws of areas (FaceLedger); the
/// checks are counted in the outline's proof. Throws GeometryError(law_broken) that names the face
/// where no way of taking it keeps them.
void add_silhouette(solid::ShapeGraph& graph, const model::AreaVectors& areas,
                    const SilhouetteWay& way, Outline& outline);

}  // namespace planform::flatten
