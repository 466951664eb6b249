#pragma once

/// From one solid to directed curves, by either way of flattening.

#include <functional>
#include <set>
#include <string>

#include "flatten/outline.hpp"
#include "flatten/proof/tampering.hpp"
#include "flatten/section_solid.hpp"
#include "flatten/shape_graph.hpp"
#include "model/area_vectors.hpp"

namespace planform::flatten {

/// Which faces of a solid take part.
using TakesPart = std::function<bool(const GraphFace& face)>;

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
void add_silhouette(ShapeGraph& graph, const model::AreaVectors& areas, const SilhouetteWay& way,
                    Outline& outline);

/// Adds the curves whose winding numbers are the outline at the top or at the bottom; for `through`
/// the outline at the bottom as operand 0 and what ends below the top as operand 1. The planes of
/// top and bottom are moved into the material by `move`, mm; throws GeometryError if that leaves
/// them at a vertex.
void add_outline_at(const Solid& solid, const Datum& datum, At at, int index, double tolerance,
                    double move, Outline& outline);

/// A plane parallel to the datum, and which side of it counts where it lies in a face.
struct SectionPlane {
    double level;  ///< height over the datum, mm
    Side side;
    /// Index of a face whose section is followed on its mesh; none if negative.
    int meshed_face = -1;
};

/// Adds the curves in which the plane cuts the solid, material on the left.
void add_section(const SectionSolid& solid, const SectionPlane& plane, int index, double tolerance,
                 Outline& outline);

/// Runs `work`; errors come out with the number of the face, those of the kernel as GeometryError.
void in_face(int number, const std::function<void()>& work);

}  // namespace planform::flatten
