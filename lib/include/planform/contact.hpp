#pragma once

/// Where the solids of an assembly touch, and which curves of their outlines mate.
///
/// Millimetres throughout, model coordinates unless said otherwise.

#include <array>
#include <span>
#include <string>
#include <vector>

#include "planform/allowance.hpp"
#include "planform/geometry.hpp"
#include "planform/model.hpp"
#include "planform/plate.hpp"
#include "planform/profile.hpp"

namespace planform {

/// A place on a contact, with the unit normal out of the contact's first solid.
struct ContactPoint {
    Point3 place;
    Vector3 normal;
};

/// Two faces of two solids on one surface that look at each other and have area in common.
struct Contact {
    std::array<int, 2> solids{};  ///< indices in the solids of the call, ascending
    std::array<int, 2> faces{};   ///< numbers of the faces, from 1
    /// In common, mm^2: exact between planes, else estimated from places on the faces.
    double area = 0.0;
    /// Between planes one place in each connected part of what they have in common, else all places
    /// that were found in it.
    std::vector<ContactPoint> points;
    /// Between planes the border of each connected part as a closed polyline, else empty.
    std::vector<std::vector<Point3>> borders;
};

/// Faces are on one surface within this, mm: a tenth of what a shop can set, a thousand times what
/// solid modellers take for one point (common practice, no source).
inline constexpr double touching_within = 1e-3;

struct ContactOptions {
    /// Distance in mm up to which faces are on one surface. What the faces have in common counts
    /// where it is broader than this: faces that share an edge or a corner only don't touch.
    double within = touching_within;
};

/// All contacts between the solids, by solids, then faces. Planes are compared on their exact
/// boundaries; of other surfaces (cylinders, cones, spheres, tori, free forms) up to 225 places a
/// face are, so that a common area below about a hundredth of both faces may be missed. A solid
/// does not touch itself. Throws GeometryError (invalid_argument) unless `within` is positive and
/// finite, (kernel_failure) with the solids' names if the kernel fails.
std::vector<Contact> contacts(std::span<const Solid> solids, const ContactOptions& options = {});

/// Solids that are cut from one outline: an instance of it in the assembly.
struct PlacedOutline {
    int outline = 0;          ///< index in the outlines of the call
    std::vector<int> solids;  ///< indices in the solids of the call: the body, its islands
    /// The solid that the outline was flattened from where it lies; the first of `solids` is the
    /// same shape, moved or mirrored. -1: the outline's datum lies where `solids` are.
    int flattened = -1;
};

/// All pieces of a list of plates, whose outlines are numbered as the plates are.
std::vector<PlacedOutline> placed_outlines(const PlateList& plates);

/// A curve of an outline whose wall touches another solid.
struct MatingCurve {
    CurveAddress at;
    /// The wall only rests on a face of the other solid and nothing holds it from the other side,
    /// as the shoulder beside a tab: it keeps its place and takes no fit, so that the assembly
    /// keeps its size.
    bool is_seat = false;
    /// Of the fit: 0 to 1.
    double share = 0.0;
    /// Indices of the solids that any piece of the outline touches there, ascending.
    std::vector<int> touches;
};

/// What mates of one outline.
struct MatingOutline {
    std::vector<MatingCurve> curves;  ///< by address
    /// Joints of one piece, of the one that has most: a slot with what stands in it is one, and so
    /// are all places where the outer contour meshes with that of one other solid.
    int joints = 0;
    /// What a person should know, one sentence each.
    std::vector<std::string> notes;
};

struct Mating {
    std::vector<MatingOutline> outlines;  ///< one an outline of the call
    int joints = 0;                       ///< of the assembly
};

/// Finds the curves of the outlines whose walls touch other solids, and shares the fit out.
///
/// A *mating wall* stands upright on the outline's datum and touches a face of another solid. Its
/// whole curve mates, also where the contact covers a stretch of it only, and so do the neighbours
/// that go on along the same line or circle: a step of a few hundredths of a millimetre in the
/// middle of a wall helps nobody. A curve mates if it does for any piece that is cut from the
/// outline.
///
/// Shares: those of two walls that meet sum to 1, so that the gap between them is the fit. A wall
/// that meets what is not cut (the face of a sheet that stands in a slot, a turned peg) takes all
/// of it. Of a wall in a slot and one of a tab the one that `fit_on` names does, or each takes
/// half; a slot is an inner contour, or what lies around the other in the outer contour; where both
/// lie around each other (fingers), or neither, each takes half. Where a curve would need two
/// shares it takes the larger, and a note says so.
///
/// Throws GeometryError (invalid_argument) for indices out of range; else for what flattening and
/// contacts throw.
Mating mating(std::span<const Solid> solids, std::span<const ProfileSet> outlines,
              std::span<const PlacedOutline> pieces, std::span<const Contact> touching,
              FitOn fit_on = FitOn::slot);

/// The same for the plates of a list, contacts found.
Mating mating(std::span<const Solid> solids, const PlateList& plates, FitOn fit_on = FitOn::slot);

/// The fit on the curves of an outline that mate, in proportion to their shares; mm.
std::vector<CurveFit> fits_of(const MatingOutline& mating, double fit);

}  // namespace planform
