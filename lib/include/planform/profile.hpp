#pragma once

/// Closed contours, profiles and profile sets: the result of flattening.
///
/// Millimetres throughout. Values are immutable: operations return new values.

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "planform/curve.hpp"
#include "planform/datum.hpp"
#include "planform/proof.hpp"
#include "planform/tolerance.hpp"

namespace planform {

/// Where a curve of the outline came from: which solid of the call, and which of its edges or faces
/// (1-based, in the order of the solid's own topology; 0 if unknown).
struct Provenance {
    enum class Kind { unknown, edge, fold, section };
    Kind kind = Kind::unknown;
    int solid = -1;  ///< index into the solids that were flattened, -1 if unknown
    int entity = 0;  ///< edge number (edge), face number (fold, section)

    bool operator==(const Provenance&) const = default;
};

/// Does a constructor prove that its parts make a shape, or does it take the caller's word for it?
/// `no` is for what is proven already: results of this library, read back or moved.
enum class Validate { yes, no };

/// A closed chain of curves, each starting where the one before ends, the last ending where the
/// first starts; closed from construction on, with gaps of at most `Contour::closure` times the
/// size.
class Contour {
  public:
    /// Largest gap between neighbours, relative to the contour's size, that counts as closed: the
    /// rounding of ends of arcs (which keep their centre and radius) stays well below it.
    static constexpr double closure = 1e-6;

    /// Throws GeometryError (contour_not_closed) with the place and size of the gap if two
    /// neighbours don't meet, (invalid_argument) if there is no curve or a number is not finite,
    /// and, if it validates, (contour_without_area) and (contour_crosses_itself) with the place; a
    /// contour may touch itself. Crossings count if they are deeper than about 1e-6 of the
    /// contour's size, 1e-4 mm at most. `provenance` is empty or has one entry a curve. O(n log n).
    explicit Contour(std::vector<Curve> curves, std::vector<Provenance> provenance = {},
                     Validate validate = Validate::yes);

    const std::vector<Curve>& curves() const { return curves_; }
    const std::vector<Provenance>& provenance() const { return provenance_; }
    /// Signed area in mm^2: positive if counter-clockwise. Green's theorem on the exact curves,
    /// small gaps closed by straight lines.
    double area() const { return area_; }
    /// Length in mm.
    double length() const;
    Box2 bounds() const;
    /// True if all curves lie on one circle that the contour goes round once.
    bool is_circle() const;
    /// Vertices of a polyline within `tolerance` mm of the contour, first point not repeated.
    std::vector<Point2> points(double tolerance) const;
    Contour reversed() const;
    /// Image under the map; a mirror map turns the direction, so the result is reversed again to
    /// keep the sign of the area.
    Contour transformed(const Transform2& transform) const;
    /// The same curves from the same start, with the same provenance.
    bool operator==(const Contour&) const = default;

  private:
    std::vector<Curve> curves_;
    std::vector<Provenance> provenance_;
    double area_ = 0.0;
};

/// One outer contour (counter-clockwise) with the holes (clockwise) inside it.
class Profile {
  public:
    /// Orients the contours. `name` is that of the solid (or of the profile, after a boolean) that
    /// the outer contour comes from; empty if there are several.
    /// `parent` is the index, in the profile set, of the profile in whose hole this one lies (an
    /// island), or -1. Throws GeometryError, if it validates, (hole_not_inside) for a hole that
    /// reaches outside the outer contour and (holes_overlap), each with the hole's number and the
    /// place; contours may touch. O(n log n).
    explicit Profile(Contour outer, std::vector<Contour> holes = {}, std::string name = {},
                     int parent = -1, Validate validate = Validate::yes);

    const Contour& outer() const { return outer_; }
    const std::vector<Contour>& holes() const { return holes_; }
    const std::string& name() const { return name_; }
    int parent() const { return parent_; }
    bool is_island() const { return parent_ >= 0; }
    /// Area in mm^2, holes taken off.
    double area() const;
    /// Length of all contours in mm.
    double length() const;
    Box2 bounds() const;
    Profile transformed(const Transform2& transform) const;
    /// Equal contours, holes in the same order, name and parent.
    bool operator==(const Profile&) const = default;

  private:
    Contour outer_;
    std::vector<Contour> holes_;
    std::string name_;
    int parent_;
};

/// A chain of curves that is scored or engraved, not cut through: a closed contour, or open.
class Mark {
  public:
    /// `depth`: how deep what the mark bounds lies below the side that is marked, mm; negative for
    /// what stands above it; 0 for a line on the surface, or where nobody knows. Throws
    /// GeometryError for a depth that is not finite.
    Mark(Contour contour, std::string name = {}, double depth = 0.0);
    /// An open chain, each curve starting where the one before ends, to within Contour::closure of
    /// its size. Throws GeometryError for no curve, a curve that is none, and, with the place, for
    /// a gap.
    static Mark open(std::vector<Curve> curves, std::string name = {}, double depth = 0.0);

    bool is_closed() const { return contour_.has_value(); }
    /// Throws GeometryError (contour_not_closed) for an open mark.
    const Contour& contour() const;
    /// Of the contour, or of the open chain.
    const std::vector<Curve>& curves() const { return contour_ ? contour_->curves() : chain_; }
    const std::string& name() const { return name_; }
    double depth() const { return depth_; }
    /// Of the contour, signed, mm^2; 0 of an open chain.
    double area() const { return contour_ ? contour_->area() : 0.0; }
    double length() const;  ///< mm
    Box2 bounds() const;
    /// Vertices of a polyline within `tolerance` mm; of a contour the first is not repeated.
    std::vector<Point2> points(double tolerance) const;
    Mark transformed(const Transform2& transform) const;
    /// Equal curves, name and depth.
    bool operator==(const Mark&) const = default;

  private:
    Mark() = default;
    std::optional<Contour> contour_;
    std::vector<Curve> chain_;
    std::string name_;
    double depth_ = 0.0;
};

/// All profiles of one flattening, with their datum.
class ProfileSet {
  public:
    /// Throws GeometryError (invalid_argument) if the tolerance is not a positive finite number or
    /// a parent is not another profile of the set, and, if it validates, (tolerance_out_of_range)
    /// for a tolerance above a hundredth of the set's extent (see tolerance.hpp).
    explicit ProfileSet(std::vector<Profile> profiles = {}, std::vector<Mark> marks = {},
                        Datum datum = Datum::xy(), double tolerance = default_tolerance,
                        std::string name = {}, std::vector<std::string> notes = {},
                        Validate validate = Validate::yes);

    const std::vector<Profile>& profiles() const { return profiles_; }
    const std::vector<Mark>& marks() const { return marks_; }
    const Datum& datum() const { return datum_; }
    /// Bound in mm on the distance between the true outline and this one.
    double tolerance() const { return tolerance_; }
    /// Free text for titles; never used as a path.
    const std::string& name() const { return name_; }
    /// What a person should know about how the result was made (one sentence each).
    const std::vector<std::string>& notes() const { return notes_; }
    /// Indices of the profiles that are islands, ascending; the parent of each says where it lies.
    std::vector<int> islands() const;
    bool empty() const { return profiles_.empty() && marks_.empty(); }
    /// Area of the profiles in mm^2.
    double area() const;
    /// Length of all contours that are cut, in mm (marks not counted).
    double length() const;
    /// Bounds of profiles and marks; an empty box if there are none.
    Box2 bounds() const;
    /// 32 hexadecimal digits for the geometry: independent of the order of profiles, the start
    /// point and the splitting of lines and arcs; names, notes, datum and provenance don't count.
    ///
    /// Sets of which a corner, a centre, a radius or a pole differs by 0.0071 mm, or by a 350th of
    /// their size where that is less, always have different digests. Noise of e mm leaves
    /// the digest as it is wherever the outline lies, on every grid; it flips with a probability of
    /// about 2 n e / 0.005 for n coordinates, 4e-9 for ten and the rounding of a motion (1e-12 mm).
    /// Differences between count by chance: `==` tells finer and without chance.
    std::string digest() const;
    /// The set turned and moved so that outlines that are the same but for a motion become the
    /// same: the centroid (of the marks' contours if there are no profiles) in the origin, the
    /// feature that is furthest from it (a corner, a centre, a pole) on the x axis, of several the
    /// one that gives the smallest digest. `normalized().digest()` does not depend on where the
    /// outline lies, within what digest() says; mirror images have different ones.
    ProfileSet normalized() const;
    /// Do all numbers of the two sets agree to 1e-6 mm (below a size of 1 mm: to a millionth of the
    /// size)? Independent of order, starts and splitting, as the digest is.
    friend bool operator==(const ProfileSet& a, const ProfileSet& b);
    ProfileSet transformed(const Transform2& transform) const;
    ProfileSet with_name(std::string name) const;
    /// With other marks in place of its own, and with further notes.
    ProfileSet with_marks(std::vector<Mark> marks) const;
    ProfileSet with_notes(const std::vector<std::string>& notes) const;
    /// The same coordinates on another datum.
    ProfileSet with_datum(const Datum& datum) const;
    /// What a flattening was held against before it was handed out; empty for sets that come from
    /// elsewhere (a file, a boolean, a caller). Kept by motions, not written to files.
    const Proof& proof() const { return proof_; }
    ProfileSet with_proof(Proof proof) const;
    /// The caller's own metadata as the text of a JSON object; empty if there is none. Kept by
    /// motions, written to JSON under one key. It is no part of the geometry: digest and `==` don't
    /// ask for it.
    const std::string& data() const { return data_; }
    /// Throws nothing: json_text() refuses what is no JSON object.
    ProfileSet with_data(std::string data) const;
    /// With other profiles in place of its own; the proof, which was about those, goes. Throws as
    /// the constructor does.
    ProfileSet with_profiles(std::vector<Profile> profiles,
                             Validate validate = Validate::yes) const;

  private:
    std::vector<Profile> profiles_;
    std::vector<Mark> marks_;
    Datum datum_;
    double tolerance_;
    std::string name_;
    std::vector<std::string> notes_;
    Proof proof_;
    std::string data_;
};

}  // namespace planform
