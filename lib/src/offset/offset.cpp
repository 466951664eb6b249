#include "planform/offset.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <exception>
#include <optional>
#include <utility>

#include "arrange/arrange.hpp"
#include "merge/loop_profiles.hpp"
#include "offset/changes.hpp"
#include "offset/proven.hpp"
#include "offset/restored.hpp"
#include "offset/source.hpp"
#include "planform/boolean.hpp"
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
/// tolerance, a tenth of what booleans take for one; where curves have bends or sides too fine to
/// be followed so closely, but for a tenth of what a single way may be off.
constexpr std::array<double, 2> bounds_of_return{1e-4, 1e-2};
/// Places that a tool does not reach are traces if they are on average narrower than this share of
/// the tolerance.
constexpr double trace_per_tolerance = 0.25;

void require_valid(const OffsetOptions& options) {
    if (!std::isfinite(options.limit) || options.limit < 1.0)
        throw GeometryError(ErrorKind::invalid_argument,
                            "the limit of sharp corners must be a finite number of at least 1");
}

class Offsetter {
  public:
    Offsetter(const ProfileSet& set, const CurveDistances& distance_of,
              const OffsetOptions& options, double bound)
        : set_(set),
          style_{{options.corners, options.limit}, bound},
          resolution_(arranged_per_tolerance * set.tolerance()),
          source_(source_of(set, distance_of, recognised_per_bound * bound, resolution_)) {
        for (const Chain& chain : source_.chains)
            for (const Element& element : chain.elements)
                furthest_ = std::max(furthest_, std::abs(element.distance));
    }

    bool moves_nothing() const { return furthest_ == 0.0; }
    double furthest() const { return furthest_; }

    ProfileSet run() const { return as_set(proven_loops(source_, style_, resolution_)); }

    Allowed run_with_changes() const {
        std::vector<MovedLoop> loops = proven_loops(source_, style_, resolution_);
        std::vector<Finding> findings = changes(set_, source_, loops, furthest_);
        return with_findings(as_set(std::move(loops)), std::move(findings));
    }

  private:
    ProfileSet as_set(std::vector<MovedLoop> moved) const {
        std::vector<arrange::Loop> loops;
        loops.reserve(moved.size());
        for (MovedLoop& m : moved)
            loops.push_back(
                {std::move(m.loop.curves), std::move(m.loop.tags), m.is_hole, m.parent});
        std::vector<Profile> profiles = merge::profiles_of(
            std::move(loops), [this](const arrange::Loop& loop) { return name_of(loop); },
            [this](int tag) { return provenance_of(tag); });
        return ProfileSet(std::move(profiles), set_.marks(), set_.datum(), set_.tolerance(),
                          set_.name(), set_.notes());
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
    double resolution_;
    Source source_;
    double furthest_ = 0.0;
};

ProfileSet there_and_back_within(const ProfileSet& set, double radius, double bound) {
    const ProfileSet there = Offsetter(
                                 set, [&](const CurvePlace&) { return radius; }, {}, bound)
                                 .run();
    const ProfileSet back = Offsetter(
                                there, [&](const CurvePlace&) { return -radius; }, {}, bound)
                                .run();
    // Both ways may be off by the bound.
    return restored(back, set, 2.0 * bound);
}

ProfileSet there_and_back(const ProfileSet& set, double radius) {
    std::exception_ptr error;
    for (const double share : bounds_of_return) {
        try {
            return there_and_back_within(set, radius, share * set.tolerance());
        } catch (const GeometryError&) {
            if (!error) error = std::current_exception();
        }
    }
    std::rethrow_exception(error);
}

void require_radius(double radius) {
    if (!std::isfinite(radius) || !(radius > 0.0))
        throw GeometryError(ErrorKind::invalid_argument,
                            "a tool's radius must be a positive, finite number of millimetres");
}

/// What a round tool leaves or takes too much of, place by place.
Allowed with_unreached(const ProfileSet& set, ProfileSet result, bool fills, double radius) {
    const ProfileSet changed = fills ? difference(result, set) : difference(set, result);
    std::vector<Finding> findings;
    for (const Profile& place : changed.profiles()) {
        if (2.0 * place.area() < trace_per_tolerance * set.tolerance() * place.length()) continue;
        Finding finding =
            finding_of(RuleKind::unreached, place.bounds().center(),
                       (fills ? "a round tool of " : "a disc of ") + millimetres(2.0 * radius) +
                           (fills ? " does not cut out " : " does not reach ") +
                           square_millimetres(place.area()));
        finding.measured = place.area();
        finding.unit = "mm^2";
        findings.push_back(std::move(finding));
    }
    return with_findings(std::move(result), std::move(findings));
}

}  // namespace

Allowed closed(const ProfileSet& set, double radius) {
    require_radius(radius);
    return with_unreached(set, there_and_back(set, radius), true, radius);
}

Allowed opened(const ProfileSet& set, double radius) {
    require_radius(radius);
    return with_unreached(set, there_and_back(set, -radius), false, radius);
}

Allowed offset(const ProfileSet& set, const CurveDistances& distance_of,
               const OffsetOptions& options) {
    require_valid(options);
    const Offsetter offsetter(set, distance_of, options, bound_per_tolerance * set.tolerance());
    if (offsetter.moves_nothing()) return {set, {}};
    return offsetter.run_with_changes();
}

Allowed offset(const ProfileSet& set, double distance, const OffsetOptions& options) {
    return offset(
        set, [distance](const CurvePlace&) { return distance; }, options);
}

}  // namespace planform
