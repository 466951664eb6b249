#pragma once

/// From an assembly to plates: which solids are flat parts, which of them are the same, how many of
/// each.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "planform/datum.hpp"
#include "planform/features.hpp"
#include "planform/flatten.hpp"
#include "planform/model.hpp"
#include "planform/profile.hpp"
#include "planform/side_up.hpp"
#include "planform/unfold.hpp"

namespace planform {

/// Why a solid is no plate.
enum class NotFlat {
    turned_part,  ///< its surface turns around one axis
    block,        ///< not thin: thickness against the narrowest width, or walls higher than broad
    bent_sheet,   ///< walls of one thickness at an angle, or a bend between coaxial cylinders
    wedge,        ///< its two large flat faces are not parallel
    draft,        ///< most of its walls lean
    stands_out,   ///< bosses, ribs or pins reach beyond the sheet: a cut adds nothing
    hollowed,     ///< outline times thickness and volume differ by too much
    milled,       ///< most of its surface is neither the sheet's nor a straight cut's
    no_straight_walls,  ///< most of the wall that a cut along its outline makes is not there
    no_flat_faces,      ///< no two flat faces opposite each other
    not_measured,       ///< the solid is not closed, or the kernel fails on it
};

/// The word for a reason, e.g. "bent sheet".
std::string_view word_for(NotFlat reason);

/// All reasons, for tests and tables.
const std::vector<NotFlat>& all_not_flat_reasons();

/// Limits and tolerances of the recognition: a plate is what can be cut straight from a sheet of
/// its thickness and be made ready by little else. The shares are common practice, no source; each
/// was tried on real bodies (DEVELOPERS.md lists them with pictures).
struct PlateOptions {
    /// Bound on the distance between the true outline and the result, mm.
    double tolerance = 0.01;
    /// Solids are the same if no distance between two places of them differs by more, mm.
    double same_within = 0.01;
    /// Greatest thickness of a plate, as a share of the narrowest width of its outline: above, it
    /// is a block.
    double greatest_thickness = 0.5;
    /// How far anything may stand out of the sheet, as a share of the thickness: embossing and
    /// welds stay below a quarter of it; a stud or a rib is another piece, which the cut can't add.
    double greatest_rise = 0.25;
    /// Least volume share of a plate (see Plate::volume_share): pockets take less than the cut
    /// leaves.
    double least_volume_share = 0.6;
    /// Least surface share of a plate (see Plate::surface_share): of a body that is milled all over
    /// the cut makes the smaller part.
    double least_surface_share = 0.5;
    /// Least wall share of a plate (see Plate::wall_share): where walls lean, step back or carry
    /// leads all round, a cut along the outline leaves most of the work undone.
    double least_wall_share = 0.5;
    /// Which outline of a plate with more than straight walls.
    At at = At::shadow;
    /// The stock has a good side (brushed, veneered, printed): mirror images, which turning a piece
    /// over makes alike, are plates of their own.
    bool one_sided = false;
    /// On which sides recesses and raised areas become marks of the outline (feature_marks()); with
    /// another outline than the shadow there are none.
    MarkedSides marks = MarkedSides::up;
    /// By which rule the blanks of bent sheets are made.
    BendRule bends;
};

/// One piece that is cut from a plate's outline: a placed solid, with what lies loose in its holes.
struct PlateInstance {
    int solid = 0;  ///< index in the solids of the call
    /// Indices of the bodies of the same part that are islands of the drawing, ascending.
    std::vector<int> islands;
    /// Of the part, if the piece is all of it, else of the solid.
    std::string name;
    /// The solid is the mirror image of the outline: the cut piece is turned over.
    bool turned_over = false;
};

/// A distinct flat part and all solids that are the same.
struct Plate {
    std::string name;        ///< of its first piece
    double thickness = 0.0;  ///< mm
    /// The plate lies on it: which side is up, and which way round, is that of side_up(). The
    /// origin is the lower left corner of the outline's box.
    Datum datum = Datum::xy();
    SideUp side;  ///< why this side, and whether it must be turned over to make its features
    ProfileSet outline;
    /// What outline times thickness explains of the volume: the smaller over the larger; 1 for a
    /// straight plate.
    double volume_share = 0.0;
    /// Share of the solid's surface that lies in the two flat faces or in straight walls; 1 for a
    /// straight plate. The rest are features.
    double surface_share = 0.0;
    /// Area of the straight walls over that which a cut along the outline makes, its length times
    /// thickness: 1 for a straight plate, two thirds with a chamfer of a third of the thickness.
    double wall_share = 0.0;
    double volume = 0.0;  ///< mm^3, islands included
    /// What a straight cut makes of it and what it can't.
    StraightCut cut;
    /// Of a bent sheet, whose outline is its blank; none of a flat plate.
    std::vector<Bend> bends;
    std::vector<PlateInstance> instances;  ///< by solid
    /// The distinct names of its pieces, in their order.
    std::vector<std::string> names;
    /// What a person should know, one sentence each: copies turned over, features, mirror images.
    std::vector<std::string> notes;

    int quantity() const { return static_cast<int>(instances.size()); }
};

/// A distinct shape that is no plate.
struct OtherPart {
    std::string name;         ///< of its first solid
    std::vector<int> solids;  ///< indices in the solids of the call
    NotFlat reason = NotFlat::block;
    std::string text;  ///< the reason with its figures, one sentence
};

/// What is no plate as a finding of the rule `not_flat`, at the origin of its drawing. Nothing if
/// the rule is off.
std::optional<Finding> finding_of(const OtherPart& part, const RuleSet& rules);

struct PlateList {
    /// By thickness (to 1e-6 mm), name, falling area, first solid.
    std::vector<Plate> plates;
    std::vector<OtherPart> others;  ///< by first solid
    int flattened = 0;              ///< how many outlines were made: one a distinct flat shape
};

/// Finds the flat parts among solids and counts the same ones.
///
/// A plate has two parallel flat faces, or groups of coplanar ones, that look away from each other
/// and carry the thickness (features.hpp tells which count), is thin against its outline, hardly
/// stands out of its sheet, and outline times thickness explains most of its volume, the sheet's
/// faces and straight walls most of its surface, and straight walls most of what a cut along the
/// outline makes (PlateOptions has the limits). Directions are tried by the area of the smaller of
/// their two sides, largest first, at most four. What fits none is reported with its reason and
/// figures, those of the direction in which it is thinnest; a failure on one solid (not_measured)
/// costs no other.
///
/// A bent sheet is a plate, too: its blank is what is cut (unfold.hpp), and its bends come with it.
/// One that can't be unfolded is listed as a bent sheet with the reason.
///
/// What is a piece? Each loose solid is one, also where a part has several: two brackets drawn as
/// one part are cut two times. But a body that lies loose in a hole of another body of the same
/// part (the inside of an 8 that is cut through a plate) has its place there: where it fills the
/// same sheet, from face to face, with straight walls, no edge in common, and the same colour and
/// layers, it is an island of that plate's drawing, however narrow. A BREP file names no parts, so
/// each of its bodies is a piece.
///
/// Instances of one shape are looked at once. Solids are the same if thickness, outline and, where
/// features remain, the sections between the heights at which anything changes agree under one
/// motion in space: wherever they lie, however their faces are split or numbered. Mirror images are
/// the same where turning the piece over makes one of the other, always so for straight plates;
/// elsewhere, and of one-sided stock, they stay apart, with a note.
///
/// Throws GeometryError (invalid_argument) for options out of range.
PlateList plates(std::span<const Solid> solids, const PlateOptions& options = {});
PlateList plates(const Model& model, const PlateOptions& options = {});

}  // namespace planform
