#pragma once

/// The signs by which a solid that is no plate is told.

#include <optional>
#include <string>
#include <vector>

#include "planform/plate.hpp"
#include "plate/lay/face_facts.hpp"

namespace planform::plate {

struct Refusal {
    NotFlat reason;
    std::string text;
};

/// The sheet between bottom and top of a candidate, and how far the solid reaches past it.
struct Slab {
    Datum datum;
    double bottom, top;  ///< heights of the flat faces over the datum, mm
    double low, high;    ///< of the whole solid
    double area;         ///< of the smaller side, mm^2

    double thickness() const { return top - bottom; }
    double beyond() const { return std::max(bottom - low, high - top); }
};

/// A bend or a wall of the slab's thickness at an angle to it, beyond the slab.
std::optional<Refusal> find_bend(const std::vector<FaceFacts>& faces, const Slab& slab);

/// Pairs of parallel faces one thickness apart, in more than one direction, make most of the
/// surface: folded sheet that has no slab of its own thickness, such as a hat, and hollow sections.
std::optional<Refusal> find_folded_sheet(const std::vector<FaceFacts>& faces);

/// A sheet without a flat middle: two coaxial cylinders that don't close make most of the surface.
std::optional<Refusal> find_rolled_sheet(const std::vector<FaceFacts>& faces);

/// Most of the walls lean.
std::optional<Refusal> find_draft(const std::vector<FaceFacts>& faces, const StraightCut& cut,
                                  const Vector3& normal);

/// The two largest faces that look almost away from each other, if they are larger than
/// `parallel_area`, mm^2, which the best parallel ones have.
std::optional<Refusal> find_wedge(const std::vector<FaceFacts>& faces, double parallel_area);

/// The share of the surface that turns around one axis (flat ends across it included), 0 if hardly
/// any of it is curved, and the largest diameter.
struct Turned {
    double share = 0.0;
    double diameter = 0.0;
};
Turned turned_share(const std::vector<FaceFacts>& faces);

}  // namespace planform::plate
