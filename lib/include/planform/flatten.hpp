#pragma once

/// Silhouettes and sections: from solids to profile sets.

#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "planform/model.hpp"
#include "planform/profile.hpp"

namespace planform {

/// How the outlines of several solids become one profile set.
enum class Merge {
    unite,  ///< the union of all (in Python and at the command line: "union")
    /// Side by side, each profile with its solid's name; what lies on or in the material of another
    /// solid becomes marks under its name (kept_apart() in boolean.hpp tells the rules).
    keep,
};

/// Which outline of a solid is taken. Top and bottom are its flat faces that carry the thickness,
/// seen with the datum's normal pointing up: the outermost flat levels that are at least half as
/// large, holes filled, as the largest that looks the same way (see features.hpp). A plate with
/// straight walls has the same outline at all four.
enum class At {
    shadow,   ///< of the whole solid: a countersunk hole shows the drilled hole
    top,      ///< just below the top: a hole countersunk there shows the wide circle
    bottom,   ///< just above the bottom
    through,  ///< where material stands from the bottom to the top without a gap
};

struct FlattenOptions {
    /// Bound in mm on the distance between the true outline and the result. Lines and arcs of the
    /// solid are exact to 1e-9 relative whatever the tolerance. More than a hundredth of the
    /// solids' extent is refused; the default means that hundredth where it is less (see
    /// tolerance.hpp).
    double tolerance = default_tolerance;
    Merge merge = Merge::unite;
    At at = At::shadow;
    Verify verify = Verify::quick;
};

/// The outline of the shadow of the solids on the datum, through-holes included: closed, oriented,
/// free of self-crossing. `FlattenOptions::at` asks for another outline than that of the shadow;
/// each solid is then taken at its own top and bottom, and a note says what was taken. Throws
/// GeometryError that names the solid and the face if that can't be had: for `top`, `bottom` and
/// `through` also where a solid has no flat face there, for `through` where a slanted face reaches
/// past the top or the bottom.
///
/// The shadow is proven before it is handed out (ProfileSet::proof() tells how): the area of each
/// face's boundary agrees with what was taken of the face, the curves enclose the sum of what was
/// taken, and no place of the surface that is asked lies outside. A face that breaks a law is taken
/// in another way; what then still breaks one is a GeometryError (law_broken).
ProfileSet silhouette(std::span<const Solid> solids, const Datum& datum,
                      const FlattenOptions& options = {});
/// Of one solid.
ProfileSet silhouette(const Solid& solid, const Datum& datum, const FlattenOptions& options = {});

/// Which material a section shows where its plane lies in a face or touches a surface: below is the
/// side that the datum's normal points away from.
enum class Side { below, above };

struct SectionOptions {
    /// Bound in mm on the distance between the true outline and the result. Sections of planes,
    /// cylinders, cones and spheres are exact to 1e-9 relative whatever the tolerance, those of
    /// tori within 1e-11 of their size. As for FlattenOptions.
    double tolerance = default_tolerance;
    Merge merge = Merge::unite;
    Side side = Side::below;
};

/// The outline of the solids where the datum, moved by `offset` mm along its normal, cuts them:
/// closed, oriented, free of self-crossing. Throws GeometryError that names the solid and the face
/// if that can't be had.
///
/// Where the plane lies within 1e-7 mm in a face, along an edge or in a vertex, or touches a
/// surface, the answer is the limit of the sections by planes that come nearer from the side of
/// `SectionOptions::side`: by default the material just below. So a plane in the top face of a
/// plate shows the plate and one in its bottom face nothing; above, it is the other way round. A
/// plane that misses gives an empty set with a note that says so. Where the model contradicts
/// itself at a vertex that lies within 4e-5 mm of the plane, so that the section does not close
/// there, the plane is moved by as little as takes it clear of the vertex, 1.3e-5 mm at most, to
/// the chosen side; a note says by how much.
ProfileSet section(std::span<const Solid> solids, const Datum& datum, double offset = 0.0,
                   const SectionOptions& options = {});
/// Of one solid.
ProfileSet section(const Solid& solid, const Datum& datum, double offset = 0.0,
                   const SectionOptions& options = {});

/// Solids made ready to be cut by many planes parallel to the datum: what the planes share is found
/// once. Each section is that of section(). Cheap to copy; one stack may be asked by several
/// threads at once, each gets what a single thread would.
class SectionStack {
  public:
    /// Throws GeometryError for a bad tolerance or a solid that is not closed.
    SectionStack(std::span<const Solid> solids, const Datum& datum,
                 const SectionOptions& options = {});

    /// The section by the datum moved by `offset` mm along its normal.
    ProfileSet at(double offset) const;
    /// Offsets in mm between which there is material (a bound, not always tight); first > last if
    /// there are no solids.
    Interval extent() const;
    /// What it was made of.
    const std::vector<Solid>& solids() const;
    const Datum& datum() const;
    const SectionOptions& options() const;
    /// Made of equal solids, datum and options.
    friend bool operator==(const SectionStack& a, const SectionStack& b);

  private:
    struct Prepared;
    struct Way;
    ProfileSet cut(const Way& way) const;
    static std::vector<double> moves_clear_of_vertices(const Prepared& prepared, double offset);
    std::shared_ptr<const Prepared> prepared_;
};

/// Hands the section at each offset, in their order, to `receive`: one at a time is in memory.
void sections(std::span<const Solid> solids, const Datum& datum, std::span<const double> offsets,
              const std::function<void(ProfileSet)>& receive, const SectionOptions& options = {});

/// The sections at all offsets.
std::vector<ProfileSet> sections(std::span<const Solid> solids, const Datum& datum,
                                 std::span<const double> offsets,
                                 const SectionOptions& options = {});

}  // namespace planform
