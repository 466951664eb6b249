#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <map>
#include <optional>
#include <sstream>
#include <string>
#include <string_view>
#include <utility>

#include "allowance/unreached.hpp"
#include "planform/allowance.hpp"
#include "planform/error.hpp"
#include "planform/inspect.hpp"

namespace planform {
namespace {

/// Corners stay sharp down to this angle of the tip: beyond, the way to where its sides meet is
/// longer than four times the distance (OffsetOptions::limit).
constexpr double sharpest_tip = 29.0 * pi / 180.0;
/// What is left of a curve with a fit is looked for at this many places on it.
constexpr int places_on_curve = 15;
/// mm: between the walls of a slot that is wider than the cut by less there is no way around: its
/// two sides would be one for whoever reads the drawing.
constexpr double least_way = 1e-5;
/// The same as a share of the outline's size.
constexpr double least_way_per_size = 1e-8;
/// mm: further from where a curve is moved to, nothing of it is left.
constexpr double left_within = 1e-6;
/// Tips in which more material than this multiple of the cut's half width is left are told of:
/// those of less than 29 degrees.
constexpr double told_depth = 3.0;

/// What the notes of a way begin with.
constexpr std::string_view kerf_note = "the width of cut, ";
constexpr std::string_view fit_note = "a fit of ";
constexpr std::string_view relief_note = "inner corners are relieved for a tool of ";
constexpr std::string_view no_relief_note = "no relief at ";
constexpr std::string_view tip_note = "tips that the cut does not reach: ";

using Distances = std::map<CurveAddress, double>;

std::string millimetres(double value) {
    std::ostringstream text;
    text.precision(6);
    text << value << " mm";
    return text.str();
}

std::string at(const Point2& place) {
    std::ostringstream text;
    text.precision(6);
    text << "(" << place.x() << ", " << place.y() << ")";
    return text.str();
}

std::string who(const ProfileSet& outline) {
    return outline.name().empty() ? std::string() : "\"" + outline.name() + "\": ";
}

[[noreturn]] void refuse(const ProfileSet& outline, const std::string& what) {
    throw GeometryError(ErrorKind::no_room_for_allowance, who(outline) + what);
}

[[noreturn]] void refuse_argument(const std::string& what) {
    throw GeometryError(ErrorKind::invalid_argument, what);
}

const Contour* contour_of(const ProfileSet& outline, const CurveAddress& address) {
    if (address.profile < 0 || address.contour < 0) return nullptr;
    const auto profile = static_cast<std::size_t>(address.profile);
    if (profile >= outline.profiles().size()) return nullptr;
    const Profile& part = outline.profiles()[profile];
    if (address.contour == 0) return &part.outer();
    const auto hole = static_cast<std::size_t>(address.contour) - 1;
    return hole < part.holes().size() ? &part.holes()[hole] : nullptr;
}

const Curve* curve_of(const ProfileSet& outline, const CurveAddress& address) {
    const Contour* contour = contour_of(outline, address);
    const auto curve = static_cast<std::size_t>(address.curve);
    return contour && address.curve >= 0 && curve < contour->curves().size()
               ? &contour->curves()[curve]
               : nullptr;
}

/// Does a note begin with the words, or, after the names of pieces and a colon, what it says?
bool says(const std::string& note, std::string_view words) {
    const std::size_t place = note.find(words);
    return place == 0 ||
           (place != std::string::npos && place >= 2 && note.compare(place - 2, 2, ": ") == 0);
}

bool says(const ProfileSet& outline, std::string_view words) {
    const std::vector<std::string>& notes = outline.notes();
    return std::any_of(notes.begin(), notes.end(),
                       [&](const std::string& note) { return says(note, words); });
}

/// What is in an outline already is not put in again: parts would be wrong by it.
void check_not_twice(const ProfileSet& outline, const Allowance& allowance) {
    const std::string advice =
        " already, as its notes say; take the outline of the part, or leave it out";
    if (allowance.kerf > 0.0 && says(outline, kerf_note))
        refuse_argument(who(outline) + "the width of cut is in the outline" + advice);
    if (!allowance.fits.empty() && says(outline, fit_note))
        refuse_argument(who(outline) + "a fit is in the outline" + advice);
    if (allowance.relief > 0.0 && (says(outline, kerf_note) || says(outline, relief_note)))
        refuse_argument(who(outline) +
                        "reliefs go into the outline of the part before the width of cut, and "
                        "once; one of both is in it already, as its notes say");
}

Distances checked(const ProfileSet& outline, const Allowance& allowance) {
    if (!(allowance.kerf >= 0.0) || !std::isfinite(allowance.kerf))
        refuse_argument("the width of cut (kerf) must be finite and not negative (mm)");
    if (!std::isfinite(allowance.fit)) refuse_argument("the fit must be a finite number (mm)");
    if (!(allowance.relief >= 0.0) || !std::isfinite(allowance.relief))
        refuse_argument("the diameter of a relief must be finite and not negative (mm)");
    if (allowance.relief > 0.0 && allowance.relief <= allowance.kerf)
        refuse_argument(
            "a relief of " + millimetres(allowance.relief) + " is no wider than the cut of " +
            millimetres(allowance.kerf) +
            ": there is no way for the tool in it; leave the width of cut to the machine, or make "
            "the relief wider");
    Distances distances;
    for (const CurveFit& fit : allowance.fits) {
        const CurveAddress& a = fit.at;
        const std::string place = "profile " + std::to_string(a.profile) + ", contour " +
                                  std::to_string(a.contour) + ", curve " + std::to_string(a.curve);
        if (!std::isfinite(fit.distance)) refuse_argument("the fit at " + place + " is not finite");
        if (!curve_of(outline, a))
            refuse_argument("a fit is given for " + place + ", which the outline does not have");
        if (!distances.emplace(a, fit.distance).second)
            refuse_argument("a fit is given twice for " + place);
    }
    return distances;
}

/// Has a contour an outer corner so sharp that it can't stay sharp? The material is on the left.
bool has_sharp_tip(const Contour& contour) {
    const std::vector<Curve>& curves = contour.curves();
    for (std::size_t i = 0; i < curves.size(); ++i) {
        const Curve &before = curves[i], &after = curves[(i + 1) % curves.size()];
        const Vector2 in = derivative_at(before, domain(before).last);
        const Vector2 out = derivative_at(after, domain(after).first);
        const double turn = std::atan2(cross(in, out), in.dot(out));
        if (pi - turn < sharpest_tip) return true;
    }
    return false;
}

OffsetOptions options_for(const ProfileSet& outline) {
    OffsetOptions options;
    options.corners = Corners::sharp;
    for (const Profile& profile : outline.profiles()) {
        bool sharp = has_sharp_tip(profile.outer());
        for (const Contour& hole : profile.holes()) sharp = sharp || has_sharp_tip(hole);
        if (sharp) options.corners = Corners::round;
    }
    return options;
}

CurveAddress address_of(const CurvePlace& place) {
    return {place.profile, place.contour, place.curve};
}

bool is_change_in_kind(const Finding& finding) {
    return finding.rule == RuleKind::contour_gone || finding.rule == RuleKind::split ||
           finding.rule == RuleKind::merged;
}

const Finding* change_in_kind(const Allowed& moved) {
    const auto found =
        std::find_if(moved.findings.begin(), moved.findings.end(), is_change_in_kind);
    return found == moved.findings.end() ? nullptr : &*found;
}

/// Moved with sharp corners; with arcs around them where tips that were led on meet other outlines.
Allowed moved_by(const ProfileSet& outline, const CurveDistances& distances) {
    OffsetOptions options = options_for(outline);
    Allowed moved = offset(outline, distances, options);
    if (options.corners == Corners::round || !change_in_kind(moved)) return moved;
    options.corners = Corners::round;
    return offset(outline, distances, options);
}

double distance_to(const ProfileSet& set, const Point2& place) {
    double least = std::numeric_limits<double>::infinity();
    const auto look = [&](const Contour& contour) {
        for (const Curve& curve : contour.curves()) {
            if (bounds(curve).exteriorDistance(place) >= least) continue;
            const Point2 foot = point_at(curve, nearest_parameter(curve, place));
            least = std::min(least, (foot - place).norm());
        }
    };
    for (const Profile& profile : set.profiles()) {
        look(profile.outer());
        for (const Contour& hole : profile.holes()) look(hole);
    }
    return least;
}

/// Is anything left of a curve that was moved by `distance` into its material?
bool is_left(const ProfileSet& moved, const Curve& curve, double distance) {
    const Interval range = domain(curve);
    const double near = std::max(left_within, moved.tolerance() * 0.2);
    for (int i = 0; i < places_on_curve; ++i) {
        const double t = range.first + (range.last - range.first) * (i + 0.5) / places_on_curve;
        const Vector2 along = derivative_at(curve, t).normalized();
        const Point2 place = point_at(curve, t) + distance * Vector2(-along.y(), along.x());
        if (distance_to(moved, place) <= near) return true;
    }
    return false;
}

/// The part as it is wanted: the outline with its fits.
ProfileSet with_fits(const ProfileSet& outline, const Distances& fits) {
    if (fits.empty()) return outline;
    const Allowed moved = moved_by(outline, [&fits](const CurvePlace& place) {
        const auto fit = fits.find(address_of(place));
        return fit == fits.end() ? 0.0 : -fit->second;
    });
    if (const Finding* change = change_in_kind(moved))
        refuse(outline, "the fit leaves nothing of a tab or a slot at " + at(change->place) +
                            "; make the fit smaller");
    for (const auto& [address, distance] : fits)
        if (const Curve& curve = *curve_of(outline, address);
            !is_left(moved.profiles, curve, distance))
            refuse(outline,
                   "the fit of " + millimetres(distance) +
                       " is larger than the tab or the slot that it is put on, at " +
                       at(point_at(curve, (domain(curve).first + domain(curve).last) / 2.0)) +
                       "; make the fit smaller");
    return moved.profiles;
}

[[noreturn]] void refuse_narrow(const ProfileSet& part, const std::string& what,
                                const Point2& place, std::optional<double> width, double kerf) {
    const bool is_narrower = !width || *width < kerf - left_within;
    refuse(part, what + " at " + at(place) + " is " +
                     (width ? millimetres(*width) + " wide, " : std::string()) +
                     (is_narrower ? "narrower than" : "no wider than") + " the cut of " +
                     millimetres(kerf) + "; widen it, or leave the width of cut out");
}

/// Holes, slots and notches that the tool can't pass: notches fill up without any other sign.
void check_widths(const ProfileSet& part, double kerf) {
    const double least =
        kerf + std::max(least_way, least_way_per_size * part.bounds().diagonal().norm());
    for (const NarrowPlace& place : narrow_places(part, least)) {
        if (place.kind != NarrowPlace::Kind::inner || place.width >= least) continue;
        const bool is_apart = place.profile != place.other_profile;
        refuse_narrow(part, is_apart ? "the gap between two outlines" : "the hole or slot",
                      place.center, place.width, kerf);
    }
}

/// Notches that taper or are round have no narrow place, and yet the tool may pass them by. Returns
/// what there is to say of tips that it leaves.
std::vector<std::string> check_reach(const ProfileSet& part, const ProfileSet& way, double kerf) {
    const double near = std::max(left_within, part.tolerance() * 0.2);
    const allowance::Unreached* deepest = nullptr;
    int told = 0;
    const std::vector<allowance::Unreached> all = allowance::unreached(part, way, kerf / 2.0, near);
    for (const allowance::Unreached& one : all) {
        if (one.is_lost)
            refuse_narrow(part, "the notch", one.place, (one.second_lip - one.first_lip).norm(),
                          kerf);
        if (one.depth <= told_depth * kerf / 2.0) continue;
        ++told;
        if (!deepest || one.depth > deepest->depth) deepest = &one;
    }
    if (!deepest) return {};
    return {std::string(tip_note) + millimetres(deepest->depth) + " of material stay at " +
            at(deepest->place) +
            (told > 1 ? ", less at " + std::to_string(told - 1) + " more" : std::string())};
}

/// The part with half of the width of cut around it, and what there is to say of it.
std::pair<ProfileSet, std::vector<std::string>> grown(const ProfileSet& part, double kerf) {
    if (kerf == 0.0 || part.profiles().empty()) return {part, {}};
    check_widths(part, kerf);
    const Allowed moved = moved_by(part, [kerf](const CurvePlace&) { return kerf / 2.0; });
    if (const Finding* change = change_in_kind(moved)) {
        const bool is_narrow = change->measured && *change->measured < kerf + least_way;
        refuse_narrow(part, "what is between outlines", change->place,
                      is_narrow ? change->measured : std::nullopt, kerf);
    }
    return {moved.profiles, check_reach(part, moved.profiles, kerf)};
}

std::vector<std::string> notes_of(const ProfileSet& outline, const Allowance& allowance) {
    std::vector<std::string> notes = outline.notes();
    if (allowance.kerf > 0.0)
        notes.push_back(std::string(kerf_note) + millimetres(allowance.kerf) +
                        ", is in it: outer contours are " + millimetres(allowance.kerf / 2.0) +
                        " outside of the part and holes as much inside; the machine must not add "
                        "it again");
    if (!allowance.fits.empty())
        notes.push_back(std::string(fit_note) + millimetres(allowance.fit) + " is in it, at " +
                        std::to_string(allowance.fits.size()) +
                        (allowance.fits.size() == 1 ? " curve" : " curves"));
    if (allowance.relief > 0.0)
        notes.push_back(std::string(relief_note) + millimetres(allowance.relief));
    return notes;
}

}  // namespace

std::vector<std::string> allowance_notes(const ProfileSet& outline) {
    std::vector<std::string> found;
    for (const std::string& note : outline.notes())
        for (const std::string_view words :
             {kerf_note, fit_note, relief_note, no_relief_note, tip_note})
            if (says(note, words)) found.push_back(note);
    return found;
}

ProfileSet as_cut(const ProfileSet& outline, const Allowance& allowance) {
    const Distances fits = checked(outline, allowance);
    if (allowance.is_none()) return outline;
    check_not_twice(outline, allowance);
    ProfileSet part = with_fits(outline, fits);
    std::vector<std::string> notes = notes_of(outline, allowance);
    if (allowance.relief > 0.0) {
        const Allowed relief = relieved(part, allowance.relief / 2.0, {allowance.relief_style});
        for (const Finding& finding : relief.findings)
            notes.push_back(std::string(no_relief_note) + at(finding.place) + ": " + finding.text);
        part = relief.profiles;
    }
    const auto [way, tips] = grown(part, allowance.kerf);
    notes.insert(notes.end(), tips.begin(), tips.end());
    return ProfileSet(way.profiles(), way.marks(), way.datum(), way.tolerance(), way.name(),
                      std::move(notes));
}

}  // namespace planform
