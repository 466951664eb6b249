#include "offset/source.hpp"

#include <cmath>
#include <cstddef>
#include <utility>

#include "merge/loop_profiles.hpp"
#include "offset/closed_chain.hpp"
#include "offset/halting_ends.hpp"
#include "offset/smooth_curve.hpp"
#include "planform/error.hpp"

namespace planform {
namespace offset_detail {
namespace {

/// mm that outlines have to keep off each other to be taken as they are: well above what is one
/// point, so that nothing is missed; what is nearer is only looked at more closely.
constexpr double source_clearance = 1e-6;

/// mm, a kilometre: beyond what any sheet is, and arcs of more would take all memory in chords.
constexpr double largest_distance = 1e6;

std::vector<double> checked_distances(const std::vector<CurvePlace>& places,
                                      const CurveDistances& distance_of) {
    std::vector<double> distances;
    distances.reserve(places.size());
    for (const CurvePlace& place : places) {
        distances.push_back(distance_of(place));
        if (!(std::abs(distances.back()) <= largest_distance))
            throw GeometryError(
                ErrorKind::invalid_argument,
                "the distance of an offset must be a finite number of millimetres, a "
                "kilometre at most");
    }
    return distances;
}

std::shared_ptr<LoopField> field_of(const ProfileSet& set) {
    auto field = std::make_shared<LoopField>(source_clearance);
    for (const Profile& profile : set.profiles()) {
        field->add_loop(profile.outer().curves(), true);
        for (const Contour& hole : profile.holes()) field->add_loop(hole.curves(), true);
    }
    return field;
}

/// Do contours keep off each other and lie in each other as they say?
bool is_plain(const ProfileSet& set, LoopField& field) {
    std::vector<char> is_hole;
    for (const Profile& profile : set.profiles()) {
        is_hole.push_back(0);
        is_hole.insert(is_hole.end(), profile.holes().size(), 1);
    }
    field.tell_apart();
    for (int chain = 0; chain < field.chains(); ++chain)
        if (!field.is_simple(chain) || field.group(chain) != chain) return false;
    field.index();
    for (int chain = 0; chain < field.chains(); ++chain) {
        // Each is a group by itself here.
        const int winding = field.winding_but_for(chain, field.places(chain)[0]);
        if (winding != is_hole[static_cast<std::size_t>(chain)]) return false;
    }
    return true;
}

/// The set with all overlaps and crossings resolved. Tags stand in for entities of provenance.
ProfileSet united_with_tags(const ProfileSet& set, double resolution) {
    arrange::Input input;
    int tag = 0;
    const auto add = [&](const Contour& contour) {
        RawLoop loop{contour.curves(), {}};
        for (std::size_t i = 0; i < loop.curves.size(); ++i) loop.tags.push_back(tag++);
        add_loop(input, loop, 1, 0);
    };
    for (const Profile& profile : set.profiles()) {
        add(profile.outer());
        for (const Contour& hole : profile.holes()) add(hole);
    }
    arrange::Options options;
    options.tolerance = resolution;
    return ProfileSet(merge::profiles_of(
        arrange::arrange(input, options), [](const arrange::Loop&) { return std::string(); },
        [](int from) {
            return Provenance{Provenance::Kind::unknown, -1, from};
        }));
}

}  // namespace

void append_elements(const Curve& curve, double distance, int tag, double bound,
                     std::vector<Element>& elements) {
    const auto append = [&](const Curve& smooth) {
        if (const Spline* spline = std::get_if<Spline>(&smooth)) {
            for (Curve& part : with_straight_halts(*spline, distance, bound))
                elements.push_back({std::move(part), distance, tag});
        } else {
            elements.push_back({smooth, distance, tag});
        }
    };
    const Curve simple = canonical(curve, bound);
    const Interval range = domain(simple);
    double from = range.first;
    for (const double crease : creases(simple)) {
        append(canonical(trimmed(simple, from, crease), bound));
        from = crease;
    }
    append(from == range.first ? simple : canonical(trimmed(simple, from, range.last), bound));
}

ContourRole role_of(const Profile& profile, int contour) {
    if (contour > 0) return ContourRole::hole;
    return profile.is_island() ? ContourRole::island : ContourRole::outer;
}

const Contour& contour_at(const ProfileSet& set, int profile, int contour) {
    const Profile& p = set.profiles()[static_cast<std::size_t>(profile)];
    return contour == 0 ? p.outer() : p.holes()[static_cast<std::size_t>(contour - 1)];
}

Source source_of(const ProfileSet& set, const CurveDistances& distance_of, double bound,
                 double resolution) {
    Source source;
    source.places = curve_places(set);
    const std::vector<double> distances = checked_distances(source.places, distance_of);
    std::shared_ptr<LoopField> field = field_of(set);
    source.was_united = !is_plain(set, *field);
    const ProfileSet united = source.was_united ? united_with_tags(set, resolution) : ProfileSet();
    if (source.was_united) {
        field = field_of(united);
        field->index_curves();
        field->index();
    }
    source.field = std::move(field);
    const ProfileSet& plain = source.was_united ? united : set;
    int next = 0;
    for (int p = 0; p < static_cast<int>(plain.profiles().size()); ++p) {
        const Profile& profile = plain.profiles()[static_cast<std::size_t>(p)];
        source.parents.push_back(profile.parent());
        for (int c = 0; c <= static_cast<int>(profile.holes().size()); ++c) {
            const Contour& contour = contour_at(plain, p, c);
            Chain chain{{}, c > 0, p};
            for (std::size_t k = 0; k < contour.curves().size(); ++k) {
                const int tag = source.was_united ? contour.provenance()[k].entity : next++;
                if (contour.curves()[k].index() > 1) source.has_free_curves = true;
                append_elements(contour.curves()[k], distances[static_cast<std::size_t>(tag)], tag,
                                bound, chain.elements);
            }
            chain.elements = closed_chain(std::move(chain.elements));
            source.chains.push_back(std::move(chain));
        }
    }
    return source;
}

}  // namespace offset_detail

std::vector<CurvePlace> curve_places(const ProfileSet& set) {
    std::vector<CurvePlace> places;
    for (int p = 0; p < static_cast<int>(set.profiles().size()); ++p) {
        const Profile& profile = set.profiles()[static_cast<std::size_t>(p)];
        for (int c = 0; c <= static_cast<int>(profile.holes().size()); ++c) {
            const std::size_t count = offset_detail::contour_at(set, p, c).curves().size();
            for (int k = 0; k < static_cast<int>(count); ++k)
                places.push_back({p, c, k, offset_detail::role_of(profile, c)});
        }
    }
    return places;
}

}  // namespace planform
