#include "plan/plan_checks.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>
#include <string>

#include "curve/index.hpp"
#include "planform/error.hpp"

namespace planform::planning {
namespace {

using detail::index;

[[noreturn]] void refuse(const std::string& message) {
    throw GeometryError(ErrorKind::invalid_argument, message);
}

std::string text_of(double value) {
    std::ostringstream text;
    text.precision(4);
    text << value;
    return text.str();
}

void require(double value, double least, const char* name, const char* unit) {
    if (!std::isfinite(value) || value < least)
        refuse(std::string(name) + " = " + text_of(value) + " is no finite number of " +
               text_of(least) + " or more (" + unit + ")");
}

void check_addresses(const PlacedPiece& piece) {
    const auto& profiles = piece.outline.profiles();
    for (const CurveAddress& at : piece.avoid) {
        const bool has_profile = at.profile >= 0 && index(at.profile) < profiles.size();
        const Contour* contour = nullptr;
        if (has_profile) {
            const Profile& profile = profiles[index(at.profile)];
            if (at.contour == 0) contour = &profile.outer();
            if (at.contour > 0 && index(at.contour) <= profile.holes().size())
                contour = &profile.holes()[index(at.contour - 1)];
        }
        if (contour == nullptr || at.curve < 0 || index(at.curve) >= contour->curves().size())
            refuse("piece \"" + piece.name + "\" has no curve " + std::to_string(at.curve) +
                   " of contour " + std::to_string(at.contour) + " of profile " +
                   std::to_string(at.profile) + " that could be avoided");
    }
}

const Profile* profile_of(const std::vector<PlacedPiece>& pieces, const Cut& cut) {
    return cut.profile < 0 ? nullptr
                           : &pieces[index(cut.piece)].outline.profiles()[index(cut.profile)];
}

/// What a cut frees: the profile of an outer contour, the inside of a hole.
Profile freed_by(const Profile& profile, const Cut& cut) {
    if (cut.role == CutRole::outer) return profile;
    return Profile(profile.holes()[index(cut.contour - 1)].reversed(), {}, {}, -1, Validate::no);
}

double mass_of(const PlacedPiece& piece, const Profile& profile) {
    const double area = piece.outline.area();
    return area > 0.0 ? piece.mass * profile.area() / area : 0.0;
}

std::string quoted(const std::vector<PlacedPiece>& pieces, int piece) {
    return "\"" + pieces[index(piece)].name + "\"";
}

}  // namespace

void check_options(const std::vector<PlacedPiece>& pieces, const PlanOptions& options) {
    const EntryOptions& entry = options.entry;
    require(options.kerf, 0.0, "kerf", "mm");
    require(entry.length, 0.0, "the length of an entry", "mm");
    require(entry.exit_length, 0.0, "the length of an exit", "mm");
    require(entry.clearance, 0.0, "the clearance of an entry", "mm");
    require(entry.least_hole, 0.0, "the least hole entered from its edge", "mm");
    require(entry.web, 0.0, "the web behind a start", "mm");
    if (!std::isfinite(entry.over_cut)) refuse("the over-cut is no finite number (mm)");
    if (!(entry.angle >= 0.0 && entry.angle <= 0.5 * pi))
        refuse("the angle of an entry lies between 0 (tangential) and a quarter turn (square)");
    if (entry.length > 0.0 && entry.clearance > entry.length)
        refuse("an entry of " + text_of(entry.length) + " mm can't begin " +
               text_of(entry.clearance) + " mm off the contour; make it longer");
    require(options.hold.width, 0.0, "the width of a holding strip", "mm");
    require(options.hold.mass_per_strip, 0.0, "the mass that a strip holds", "kg");
    if (options.hold.count < 0) refuse("the number of holding strips is negative");
    require(options.grate.opening, 0.0, "the opening of the grate", "mm");
    require(options.apart_distance, 0.0, "the distance that cuts keep apart", "mm");
    if (options.apart_count < 0) refuse("the number of cuts that keep apart is negative");
    if (options.apart_count > most_apart)
        refuse("more than " + std::to_string(most_apart) +
               " cuts can't keep apart from each other");
    require(options.band, 0.0, "the width of a band", "mm");
    if (!options.home.allFinite()) refuse("the home position has a coordinate that is not finite");
    for (const PlacedPiece& piece : pieces) {
        require(piece.mass, 0.0, "the mass of a piece", "kg");
        check_addresses(piece);
    }
}

int strips_for(const std::vector<PlacedPiece>& pieces, const PlanOptions& options, const Cut& cut) {
    const HoldOptions& hold = options.hold;
    if (hold.width <= 0.0 || cut.role != CutRole::outer) return 0;
    const Profile& profile = *profile_of(pieces, cut);
    if (options.grate.opening > 0.0 && rest_on(profile, options.grate) == Rest::lies) return 0;
    if (hold.mass_per_strip <= 0.0) return hold.count;
    constexpr double most = 1000.0;
    const double mass = mass_of(pieces[index(cut.piece)], profile);
    return std::max(hold.count,
                    static_cast<int>(std::min(most, std::ceil(mass / hold.mass_per_strip))));
}

void add_entry_finding(const std::vector<PlacedPiece>& pieces, const EntryOptions& options,
                       const Cut& cut, int number, std::vector<PlanFinding>& findings) {
    if (cut.room != EntryRoom::left_out && cut.room != EntryRoom::tight) return;
    PlanFinding finding;
    finding.piece = cut.piece;
    finding.cut = number;
    finding.place = cut.pierce();
    finding.measured = cut.clearance;
    finding.limit = options.clearance;
    const std::string whose = (cut.role == CutRole::hole ? "a hole of " : "the outer contour of ") +
                              quoted(pieces, cut.piece);
    if (cut.room == EntryRoom::left_out) {
        finding.rule = PlanRule::entry_left_out;
        finding.text = "there is no room for an entry to " + whose +
                       ": the beam pierces on the contour and leaves a mark there; widen the gap, "
                       "or ask for a shorter entry";
    } else {
        finding.rule = PlanRule::entry_tight;
        finding.text = whose + " is so small that its middle is only " + text_of(cut.clearance) +
                       " mm off the contour, not " + text_of(options.clearance) +
                       " mm: look at the edge after a test, or drill it";
    }
    findings.push_back(std::move(finding));
}

void add_rest_findings(const std::vector<PlacedPiece>& pieces, const PlanOptions& options,
                       const Cut& cut, int wanted, int number, std::vector<PlanFinding>& findings) {
    PlanFinding finding;
    finding.piece = cut.piece;
    finding.cut = number;
    finding.place = cut.pierce();
    const int strips = static_cast<int>(cut.stretches.size()) - 1;
    if (strips < wanted) {
        finding.rule = PlanRule::strip_left_out;
        finding.measured = strips;
        finding.limit = wanted;
        finding.text = "there is room for " + std::to_string(strips) + " of " +
                       std::to_string(wanted) + " holding strips at " + quoted(pieces, cut.piece) +
                       ": hold it otherwise, or ask for narrower ones";
        findings.push_back(finding);
    }
    if (options.grate.opening <= 0.0 || strips > 0) return;
    const Rest rest = rest_on(freed_by(*profile_of(pieces, cut), cut), options.grate);
    const bool is_hole = cut.role == CutRole::hole;
    // What falls out of a hole is meant to fall.
    if (rest == Rest::lies || (is_hole && rest == Rest::falls_through)) return;
    finding.rule = rest == Rest::may_tip ? PlanRule::drop_out : PlanRule::falls_through;
    finding.measured.reset();
    finding.limit = options.grate.opening;
    const std::string opening = text_of(options.grate.opening) + " mm";
    if (is_hole)
        finding.text = "what falls out of a hole of " + quoted(pieces, cut.piece) +
                       " may tip up on bars " + opening +
                       " apart and stand in the way of the head: hold it, or take it out";
    else if (rest == Rest::may_tip)
        finding.text = quoted(pieces, cut.piece) + " may tip up on bars " + opening +
                       " apart and stand in the way of the head: give it holding strips";
    else
        finding.text = quoted(pieces, cut.piece) + " may fall between bars " + opening +
                       " apart: give it holding strips, or put something below";
    findings.push_back(std::move(finding));
}

void add_common_cuts(const SheetField& field, double kerf, const std::vector<PlacedPiece>& pieces,
                     std::vector<PlanFinding>& findings) {
    for (const auto& [a, b] : field.meeting(kerf)) {
        const SheetContour &first = field.contours()[index(a)],
                           &second = field.contours()[index(b)];
        PlanFinding finding;
        finding.rule = PlanRule::common_cut;
        finding.severity = Severity::error;
        finding.piece = first.piece;
        finding.other_piece = second.piece;
        // In the middle of what the boxes have in common, or between them.
        finding.place = 0.5 * (first.box.min().cwiseMax(second.box.min()) +
                               first.box.max().cwiseMin(second.box.max()));
        finding.limit = kerf;
        finding.text = "the cuts of " + quoted(pieces, first.piece) + " and " +
                       quoted(pieces, second.piece) +
                       " run into each other: a width of cut that two pieces share is not planned; "
                       "lay them further apart";
        findings.push_back(std::move(finding));
    }
}

}  // namespace planform::planning
