#include "planform/unfold.hpp"

#include <Standard_Failure.hxx>
#include <algorithm>
#include <cmath>
#include <exception>

#include "error/figures.hpp"
#include "model/kernel/kernel.hpp"
#include "model/measure/measure.hpp"
#include "planform/occt.hpp"
#include "planform/part_view.hpp"
#include "unfold/blank.hpp"
#include "unfold/closed_forms.hpp"
#include "unfold/corners.hpp"
#include "unfold/development.hpp"
#include "unfold/double_curved.hpp"
#include "unfold/hems.hpp"
#include "unfold/refusals.hpp"
#include "unfold/sound_sheet.hpp"
#include "unfold/without_breaks.hpp"

namespace planform {

namespace {

using unfolding::Development;
using unfolding::Refused;
using unfolding::SheetBody;
using unfolding::Skin;
using unfolding::SurfaceKind;

/// A sheet's sides make this share of its surface at least: of what has less, other faces would do
/// as well for its sides.
constexpr double least_skin = 0.4;
/// So many thicknesses are tried.
constexpr std::size_t most_thicknesses = 3;
/// A sheet is no thicker than this share of how wide its largest wall is.
constexpr double most_thickness = 0.5;
/// The two sides of a flat sheet make this share of its surface: of less, something stands on it.
constexpr double flat_skin = 0.6;
/// Areas nearer than this share count as equal.
constexpr double equal_areas = 1e-6;
/// Broken edges and countersinks take no more than this share of a sheet's volume.
constexpr double most_broken = 0.03;
/// To which thicknesses are rounded, mm: they come from differences of places.
constexpr double rounding = 1e-9;

/// For the note: why corners don't have the radius that they would have first.
std::string not_with(double radius, const std::string& why) {
    return "; with " + words::millimetres(radius) + " it would not do: " + why;
}

/// The wall that stays where it is: of both sides the largest face and the one opposite of it;
/// without walls the same of bends.
struct Root {
    int upper = -1;  ///< face that looks at the reader
    int lower = -1;  ///< -1: none
};

class Unfolder {
  public:
    Unfolder(const Solid& solid, const UnfoldOptions& options, double tolerance)
        : solid_(solid), options_(options), tolerance_(tolerance) {}

    Blank run(const TopoDS_Shape& shape) const {
        return run(shape, nullptr, {true, true, true, true, {}});
    }

  private:
    /// What may still be changed of a solid before it is unfolded, and what was.
    struct Mending {
        bool splines, hems, corners, breaks;
        std::vector<std::string> notes;
    };
    Blank run(const TopoDS_Shape& shape, const SheetBody* drawn, const Mending& mending) const;
    Blank at_thickness(const TopoDS_Shape& shape, const SheetBody& body,
                       const unfolding::Opposites& opposites, double thickness,
                       const Mending& mending) const;
    Blank blank_of(const SheetBody& body, const Skin& skin,
                   const std::vector<std::string>& notes) const;
    Blank blank_from(const SheetBody& body, const Skin& skin, int upper, int root_face,
                     std::vector<std::string> notes) const;
    Root root_of(const SheetBody& body, const Skin& skin) const;

    const Solid& solid_;
    const UnfoldOptions& options_;
    double tolerance_;
};

/// Bend lines, and where bends begin and end if that is wanted; of rolls, which have no line,
/// always.
std::vector<Mark> marks_of(const std::vector<Bend>& bends, bool limits) {
    std::vector<Mark> marks;
    const auto add = [&marks](const Line& line, std::string_view name) {
        marks.push_back(Mark::open({line}, std::string(name)));
    };
    for (const Bend& bend : bends) {
        for (const Line& line : bend.lines) add(line, bend.up ? bend_up_mark : bend_down_mark);
        if (limits || bend.lines.empty())
            for (const Line& line : bend.limits) add(line, bend_limit_mark);
    }
    return marks;
}

/// How much of the surface the sides of a thickness make.
double share_of_sides(const SheetBody& body, const unfolding::Opposites& opposites,
                      double thickness) {
    double of_sides = 0.0;
    for (std::size_t i = 0; i < body.face_count(); ++i)
        if (unfolding::lies_opposite(opposites, static_cast<int>(i), thickness))
            of_sides += body.areas[i];
    return of_sides / body.surface_area;
}

/// Sides of the thickness make most of the surface.
void require_sheet(const SheetBody& body, const unfolding::Opposites& opposites, double thickness) {
    const double share = share_of_sides(body, opposites, thickness);
    if (share < least_skin)
        refuse(NotUnfolded::no_sheet,
               "faces that lie " + words::millimetres(thickness) + " apart make only " +
                   words::percent(share) + " of its surface; a sheet's make " +
                   words::percent(least_skin) + " at the least",
               body, {});
}

void require_bend(const SheetBody& body, const Skin& skin) {
    int largest = -1;
    for (std::size_t i = 0; i < body.face_count(); ++i) {
        if (skin.side[i] == 0) continue;
        if (body.sheets[i].is_curved()) return;
        if (largest < 0 || body.areas[i] > body.area(largest)) largest = static_cast<int>(i);
    }
    double of_skin = 0.0;
    for (std::size_t i = 0; i < body.face_count(); ++i)
        if (skin.side[i] != 0) of_skin += body.areas[i];
    if (largest >= 0 && of_skin < flat_skin * body.surface_area)
        unfolding::require_cuts_only(body, skin);
    const std::vector<int> faces = largest < 0 ? std::vector<int>{} : std::vector<int>{largest};
    const double across =
        largest < 0
            ? 0.0
            : body.area(largest) / body.boxes[static_cast<std::size_t>(largest)].diagonal().norm();
    if (skin.thickness > most_thickness * across)
        refuse(NotUnfolded::no_sheet,
               "it is " + words::millimetres(skin.thickness) +
                   " thick where it is thinnest: too "
                   "much for a sheet of its width",
               body, faces);
    refuse(NotUnfolded::no_bend,
           "it has no bend: " + unfolding::face_words(body, faces) + " and what lies " +
               words::millimetres(skin.thickness) +
               " behind it are flat, and nothing goes on from them",
           body, faces);
}

/// Is what seems no sheet one that is curved two ways?
void refuse_if_double_curved(const SheetBody& body, const unfolding::Opposites& opposites) {
    const auto found = unfolding::find_double_curved(body);
    if (!found) return;
    double area = found->area;
    for (std::size_t i = 0; i < body.face_count(); ++i)
        if (unfolding::lies_opposite(opposites, static_cast<int>(i), found->thickness))
            area += body.areas[i];
    if (area < least_skin * body.surface_area) return;
    refuse(NotUnfolded::not_developable,
           unfolding::face_words(body, {found->face}) + " at " +
               unfolding::place_words(unfolding::place_of(body, found->face)) +
               " is curved two ways: no flat sheet bends to that without stretching",
           body, {found->face});
}

/// Which of two thicknesses' refusals says more: one that takes the body for a sheet, of these the
/// first.
bool says_more(const Refused& next, const Refused& first) {
    const auto is_little = [](const Refused& refused) {
        return refused.refusal.reason == NotUnfolded::no_bend ||
               refused.refusal.reason == NotUnfolded::no_sheet;
    };
    return is_little(first) && !is_little(next);
}

Blank Unfolder::run(const TopoDS_Shape& shape, const SheetBody* drawn,
                    const Mending& mending) const {
    const SheetBody body(shape, drawn);
    if (!body.graph.closed)
        refuse(NotUnfolded::not_measured,
               "its surface is open at edge " + std::to_string(body.graph.first_open_edge) +
                   "; repair the solid where it was drawn",
               body, {});
    const unfolding::Opposites opposites = unfolding::find_opposites(body);
    std::vector<unfolding::ThicknessShare> candidates =
        unfolding::possible_thicknesses(body, opposites);
    if (candidates.size() > most_thicknesses) candidates.resize(most_thicknesses);
    std::optional<Refused> first;
    for (const unfolding::ThicknessShare& candidate : candidates) {
        try {
            return at_thickness(shape, body, opposites, candidate.thickness, mending);
        } catch (Refused& refused) {
            if (!first || says_more(refused, *first)) first = std::move(refused);
        }
    }
    if (!first || first->refusal.reason == NotUnfolded::no_sheet)
        refuse_if_double_curved(body, opposites);
    if (first) throw std::move(*first);
    refuse(NotUnfolded::no_sheet,
           "no two of its faces lie opposite each other as a sheet's do, flat, coaxial or as "
           "cones",
           body, {});
}

Blank Unfolder::at_thickness(const TopoDS_Shape& shape, const SheetBody& body,
                             const unfolding::Opposites& opposites, double thickness,
                             const Mending& mending) const {
    const auto with_note = [&](bool corners, bool breaks, const std::string& note) {
        Mending next{mending.splines, mending.hems, corners, breaks, mending.notes};
        next.notes.push_back(note);
        return next;
    };
    if (mending.corners && share_of_sides(body, opposites, thickness) >= least_skin)
        unfolding::require_free_corners(body, opposites, thickness);
    if (mending.hems)
        if (const auto parted = unfolding::part_hem(body, thickness)) {
            Mending next = mending;
            next.notes.push_back(
                "the walls that touch each other beside the half cylinder of " +
                unfolding::face_words(body, {parted->face}) +
                " are drawn as one piece and taken apart: a hem, of inside radius 0");
            // Parted it is a sheet of this thickness, or what was taken for a hem is none.
            Blank blank = run(parted->shape, &body, next);
            if (std::abs(blank.thickness - thickness) <= 0.01 * thickness) return blank;
        }
    require_sheet(body, opposites, thickness);
    // What the kernel is to mend goes better with planes and cylinders than with splines that are
    // some.
    const auto closed_forms = [&] {
        return mending.splines && has_fitted_surfaces(body) ? unfolding::in_closed_forms(body)
                                                            : std::nullopt;
    };
    const auto again = [&](const TopoDS_Shape& converted) {
        Mending next = mending;
        next.splines = false;
        return run(converted, &body, next);
    };
    if (mending.corners && unfolding::has_corners(body, opposites, thickness))
        if (const auto converted = closed_forms()) return again(*converted);
    if (mending.corners) {
        // The thickness, if nothing is said; as it is drawn where that has no room.
        std::vector<double> radii{options_.rule.sharp_radius.value_or(thickness)};
        if (!options_.rule.sharp_radius) radii.push_back(0.0);
        std::exception_ptr first;
        std::string cause;
        for (const double radius : radii) {
            try {
                const auto bent =
                    unfolding::with_bent_corners(shape, body, opposites, thickness, radius);
                if (!bent) break;
                return run(bent->shape, &body,
                           with_note(false, mending.breaks, bent->note + cause));
            } catch (const Refused& refused) {
                if (!first) first = std::current_exception();
                cause = not_with(radius, refused.refusal.text);
            } catch (const GeometryError& error) {
                if (error.kind() != ErrorKind::law_broken) throw;
                if (!first) first = std::current_exception();
                cause = not_with(radius, error.what());
            }
        }
        if (first) std::rethrow_exception(first);
    }
    const Skin skin = unfolding::grow_skin(body, opposites, thickness);
    unfolding::require_nothing_formed(body, skin);
    require_bend(body, skin);
    const std::vector<int> breaks = unfolding::edge_breaks(body, skin);
    if (!breaks.empty() && mending.breaks) {
        if (const auto converted = closed_forms()) return again(*converted);
        const auto plain = unfolding::without_faces(shape, body, breaks);
        // What changes more than a broken edge does is another body.
        if (plain && std::abs(model::volume_of(*plain) - model::volume_of(shape)) <=
                         most_broken * model::volume_of(shape)) {
            return run(*plain, &body,
                       with_note(mending.corners, false,
                                 words::counted(breaks.size(), "rounded or chamfered edge is",
                                                "rounded or chamfered edges are") +
                                     " left out: the blank has the sheet's edges before they were "
                                     "broken (" +
                                     unfolding::face_words(body, breaks) + ")"));
        }
    }
    unfolding::require_cuts_only(body, skin);
    try {
        return blank_of(body, skin, mending.notes);
    } catch (const GeometryError& error) {
        // The proof tells by how much; where is in the faces.
        if (error.kind() == ErrorKind::law_broken)
            unfolding::require_full_thickness(body, opposites, skin);
        throw;
    }
}

Root Unfolder::root_of(const SheetBody& body, const Skin& skin) const {
    int largest = -1;
    const auto find = [&](bool flat) {
        for (std::size_t i = 0; i < body.face_count(); ++i)
            if (skin.side[i] != 0 && body.sheets[i].is_curved() != flat &&
                (largest < 0 || body.areas[i] > body.area(largest) * (1.0 + equal_areas)))
                largest = static_cast<int>(i);
    };
    find(true);
    if (largest < 0) find(false);
    const int side = skin.side[static_cast<std::size_t>(largest)];
    const unfolding::SheetSurface& surface = body.sheet(largest);
    int behind = -1;
    for (std::size_t i = 0; i < body.face_count(); ++i) {
        if (skin.side[i] != 3 - side) continue;
        const auto distance = thickness_between(surface, body.sheets[i]);
        if (!distance || !unfolding::is_same_thickness(*distance, skin.thickness)) continue;
        if (behind < 0 || body.areas[i] > body.area(behind) * (1.0 + equal_areas))
            behind = static_cast<int>(i);
    }
    // The side that the part's own frame shows from above, from the front or from the right.
    const Point3 place =
        surface.is_curved() ? surface.origin + surface.middle + surface.axis : surface.origin;
    const Vector3 outward = solid_.placement().linear().inverse() * surface.outward_at(place);
    if (view_that_shows(outward) || behind < 0) return {largest, behind};
    return {behind, largest};
}

/// Takes the faces that look at the reader; where a slanted cut leaves these otherwise than the
/// middle of the thickness (a hole that only there reaches into a wall), those of the other side.
Blank Unfolder::blank_of(const SheetBody& body, const Skin& skin,
                         const std::vector<std::string>& notes) const {
    const Root root = root_of(body, skin);
    const int upper = skin.side[static_cast<std::size_t>(root.upper)];
    try {
        return blank_from(body, skin, upper, root.upper, notes);
    } catch (const Refused& refused) {
        if (refused.refusal.reason != NotUnfolded::not_one_thickness || root.lower < 0) throw;
        try {
            return blank_from(body, skin, upper, root.lower, notes);
        } catch (const Refused&) {
            throw refused;
        }
    }
}

Blank Unfolder::blank_from(const SheetBody& body, const Skin& skin, int upper, int root_face,
                           std::vector<std::string> notes) const {
    const int source = skin.side[static_cast<std::size_t>(root_face)];
    Blank blank;
    blank.notes = std::move(notes);
    Development development{body, skin, tolerance_, {}, {}, {}, {}, {}, {}, -1};
    unfolding::make_panels(development, upper, source, root_face);
    unfolding::make_turns(development, options_.rule, blank.notes);
    unfolding::make_curves(development);
    unfolding::place_panels(development);
    const Datum datum = unfolding::settle_frame(development, solid_.placement());
    const auto loops = unfolding::cut_loops(development);
    Profile profile = unfolding::profile_of(development, loops, datum, solid_.name());
    blank.thickness = std::round(skin.thickness / rounding) * rounding;
    blank.volume = model::measured("volume", [&] { return body.volume(); });
    const Proof proof = unfolding::prove_by_folding(development, loops, datum, blank.volume);
    blank.bends = unfolding::bends_of(development);
    if (std::any_of(development.sides.begin(), development.sides.end(),
                    [](const unfolding::Side& side) { return side.slanted; }))
        blank.notes.emplace_back(
            "some cuts are slanted: the blank has them in the middle of the thickness");
    blank.outline = ProfileSet({std::move(profile)}, marks_of(blank.bends, options_.mark_limits),
                               datum, tolerance_, solid_.name(), blank.notes, Validate::no)
                        .with_proof(proof);
    return blank;
}

void check(const UnfoldOptions& options) {
    if (options.rule.kind == BendRuleKind::k_factor &&
        (!(options.rule.k_factor >= 0.0) || !(options.rule.k_factor <= 1.0)))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the K factor must lie between 0 and 1: the depth of the layer that "
                            "keeps its length, from the inside, as a share of the thickness");
    if (options.rule.sharp_radius &&
        (!(*options.rule.sharp_radius >= 0.0) || !std::isfinite(*options.rule.sharp_radius)))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the inside radius of corners that are drawn sharp must be 0 or more "
                            "and finite (mm)");
    if (options.rule.kind == BendRuleKind::table && options.rule.table.empty())
        throw GeometryError(ErrorKind::invalid_argument, "the bend table has no rows");
}

UnfoldRefusal not_measured(const std::string& text) {
    UnfoldRefusal refusal;
    refusal.reason = NotUnfolded::not_measured;
    refusal.text = text;
    return refusal;
}

}  // namespace

UnfoldError::UnfoldError(const std::string& message, UnfoldRefusal refusal)
    : GeometryError(ErrorKind::not_unfolded, message), refusal_(std::move(refusal)) {}

double Bend::length() const {
    double sum = 0.0;
    for (const Line& line : lines) sum += (line.end - line.start).norm();
    return sum;
}

std::string_view word_for(BendKind kind) {
    switch (kind) {
        case BendKind::bend:
            return "bend";
        case BendKind::conical:
            return "conical";
        case BendKind::roll:
            return "roll";
    }
    return "bend";
}

std::string_view word_for(NotUnfolded reason) {
    switch (reason) {
        case NotUnfolded::no_bend:
            return "no bend";
        case NotUnfolded::no_sheet:
            return "no sheet";
        case NotUnfolded::not_one_thickness:
            return "not of one thickness";
        case NotUnfolded::sharp_corner:
            return "sharp corner";
        case NotUnfolded::closed_ring:
            return "closed ring of walls";
        case NotUnfolded::not_developable:
            return "not developable";
        case NotUnfolded::lip_or_louvre:
            return "lip or louvre";
        case NotUnfolded::overlaps:
            return "blank overlaps itself";
        case NotUnfolded::not_measured:
            return "not measured";
    }
    return "not measured";
}

const std::vector<NotUnfolded>& all_not_unfolded_reasons() {
    static const std::vector<NotUnfolded> reasons{
        NotUnfolded::no_bend,       NotUnfolded::no_sheet,    NotUnfolded::not_one_thickness,
        NotUnfolded::sharp_corner,  NotUnfolded::closed_ring, NotUnfolded::not_developable,
        NotUnfolded::lip_or_louvre, NotUnfolded::overlaps,    NotUnfolded::not_measured};
    return reasons;
}

Unfolding try_unfold(const Solid& solid, const UnfoldOptions& options) {
    check(options);
    Unfolding result;
    try {
        const double extent = solid.bounds().diagonal().norm();
        const double tolerance = options.tolerance == default_tolerance
                                     ? limited_tolerance(options.tolerance, extent)
                                     : fit_tolerance(options.tolerance, extent);
        const Unfolder unfolder(solid, options, tolerance);
        result.blank = unfolder.run(shape_of(solid));
    } catch (Refused& refused) {
        result.refusal = std::move(refused.refusal);
    } catch (const Standard_Failure& failure) {
        result.refusal =
            not_measured("the kernel fails on it (" + model::describe_failure(failure) +
                         "); repair the solid where it was drawn");
    } catch (const GeometryError& error) {
        if (error.kind() == ErrorKind::invalid_argument ||
            error.kind() == ErrorKind::no_bend_rule ||
            error.kind() == ErrorKind::tolerance_out_of_range)
            throw;
        result.refusal = not_measured(error.what());
        if (error.kind() == ErrorKind::law_broken)
            result.refusal.reason = NotUnfolded::not_one_thickness;
    }
    return result;
}

Blank unfold(const Solid& solid, const UnfoldOptions& options) {
    Unfolding result = try_unfold(solid, options);
    if (result.blank) return std::move(*result.blank);
    std::string text = "solid '" + solid.name() + "' is not unfolded (";
    text.append(word_for(result.refusal.reason)).append("): ").append(result.refusal.text);
    throw UnfoldError(text, std::move(result.refusal));
}

}  // namespace planform
