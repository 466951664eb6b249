#include <algorithm>
#include <cmath>
#include <cstddef>
#include <mutex>
#include <optional>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "flatten/collect/attempt.hpp"
#include "flatten/collect/fitted_tolerance.hpp"
#include "flatten/collect/flatten_solids.hpp"
#include "flatten/collect/named_errors.hpp"
#include "flatten/collect/plane_moves.hpp"
#include "flatten/proof/section_proof.hpp"
#include "flatten/section/section.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"

namespace planform {

using solid::SectionSolid;

/// Filled once, read only from then on, but for the copies of the solids that wait to be used: a
/// call borrows one, so that no two calls ever share what the kernel writes to while it evaluates.
struct SectionStack::Prepared {
    std::vector<Solid> solids;
    Datum datum;
    SectionOptions options;
    std::vector<SectionSolid> ready;

    mutable std::mutex lock;
    mutable std::vector<std::vector<SectionSolid>> spare;

    Prepared(std::span<const Solid> all, const Datum& plane, const SectionOptions& how)
        : solids(all.begin(), all.end()), datum(plane), options(how) {}

    std::vector<SectionSolid> borrow() const {
        {
            const std::lock_guard guard(lock);
            if (!spare.empty()) {
                std::vector<SectionSolid> copy = std::move(spare.back());
                spare.pop_back();
                return copy;
            }
        }
        return {ready.begin(), ready.end()};
    }
    void give_back(std::vector<SectionSolid> copy) const {
        const std::lock_guard guard(lock);
        spare.push_back(std::move(copy));
    }
};

SectionStack::SectionStack(std::span<const Solid> solids, const Datum& datum,
                           const SectionOptions& wanted) {
    SectionOptions options = wanted;
    options.tolerance = flatten::fitted_tolerance(solids, wanted.tolerance);
    auto prepared = std::make_shared<Prepared>(solids, datum, options);
    for (const Solid& solid : solids)
        flatten::in_solid(solid, [&] {
            solid::ShapeGraph graph = solid::build_shape_graph(solid, datum);
            flatten::check_closed(graph);
            prepared->ready.emplace_back(std::move(graph));
        });
    prepared_ = std::move(prepared);
}

/// A way to the section at an offset: in place, or moved, or with a face on its mesh.
struct SectionStack::Way {
    double offset;
    double move = 0.0;
    int doubted_solid = -1;  ///< one whose section did not stand its proof
    int doubted_face = -1;   ///< to be followed on its mesh
};

namespace {

std::vector<double> moves_to_side(Side side) {
    std::vector<double> moves = flatten::plane_moves();
    if (side == Side::below)
        for (double& move : moves) move = -move;
    return moves;
}

}  // namespace

/// The moves that take the plane clear of every vertex. None if no vertex is near: then the plane
/// is not to blame.
std::vector<double> SectionStack::moves_clear_of_vertices(const Prepared& prepared, double offset) {
    const auto& ready = prepared.ready;
    std::vector<double> moves;
    if (std::none_of(ready.begin(), ready.end(), [&](const SectionSolid& solid) {
            return flatten::has_vertex_near(solid.graph(), offset);
        }))
        return moves;
    for (const double step : flatten::plane_moves()) {
        const double move = prepared.options.side == Side::below ? -step : step;
        if (std::all_of(ready.begin(), ready.end(), [&](const SectionSolid& solid) {
                return flatten::is_clear_of_vertices(solid.graph(), offset + move, step);
            }))
            moves.push_back(move);
    }
    return moves;
}

ProfileSet SectionStack::at(double offset) const {
    if (!std::isfinite(offset))
        throw GeometryError(ErrorKind::invalid_argument,
                            "offset must be a finite number of millimetres");
    Way way{offset};
    std::optional<ProfileSet> section;
    const std::optional<flatten::Setback> in_place = flatten::attempt([&] {
        try {
            section = cut(way);
        } catch (const flatten::SectionBreach& breach) {
            way.doubted_solid = breach.solid();
            way.doubted_face = static_cast<int>(breach.face());
            throw;
        }
    });
    if (!in_place) return *section;
    const auto had = [&](const Way& other) {
        return !flatten::attempt([&] { section = cut(other); });
    };
    // A hair beside, then on triangles; each proves itself anew.
    for (const double move : way.doubted_solid < 0 ? moves_clear_of_vertices(*prepared_, offset)
                                                   : moves_to_side(prepared_->options.side))
        if (had({offset, move, way.doubted_solid, -1})) return *section;
    if (way.doubted_solid >= 0 && had(way)) return *section;
    in_place->raise();
}

ProfileSet SectionStack::cut(const Way& way) const {
    const Prepared& p = *prepared_;
    const double offset = way.offset, move = way.move;
    std::vector<SectionSolid> ready = p.borrow();
    const auto add = [&](const Solid&, int index, flatten::Outline& outline) {
        flatten::add_section(
            ready[static_cast<std::size_t>(index)],
            {offset + move, p.options.side, index == way.doubted_solid ? way.doubted_face : -1},
            index, p.options.tolerance, outline);
    };
    const Datum plane = p.datum.moved(offset);
    const ProfileSet result =
        flatten::flatten_all(p.solids, plane, {p.options.tolerance, p.options.merge}, add);
    Proof proof = result.proof();
    proof.add(flatten::prove_section(p.solids, ready, p.datum, offset + move, result));
    p.give_back(std::move(ready));
    std::vector<std::string> notes = result.notes();
    std::ostringstream note;
    if (result.empty())
        note << "the plane at offset " << offset << " mm meets none of the solids";
    else if (move != 0.0)
        note << "the plane at offset " << offset << " mm was moved by " << move << " mm, since "
             << (way.doubted_solid < 0 ? "the model is not exact enough at a vertex in it"
                                       : "its section did not stand its proof in place");
    else
        return result.with_proof(std::move(proof));
    notes.push_back(note.str());
    return ProfileSet(result.profiles(), result.marks(), plane, p.options.tolerance, result.name(),
                      std::move(notes), Validate::no)
        .with_proof(std::move(proof));
}

const std::vector<Solid>& SectionStack::solids() const { return prepared_->solids; }
const Datum& SectionStack::datum() const { return prepared_->datum; }
const SectionOptions& SectionStack::options() const { return prepared_->options; }

bool operator==(const SectionStack& a, const SectionStack& b) {
    const auto how = [](const SectionOptions& options) {
        return std::tie(options.tolerance, options.merge, options.side);
    };
    return a.prepared_ == b.prepared_ ||
           (a.datum() == b.datum() && how(a.options()) == how(b.options()) &&
            a.solids() == b.solids());
}

Interval SectionStack::extent() const {
    solid::HeightRange range;
    for (std::size_t i = 0; i < prepared_->ready.size(); ++i) {
        solid::HeightRange bound = prepared_->ready[i].range();
        // Some surfaces have no bound of their own: the box of the solid has.
        const Box3 box = prepared_->solids[i].bounds();
        solid::HeightRange corners;
        for (int corner = 0; corner < 8; ++corner)
            corners.extend(
                prepared_->datum.to_datum(box.corner(static_cast<Box3::CornerType>(corner))).z());
        range.extend({std::max(bound.low, corners.low), std::min(bound.high, corners.high)});
    }
    return {range.low, range.high};
}

ProfileSet section(std::span<const Solid> solids, const Datum& datum, double offset,
                   const SectionOptions& options) {
    return SectionStack(solids, datum, options).at(offset);
}

ProfileSet section(const Solid& solid, const Datum& datum, double offset,
                   const SectionOptions& options) {
    return section(std::span(&solid, 1), datum, offset, options);
}

void sections(std::span<const Solid> solids, const Datum& datum, std::span<const double> offsets,
              const std::function<void(ProfileSet)>& receive, const SectionOptions& options) {
    const SectionStack stack(solids, datum, options);
    for (const double offset : offsets) receive(stack.at(offset));
}

std::vector<ProfileSet> sections(std::span<const Solid> solids, const Datum& datum,
                                 std::span<const double> offsets, const SectionOptions& options) {
    std::vector<ProfileSet> result;
    result.reserve(offsets.size());
    sections(
        solids, datum, offsets, [&](ProfileSet set) { result.push_back(std::move(set)); }, options);
    return result;
}

}  // namespace planform
