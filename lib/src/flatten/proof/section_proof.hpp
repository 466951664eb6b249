#pragma once

/// Sections are held against laws that hold whatever the engine decided.

#include <span>
#include <string>
#include <vector>

#include "planform/error.hpp"
#include "planform/model.hpp"
#include "planform/profile.hpp"
#include "solid/section_solid.hpp"

namespace planform::flatten {

/// A law that a section broke; `what()` names law, solid, edge or face, and place.
class SectionBreach : public GeometryError {
  public:
    SectionBreach(const std::string& message, int solid, std::size_t face)
        : GeometryError(ErrorKind::face_not_flattened, message), solid_(solid), face_(face) {}
    int solid() const { return solid_; }
    /// Index in the solid's graph.
    std::size_t face() const { return face_; }

  private:
    int solid_;
    std::size_t face_;
};

/// The laws, of each solid alone:
/// - *edges end on the outline*: where an edge passes through the plane there is a corner or a
///   point of the outline, unless it lies within the material of another solid;
/// - *faces bound the outline*: so do the places between samples of a face that lie on both sides
///   of the plane, and the material lies on the side from which the face looks away.
/// So a body with material on both sides can't have an empty section, and none can lose a hole.
/// What breaks one is asked once more of the kernel's classifier of points, which knows no section:
/// places beside the witness that lie clear of the outline are in the material or not; only where
/// the outline says otherwise is the law broken. So the trim of a face, slivers below the
/// resolution and other solids raise no false alarm.
///
/// `level`: height over the datum at which the section was taken; `set` has the coordinates of the
/// datum. Returns what was proven. Throws SectionBreach.
Proof prove_section(std::span<const Solid> solids, std::span<const solid::SectionSolid> ready,
                    const Datum& datum, double level, const ProfileSet& set);

}  // namespace planform::flatten
