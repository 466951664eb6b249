#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>

#include "curve/index.hpp"
#include "plan/entries.hpp"
#include "plan/holding.hpp"
#include "plan/ordering.hpp"
#include "plan/plan_checks.hpp"
#include "plan/plan_proof.hpp"

namespace planform {
namespace {

using planning::Entry;
using planning::EntryFinder;
using planning::SheetContour;
using planning::SheetField;
using planning::StartPlace;

using detail::index;

/// The place so many mm further along the contour.
StartPlace place_along(const Contour& contour, const StartPlace& from, double distance) {
    const auto& curves = contour.curves();
    const int count = static_cast<int>(curves.size());
    int curve = from.curve;
    Interval left = domain(curves[index(curve)]);
    left.first = std::min(from.t, left.last);
    for (int i = 0; i <= count; ++i) {
        const Curve& at = curves[index(curve)];
        const double reach =
            left.first < left.last ? length(trimmed(at, left.first, left.last)) : 0.0;
        if (distance < reach || i == count) {
            if (distance <= 0.0 || reach <= 0.0)
                return planning::start_place(contour, curve, left.first);
            const std::vector<Curve> whole(1, trimmed(at, left.first, left.last));
            const auto parts = planning::split_way(whole, distance);
            const double t = parts.after.empty()
                                 ? left.last
                                 : nearest_parameter(at, start_point(parts.after.front()));
            return planning::start_place(contour, curve, t);
        }
        distance -= reach;
        curve = (curve + 1) % count;
        left = domain(curves[index(curve)]);
    }
    return from;
}

/// mm: a curve that is no longer is a point.
constexpr double point_length = 1e-9;

bool has_points(const Contour& contour) {
    return std::any_of(contour.curves().begin(), contour.curves().end(),
                       [](const Curve& curve) { return length(curve) <= point_length; });
}

Contour without_points(const Contour& contour) {
    std::vector<Curve> curves;
    for (const Curve& curve : contour.curves())
        if (length(curve) > point_length) curves.push_back(curve);
    return Contour(std::move(curves), {}, Validate::no);
}

/// The piece without curves that are points: no cut starts on one. Addresses of what is to be
/// avoided keep their curves.
PlacedPiece without_points(const PlacedPiece& piece) {
    const auto& profiles = piece.outline.profiles();
    std::vector<Profile> result;
    for (const Profile& profile : profiles) {
        std::vector<Contour> holes;
        for (const Contour& hole : profile.holes()) holes.push_back(without_points(hole));
        result.emplace_back(without_points(profile.outer()), std::move(holes), profile.name(),
                            profile.parent(), Validate::no);
    }
    PlacedPiece cleaned = piece;
    for (CurveAddress& at : cleaned.avoid) {
        const Profile& profile = profiles[index(at.profile)];
        const auto& curves =
            (at.contour == 0 ? profile.outer() : profile.holes()[index(at.contour - 1)]).curves();
        at.curve -= static_cast<int>(
            std::count_if(curves.begin(), curves.begin() + at.curve,
                          [](const Curve& curve) { return length(curve) <= point_length; }));
    }
    const ProfileSet& set = piece.outline;
    cleaned.outline = ProfileSet(std::move(result), set.marks(), set.datum(), set.tolerance(),
                                 set.name(), set.notes(), Validate::no);
    return cleaned;
}

std::vector<PlacedPiece> without_points(const std::vector<PlacedPiece>& pieces) {
    std::vector<PlacedPiece> result;
    result.reserve(pieces.size());
    for (const PlacedPiece& piece : pieces) {
        const auto& profiles = piece.outline.profiles();
        const bool has = std::any_of(profiles.begin(), profiles.end(), [](const Profile& profile) {
            return has_points(profile.outer()) ||
                   std::any_of(profile.holes().begin(), profile.holes().end(), has_points);
        });
        result.push_back(has ? without_points(piece) : piece);
    }
    return result;
}

/// Plans one sheet.
class Planner {
  public:
    Planner(const std::vector<PlacedPiece>& pieces, const PlanOptions& options)
        : pieces_(pieces), options_(options), field_(planning::contours_of(pieces)) {
        if (options.sheet) {
            sheet_pieces_.push_back({"", *options.sheet, 0.0, {}});
            sheet_.emplace(planning::contours_of(sheet_pieces_));
        }
    }

    CutPlan plan() {
        add_cuts();
        add_marks();
        CutPlan plan;
        plan.home = options_.home;
        const std::vector<int> order = planning::order_of(items_, options_);
        std::vector<int> place(cuts_.size());
        for (int i = 0; i < static_cast<int>(order.size()); ++i) place[index(order[index(i)])] = i;
        for (const int c : order) {
            Cut& cut = cuts_[index(c)];
            const int around = items_[index(c)].stop.within;
            cut.within = around < 0 ? -1 : place[index(around)];
            plan.cuts.push_back(cut);
        }
        for (PlanFinding& finding : findings_)
            if (finding.cut >= 0) finding.cut = place[index(finding.cut)];
        planning::add_common_cuts(field_, options_.kerf, pieces_, findings_);
        std::stable_sort(findings_.begin(), findings_.end(),
                         [](const PlanFinding& a, const PlanFinding& b) {
                             return std::pair(a.rule, a.cut) < std::pair(b.rule, b.cut);
                         });
        plan.findings = findings_;
        planning::prove_order(pieces_, plan, plan.proof);
        planning::prove_entries(field_, sheet_ ? &*sheet_ : nullptr, options_, plan, plan.proof);
        return plan;
    }

  private:
    std::vector<int> avoided(const SheetContour& contour) const {
        std::vector<int> curves;
        for (const CurveAddress& at : pieces_[index(contour.piece)].avoid)
            if (at.profile == contour.profile && at.contour == contour.number)
                curves.push_back(at.curve);
        return curves;
    }

    void add_cuts() {
        const EntryFinder finder(field_, sheet_ ? &*sheet_ : nullptr, options_.entry);
        const std::vector<int> around = field_.around_each();
        for (int c = 0; c < static_cast<int>(field_.contours().size()); ++c) {
            const SheetContour& contour = field_.contours()[index(c)];
            Cut cut;
            cut.piece = contour.piece;
            cut.profile = contour.profile;
            cut.contour = contour.number;
            cut.role = contour.role;
            const std::vector<int> avoid = avoided(contour);
            const Entry entry = finder.entry(c, avoid);
            cut.room = entry.room;
            cut.entry = entry.way;
            cut.clearance = entry.clearance;
            add_way(c, entry, avoid, finder, cut);
            cuts_.push_back(cut);
            items_.push_back({{cut.pierce(), cut.end(), around[index(c)]}, false, contour.box});
            planning::add_entry_finding(pieces_, options_.entry, cut, c, findings_);
        }
    }

    /// What is cut of the contour: all round, with gaps, a rest or an over-cut, and the exit.
    void add_way(int c, const Entry& entry, const std::vector<int>& avoid,
                 const EntryFinder& finder, Cut& cut) {
        const Contour& contour = *field_.contours()[index(c)].contour;
        std::vector<Curve> way = planning::from_place(contour, entry.place);
        const double total = planning::length_of(way);
        const double over = std::clamp(options_.entry.over_cut, -0.5 * total, total);
        StartPlace end = entry.place;
        if (over < 0.0) {
            way = planning::split_way(way, total + over).before;
            end = place_along(contour, entry.place, total + over);
        } else if (over > 0.0) {
            cut.over_cut = planning::split_way(way, over).before;
            end = place_along(contour, entry.place, over);
        }
        cut.exit = finder.exit(c, end);
        const int wanted = planning::strips_for(pieces_, options_, cut);
        if (wanted == 0) {
            cut.stretches.assign(1, way);
        } else {
            const double gap = options_.hold.width + options_.kerf;
            const auto count = contour.curves().size();
            planning::MayHold may(way.size(), 1);
            for (std::size_t i = 0; i < way.size(); ++i) {
                const int curve = static_cast<int>((index(entry.place.curve) + i) % count);
                may[i] = std::find(avoid.begin(), avoid.end(), curve) == avoid.end();
            }
            planning::HeldCut held = planning::with_gaps(way, wanted, gap, may);
            if (held.strips < wanted)
                held = planning::with_gaps(way, wanted, gap, planning::MayHold(way.size(), 1));
            cut.stretches = std::move(held.stretches);
        }
        planning::add_rest_findings(pieces_, options_, cut, wanted, c, findings_);
    }

    void add_marks() {
        for (int p = 0; p < static_cast<int>(pieces_.size()); ++p) {
            const auto& marks = pieces_[index(p)].outline.marks();
            for (int m = 0; m < static_cast<int>(marks.size()); ++m) {
                Cut cut;
                cut.piece = p;
                cut.profile = -1;
                cut.contour = m;
                cut.role = CutRole::mark;
                cut.stretches.assign(1, marks[index(m)].curves());
                items_.push_back({{cut.pierce(), cut.end(), -1}, true, marks[index(m)].bounds()});
                cuts_.push_back(std::move(cut));
            }
        }
    }

    const std::vector<PlacedPiece>& pieces_;
    const PlanOptions& options_;
    SheetField field_;
    std::vector<PlacedPiece> sheet_pieces_;
    std::optional<SheetField> sheet_;
    std::vector<Cut> cuts_;
    std::vector<planning::OrderedItem> items_;
    std::vector<PlanFinding> findings_;
};

}  // namespace

CutPlan plan_cuts(const std::vector<PlacedPiece>& pieces, const PlanOptions& options) {
    planning::check_options(pieces, options);
    const std::vector<PlacedPiece> clean = without_points(pieces);
    return Planner(clean, options).plan();
}

}  // namespace planform
