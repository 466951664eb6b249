#pragma once

/// What a straight cut can't make: every feature of a solid that is not a straight wall through the
/// full thickness.
///
/// Words: *top* and *bottom* are the planes of the two flat faces that carry the thickness, seen
/// with the datum's normal pointing up. *Heights* are mm over the bottom. A *straight wall* is a
/// face, or several on top of each other, whose normals are all across the datum's normal, whatever
/// the kind of its surface. What is neither such a wall nor flat in top or bottom belongs to a
/// feature.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "planform/datum.hpp"
#include "planform/geometry.hpp"
#include "planform/inspect.hpp"
#include "planform/model.hpp"

namespace planform {

enum class FeatureKind {
    pocket,         ///< a recess with walls around it that ends in the material; blind holes, too
    step,           ///< a lower level that is open to a side
    groove,         ///< a recess along the sheet, open at both ends, or one that runs along a wall
    boss,           ///< material above the top or below the bottom
    chamfer,        ///< a slanted strip, not through the full thickness
    countersink,    ///< a cone around a hole
    counterbore,    ///< a wider, flat recess around a hole
    rounded_edge,   ///< an edge rounded off
    bevelled_wall,  ///< a wall through the full thickness that leans: drafted, bevelled, conical
    cross_hole,     ///< a round hole whose axis is not along the datum's normal
    cavity,         ///< a void inside, open to nowhere
    free_form,      ///< any other surface: threads, embossing, sculptured faces
};

/// The word for a kind, e.g. "blind pocket", "rounded edge".
std::string_view word_for(FeatureKind kind);

/// All kinds, for tests and tables.
const std::vector<FeatureKind>& all_feature_kinds();

/// From where a feature is made.
enum class FeatureSide {
    top,     ///< seen from the tip of the datum's normal
    bottom,  ///< seen from the other side
    wall,    ///< reaches both sides, or opens to a wall only
    inside,  ///< opens to nowhere
};

/// Lengths are mm, angles radians. Those of planes, cylinders, cones, spheres and tori are exact to
/// 1e-9 relative; those of other surfaces within 1e-6 mm.
struct UncuttableFeature {
    FeatureKind kind = FeatureKind::free_form;
    FeatureSide side = FeatureSide::wall;
    Point2 place = Point2::Zero();  ///< on the datum: the axis, else the middle of the box
    Box2 box;                       ///< on the datum
    double low = 0.0;               ///< height of its lowest point over the bottom
    double high = 0.0;              ///< height of its highest point over the bottom
    /// Along the datum's normal. Pocket, step, counterbore, groove along the sheet: how deep it
    /// reaches below the top (above the bottom, if it is made from there). Boss: its height over
    /// the sheet. Cross hole: how deep its axis lies below the top in the middle of its length.
    /// Groove in a wall: how deep it reaches into the wall, across the normal. Else high - low.
    double depth = 0.0;
    /// Chamfer, bevelled wall, walls of a pocket with draft, free form (the greatest): between the
    /// surface and a straight wall, 0 to pi/2. Countersink and conical tip of a blind hole: the
    /// full angle of the cone. Cross hole: between its axis and the sheet.
    std::optional<double> angle;
    /// Chamfer, bevelled wall: on the datum, across it. Groove in a wall: along the normal.
    std::optional<double> width;
    std::optional<double> diameter;       ///< countersink, counterbore: the wide one; round holes
    std::optional<double> hole_diameter;  ///< countersink, counterbore: the narrow one
    std::optional<double> radius;         ///< rounded edge
    std::optional<Vector3> axis;          ///< cross hole: unit vector in datum coordinates
    std::vector<int> faces;               ///< 1-based numbers in the solid, ascending
    /// What it is, with its sizes, and what the silhouette shows there: one or two sentences.
    std::string text;
};

/// What a straight cut makes of a solid, and what it can't.
struct StraightCut {
    /// Heights of the flat faces that carry the thickness, over the datum.
    double bottom = 0.0;
    double top = 0.0;
    /// False if no flat face looks that way: top (bottom) is then that of the box.
    bool top_is_flat = true;
    bool bottom_is_flat = true;
    /// By side, kind, place.
    std::vector<UncuttableFeature> features;

    double thickness() const { return top - bottom; }
    bool is_straight() const { return top_is_flat && bottom_is_flat && features.empty(); }
};

/// Looks at every face of a solid, seen along the datum's normal. Top and bottom are the outermost
/// flat levels that are at least half as large, holes filled, as the largest level that looks the
/// same way; what stands out beyond them is a boss. A face that leans by less than 1e-4 mm over its
/// height is straight. Throws GeometryError that names the solid if
/// the kernel fails.
StraightCut straight_cut(const Solid& solid, const Datum& datum);

/// Which sides of a plate are marked.
enum class MarkedSides {
    none,
    up,    ///< the side seen from the tip of the datum's normal
    down,  ///< the side below
    both,
};

/// "none", "up", "down", "both".
std::string_view word_for(MarkedSides sides);

/// The edges of recesses (pockets, counterbores, countersinks, steps, grooves, sunk text) and of
/// raised areas on the marked sides, on the datum, seen from its tip: the cut itself is the
/// outline through the full thickness. A rim that runs into the outline is an open mark. The depth
/// is that of the feature below its side, negative for what is raised; the name is the kind of
/// feature, with ", below" on the side below. Chamfers and rounded edges have no marks: they run
/// along the cut. `tolerance` (mm) holds for edges that have no exact form here. Throws
/// GeometryError for a tolerance that is not positive and finite, and, with the name of the solid,
/// if the kernel fails.
std::vector<Mark> feature_marks(const Solid& solid, const Datum& datum,
                                MarkedSides sides = MarkedSides::up,
                                double tolerance = default_tolerance);

/// A feature as a finding of the rule `straight_cut`, measured in degrees where it is an angle that
/// a straight cut can't make (bevelled wall), else in mm by its depth. Nothing if the rule is off.
std::optional<Finding> finding_of(const UncuttableFeature& feature, const RuleSet& rules);

}  // namespace planform
