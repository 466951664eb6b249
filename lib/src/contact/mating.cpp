#include <algorithm>
#include <cstddef>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <tuple>
#include <utility>

#include "contact/holding.hpp"
#include "contact/outline_walls.hpp"
#include "contact/piece_motion.hpp"
#include "contact/shares.hpp"
#include "planform/contact.hpp"
#include "planform/error.hpp"

namespace planform {
namespace {

using contact::Holding;
using contact::OutlineWalls;
using contact::Shares;
using contact::WallKey;
using contact::WallRole;

/// Two solids, then a slot (which of the two has it, its profile and contour) or, with 2, all
/// places where their outer contours mesh.
using JointKey = std::tuple<int, int, int, int, int>;

/// What is known of a run of curves.
struct Mated {
    std::set<int> touches;
    std::set<int> pieces;  ///< that touch anything there
    bool is_seat = true;
};

/// The runs of curves that a contact touches on the outlines of its two solids.
struct Met {
    std::array<int, 2> solids{};
    std::array<int, 2> pieces{-1, -1};
    std::array<std::vector<int>, 2> runs;

    bool is_any() const { return pieces[0] != pieces[1] && !(runs[0].empty() && runs[1].empty()); }
    bool is_pair() const { return !runs[0].empty() && !runs[1].empty(); }
};

class Matching {
  public:
    Matching(std::span<const Solid> solids, std::span<const ProfileSet> outlines,
             std::span<const PlacedOutline> pieces)
        : solids_(solids),
          pieces_(pieces),
          piece_of_(solids.size(), -1),
          mated_(outlines.size()),
          joints_of_(pieces.size()),
          result_{std::vector<MatingOutline>(outlines.size()), 0} {
        for (const ProfileSet& outline : outlines) walls_.emplace_back(outline);
        for (std::size_t i = 0; i < pieces.size(); ++i) place(static_cast<int>(i), outlines);
    }

    /// All contacts between the same two solids.
    void add(std::span<const Contact> contacts);

    Mating finish(FitOn fit_on) &&;

  private:
    void place(int number, std::span<const ProfileSet> outlines);
    Met met(const Contact& contact) const;
    void add(const Met& met, bool is_held, const Holding& mesh);
    void add_joint(const Met& met);
    WallRole role(const Met& met, int first, int second, const Holding& mesh) const;
    int outline_of(int piece) const { return pieces_[static_cast<std::size_t>(piece)].outline; }
    const OutlineWalls& walls(int piece) const {
        return walls_[static_cast<std::size_t>(outline_of(piece))];
    }
    MatingOutline& result(int piece) {
        return result_.outlines[static_cast<std::size_t>(outline_of(piece))];
    }

    std::span<const Solid> solids_;
    std::span<const PlacedOutline> pieces_;
    std::vector<OutlineWalls> walls_;
    std::vector<int> piece_of_;  ///< by solid; -1: it is not cut
    std::vector<Transform3> motions_;
    std::vector<std::map<int, Mated>> mated_;  ///< by outline, by run
    std::vector<std::set<JointKey>> joints_of_;
    std::set<JointKey> joints_;
    Shares shares_;
    Mating result_;
};

void Matching::place(int number, std::span<const ProfileSet> outlines) {
    const PlacedOutline& piece = pieces_[static_cast<std::size_t>(number)];
    const auto refuse = [number](const std::string& what) {
        throw GeometryError(ErrorKind::invalid_argument,
                            "piece " + std::to_string(number) + ": there is no " + what);
    };
    const auto count = static_cast<int>(solids_.size());
    if (piece.outline < 0 || piece.outline >= static_cast<int>(outlines.size()))
        refuse("outline " + std::to_string(piece.outline));
    if (piece.flattened < -1 || piece.flattened >= count)
        refuse("solid " + std::to_string(piece.flattened));
    for (const int solid : piece.solids)
        if (solid < 0 || solid >= count) refuse("solid " + std::to_string(solid));
    const auto motion =
        contact::piece_motion(solids_, piece, outlines[static_cast<std::size_t>(piece.outline)]);
    motions_.push_back(motion.value_or(Transform3::Identity()));
    if (!motion) {
        result(number).notes.push_back(
            "\"" + solids_[static_cast<std::size_t>(piece.solids.front())].name() +
            "\" was drawn as a body of its own that could not be laid on the outline: what it "
            "touches was not looked at");
        return;
    }
    for (const int solid : piece.solids) piece_of_[static_cast<std::size_t>(solid)] = number;
}

Met Matching::met(const Contact& contact) const {
    Met met{contact.solids, {}, {}};
    for (std::size_t side = 0; side < 2; ++side) {
        const int piece = piece_of_[static_cast<std::size_t>(contact.solids[side])];
        met.pieces[side] = piece;
        if (piece < 0) continue;
        met.runs[side] = walls(piece).touched(contact, static_cast<int>(side),
                                              motions_[static_cast<std::size_t>(piece)]);
    }
    return met;
}

void Matching::add(std::span<const Contact> contacts) {
    const std::vector<Holding> held = contact::holdings(contacts);
    std::vector<Met> all;
    // Where outer contours mesh, one answer for the two solids: the last of several fingers would
    // look as if one solid held the other.
    Holding mesh;
    for (std::size_t i = 0; i < contacts.size(); ++i) {
        const Met& met = all.emplace_back(this->met(contacts[i]));
        if (!met.is_any() || !met.is_pair()) continue;
        if (walls(met.pieces[0]).is_inner(met.runs[0].front()) ||
            walls(met.pieces[1]).is_inner(met.runs[1].front()))
            continue;
        mesh.by_first |= held[i].by_first;
        mesh.by_second |= held[i].by_second;
    }
    for (std::size_t i = 0; i < contacts.size(); ++i)
        if (all[i].is_any()) add(all[i], held[i].is_held(), mesh);
}

/// Of the first of two walls that meet.
WallRole Matching::role(const Met& met, int first, int second, const Holding& mesh) const {
    const bool inner = walls(met.pieces[0]).is_inner(first);
    if (inner != walls(met.pieces[1]).is_inner(second))
        return inner ? WallRole::slot : WallRole::tab;
    if (inner || mesh.by_first == mesh.by_second) return WallRole::undecided;
    return mesh.by_first ? WallRole::slot : WallRole::tab;
}

void Matching::add_joint(const Met& met) {
    JointKey key{met.solids[0], met.solids[1], 2, 0, 0};
    for (const int side : {1, 0}) {
        const auto s = static_cast<std::size_t>(side);
        for (const int run : met.runs[s])
            if (walls(met.pieces[s]).is_inner(run)) {
                const CurveAddress& at = walls(met.pieces[s]).address(run);
                key = {met.solids[0], met.solids[1], side, at.profile, at.contour};
            }
    }
    joints_.insert(key);
    for (const int piece : met.pieces)
        if (piece >= 0) joints_of_[static_cast<std::size_t>(piece)].insert(key);
}

void Matching::add(const Met& met, bool is_held, const Holding& mesh) {
    const bool is_seat = !met.is_pair() && !is_held;
    for (std::size_t side = 0; side < 2; ++side)
        for (const int run : met.runs[side]) {
            const int outline = outline_of(met.pieces[side]);
            Mated& mated = mated_[static_cast<std::size_t>(outline)][run];
            mated.touches.insert(met.solids[1 - side]);
            mated.pieces.insert(met.pieces[side]);
            mated.is_seat &= is_seat;
            if (!met.is_pair() && !is_seat) shares_.add_alone({outline, run});
        }
    if (is_seat) return;
    add_joint(met);
    for (const int first : met.runs[0])
        for (const int second : met.runs[1])
            shares_.add_pair({outline_of(met.pieces[0]), first},
                             {outline_of(met.pieces[1]), second}, role(met, first, second, mesh));
}

Mating Matching::finish(FitOn fit_on) && {
    std::set<WallKey> strained;
    const std::map<WallKey, double> shares = shares_.resolve(fit_on, strained);
    std::vector<std::set<int>> placed(walls_.size());
    for (const int piece : piece_of_)
        if (piece >= 0) placed[static_cast<std::size_t>(outline_of(piece))].insert(piece);
    for (std::size_t outline = 0; outline < walls_.size(); ++outline) {
        MatingOutline& result = result_.outlines[outline];
        bool is_common = true;
        for (int i = 0; i < walls_[outline].count(); ++i) {
            const int run = walls_[outline].run(i);
            const auto known = mated_[outline].find(run);
            if (known == mated_[outline].end()) continue;
            const Mated& mated = known->second;
            const auto share = shares.find({static_cast<int>(outline), run});
            result.curves.push_back({walls_[outline].address(i),
                                     mated.is_seat,
                                     share == shares.end() ? 0.0 : share->second,
                                     {mated.touches.begin(), mated.touches.end()}});
            is_common &= mated.is_seat || mated.pieces.size() == placed[outline].size();
        }
        if (!is_common)
            result.notes.push_back(
                "not all of its " + std::to_string(placed[outline].size()) +
                " pieces touch others at the same curves: the fit is on all curves at which one "
                "does");
        const auto strain = std::count_if(strained.begin(), strained.end(), [&](const WallKey& w) {
            return w.first == static_cast<int>(outline);
        });
        if (strain > 0)
            result.notes.push_back(std::to_string(strain) +
                                   " of its walls meet several others that share the fit "
                                   "differently: the gap to some of them is wider than the fit");
    }
    for (std::size_t i = 0; i < pieces_.size(); ++i) {
        MatingOutline& result = this->result(static_cast<int>(i));
        result.joints = std::max(result.joints, static_cast<int>(joints_of_[i].size()));
    }
    result_.joints = static_cast<int>(joints_.size());
    return std::move(result_);
}

}  // namespace

std::vector<PlacedOutline> placed_outlines(const PlateList& plates) {
    std::vector<PlacedOutline> pieces;
    int outline = 0;
    for (const Plate& plate : plates.plates) {
        for (const PlateInstance& instance : plate.instances) {
            PlacedOutline piece{outline, {instance.solid}, plate.instances.front().solid};
            piece.solids.insert(piece.solids.end(), instance.islands.begin(),
                                instance.islands.end());
            pieces.push_back(std::move(piece));
        }
        ++outline;
    }
    return pieces;
}

Mating mating(std::span<const Solid> solids, std::span<const ProfileSet> outlines,
              std::span<const PlacedOutline> pieces, std::span<const Contact> touching,
              FitOn fit_on) {
    Matching matching(solids, outlines, pieces);
    for (std::size_t i = 0; i < touching.size();) {
        std::size_t end = i;
        while (end < touching.size() && touching[end].solids == touching[i].solids) ++end;
        for (const int solid : touching[i].solids)
            if (solid < 0 || solid >= static_cast<int>(solids.size()))
                throw GeometryError(ErrorKind::invalid_argument,
                                    "a contact names solid " + std::to_string(solid) +
                                        ", which is not among the solids of the call");
        matching.add(touching.subspan(i, end - i));
        i = end;
    }
    return std::move(matching).finish(fit_on);
}

Mating mating(std::span<const Solid> solids, const PlateList& plates, FitOn fit_on) {
    std::vector<ProfileSet> outlines;
    for (const Plate& plate : plates.plates) outlines.push_back(plate.outline);
    return mating(solids, outlines, placed_outlines(plates), contacts(solids), fit_on);
}

std::vector<CurveFit> fits_of(const MatingOutline& mating, double fit) {
    std::vector<CurveFit> fits;
    for (const MatingCurve& curve : mating.curves)
        if (curve.share * fit != 0.0) fits.push_back({curve.at, curve.share * fit});
    return fits;
}

}  // namespace planform
