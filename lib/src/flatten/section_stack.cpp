#include <cmath>
#include <cstddef>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "flatten/flatten_solids.hpp"
#include "flatten/solid_outline.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"

namespace planform {

using flatten::SectionSolid;

struct SectionStack::Prepared {
    std::vector<Solid> solids;
    Datum datum;
    SectionOptions options;
    std::vector<SectionSolid> ready;
};

SectionStack::SectionStack(std::span<const Solid> solids, const Datum& datum,
                           const SectionOptions& options) {
    auto prepared = std::make_shared<Prepared>(
        Prepared{std::vector<Solid>(solids.begin(), solids.end()), datum, options, {}});
    const auto prepare = [&](const Solid& solid, int, flatten::Outline&) {
        flatten::ShapeGraph graph = flatten::build_shape_graph(shape_of(solid), datum);
        flatten::check_closed(graph);
        prepared->ready.emplace_back(std::move(graph));
    };
    flatten::flatten_all(solids, datum, {options.tolerance, options.merge}, prepare);
    prepared_ = std::move(prepared);
}

ProfileSet SectionStack::at(double offset) const {
    if (!std::isfinite(offset))
        throw GeometryError(ErrorKind::invalid_argument,
                            "offset must be a finite number of millimetres");
    const Prepared& p = *prepared_;
    const auto add = [&](const Solid&, int index, flatten::Outline& outline) {
        flatten::add_section(p.ready[static_cast<std::size_t>(index)], {offset, p.options.side},
                             index, p.options.tolerance, outline);
    };
    const Datum plane = p.datum.moved(offset);
    ProfileSet result =
        flatten::flatten_all(p.solids, plane, {p.options.tolerance, p.options.merge}, add);
    if (!result.empty()) return result;
    std::ostringstream note;
    note << "the plane at offset " << offset << " mm meets none of the solids";
    std::vector<std::string> notes = result.notes();
    notes.push_back(note.str());
    return ProfileSet({}, {}, plane, p.options.tolerance, result.name(), std::move(notes));
}

Interval SectionStack::extent() const {
    flatten::HeightRange range;
    for (const SectionSolid& solid : prepared_->ready) range.extend(solid.range());
    return {range.low, range.high};
}

ProfileSet section(std::span<const Solid> solids, const Datum& datum, double offset,
                   const SectionOptions& options) {
    return SectionStack(solids, datum, options).at(offset);
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
