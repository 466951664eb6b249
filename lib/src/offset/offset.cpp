#include "planform/offset.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

#include "arrange/arrange.hpp"
#include "merge/loop_profiles.hpp"
#include "offset/raw_loop.hpp"
#include "offset/source.hpp"
#include "planform/error.hpp"

namespace planform {
namespace {

using namespace offset_detail;

/// Parallel curves of ellipses and splines lie within this share of the set's tolerance.
constexpr double bound_per_tolerance = 0.1;
/// Of that bound, what curves may change that are taken for lines or arcs.
constexpr double recognised_per_bound = 0.1;
/// The moved outlines are arranged on a grid this much finer than that of booleans: what booleans
/// take for rounding, a hundredth of the tolerance, may be the round of a corner here.
constexpr double arranged_per_tolerance = 0.01;
/// Of a curve that is moved and moved back the same curve is left but for this share of the
/// tolerance: a tenth of what booleans take for one.
constexpr double bound_of_return = 1e-4;

void require_valid(const OffsetOptions& options) {
    if (!std::isfinite(options.limit) || options.limit < 1.0)
        throw GeometryError(ErrorKind::invalid_argument,
                            "the limit of sharp corners must be a finite number of at least 1");
}

class Offsetter {
  public:
    Offsetter(const ProfileSet& set, const CurveDistances& distance_of,
              const OffsetOptions& options, double bound)
        : set_(set), style_{{options.corners, options.limit}, bound} {
        source_ = source_of(set, distance_of, recognised_per_bound * style_.bound);
        for (const Chain& chain : source_.chains)
            for (const Element& element : chain.elements) {
                least_ = std::min(least_, element.distance);
                most_ = std::max(most_, element.distance);
            }
    }

    ProfileSet run() const {
        arrange::Input input;
        const bool both_ways = least_ < 0.0 && most_ > 0.0;
        for (const Chain& chain : source_.chains) add(chain, both_ways, input);
        arrange::Options options;
        options.tolerance = arranged_per_tolerance * set_.tolerance();
        options.inside = [](const arrange::Winding& w) { return w[0] > 0 && w[1] <= 0; };
        std::vector<Profile> profiles = merge::profiles_of(
            arrange::arrange(input, options),
            [this](const arrange::Loop& loop) { return name_of(loop); },
            [this](int tag) { return provenance_of(tag); });
        return ProfileSet(std::move(profiles), set_.marks(), set_.datum(), set_.tolerance(),
                          set_.name(), set_.notes());
    }

    bool moves_nothing() const { return least_ == 0.0 && most_ == 0.0; }
    double furthest() const { return std::max(-least_, most_); }

  private:
    void add(const Chain& chain, bool both_ways, arrange::Input& input) const {
        if (!both_ways) {
            add_loop(input, raw_loop(chain.elements, style_), 1, 0);
            return;
        }
        std::vector<Element> giving = chain.elements;
        for (Element& element : giving) element.distance = std::max(element.distance, 0.0);
        add_loop(input, raw_loop(giving, style_), 1, 0);
        for (const RawLoop& loop : taken_loops(chain.elements, style_)) add_loop(input, loop, 1, 1);
    }

    std::string name_of(const arrange::Loop& loop) const {
        std::optional<std::string> common;
        for (const int tag : loop.tags) {
            const CurvePlace& place = source_.places[static_cast<std::size_t>(tag)];
            const std::string& name =
                set_.profiles()[static_cast<std::size_t>(place.profile)].name();
            if (common && *common != name) return {};
            common = name;
        }
        return common.value_or(std::string());
    }

    Provenance provenance_of(int tag) const {
        const CurvePlace& place = source_.places[static_cast<std::size_t>(tag)];
        const std::vector<Provenance>& known =
            contour_at(set_, place.profile, place.contour).provenance();
        return known.empty() ? Provenance{} : known[static_cast<std::size_t>(place.curve)];
    }

    const ProfileSet& set_;
    LoopStyle style_;
    Source source_;
    double least_ = 0.0;
    double most_ = 0.0;
};

ProfileSet there_and_back(const ProfileSet& set, double radius) {
    const double bound = bound_of_return * set.tolerance();
    const ProfileSet there = Offsetter(
                                 set, [&](const CurvePlace&) { return radius; }, {}, bound)
                                 .run();
    return Offsetter(
               there, [&](const CurvePlace&) { return -radius; }, {}, bound)
        .run();
}

void require_radius(double radius) {
    if (!std::isfinite(radius) || !(radius > 0.0))
        throw GeometryError(ErrorKind::invalid_argument,
                            "a tool's radius must be a positive, finite number of millimetres");
}

}  // namespace

Allowed closed(const ProfileSet& set, double radius) {
    require_radius(radius);
    return {there_and_back(set, radius), {}};
}

Allowed opened(const ProfileSet& set, double radius) {
    require_radius(radius);
    return {there_and_back(set, -radius), {}};
}

Allowed offset(const ProfileSet& set, const CurveDistances& distance_of,
               const OffsetOptions& options) {
    require_valid(options);
    const Offsetter offsetter(set, distance_of, options, bound_per_tolerance * set.tolerance());
    if (offsetter.moves_nothing()) return {set, {}};
    return {offsetter.run(), {}};
}

Allowed offset(const ProfileSet& set, double distance, const OffsetOptions& options) {
    return offset(
        set, [distance](const CurvePlace&) { return distance; }, options);
}

}  // namespace planform
