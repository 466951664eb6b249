#include "offset/proven.hpp"

#include <algorithm>
#include <cmath>
#include <exception>
#include <optional>
#include <utility>

#include "offset/changes.hpp"
#include "offset/distance_proof.hpp"
#include "planform/error.hpp"

namespace planform::offset_detail {
namespace {

/// Up to so much of the distance, and of the resolution, a place may be off: far below what a
/// region that is lost or added by mistake shows, far above rounding.
constexpr double slack_per_distance = 0.25;
constexpr double slack_per_resolution = 25.0;
/// The same where all curves have exact parallels, and as a multiple of what fitted ones may be
/// off. What the arrangement may leave out is well below.
constexpr double least_slack = 1e-5;
constexpr double least_slack_per_bound = 2.0;
/// And as a share of the size: a hundred cells of the finest grid that holds it.
constexpr double least_slack_per_size = 1e-7;

/// Another way is turned by so many rad: an angle that no drawing has.
constexpr double turned_by = 1.2345;
/// And arranged on a grid that is this much finer.
constexpr double finer = 0.1;

double slack_of(const Source& source, const LoopStyle& style, double resolution) {
    double least = source.has_free_curves
                       ? std::max(least_slack, least_slack_per_bound * style.bound)
                       : least_slack;
    double furthest = 0.0;
    Box2 box;
    for (const Chain& chain : source.chains)
        for (const Element& element : chain.elements) {
            box.extend(start_point(element.curve));
            furthest = std::max(furthest, std::abs(element.distance));
        }
    if (!box.isEmpty()) least = std::max(least, least_slack_per_size * box.sizes().maxCoeff());
    return std::max(least,
                    std::min(slack_per_distance * furthest, slack_per_resolution * resolution));
}

Moved loops_turned(const Source& source, const LoopStyle& style, double resolution) {
    Transform2 there = Transform2::Identity();
    there.rotate(Eigen::Rotation2Dd(turned_by));
    const Transform2 back = there.inverse(Eigen::Isometry);
    Source turned = source;
    for (Chain& chain : turned.chains)
        for (Element& element : chain.elements) element.curve = transformed(element.curve, there);
    Moved moved = moved_loops(turned, style, finer * resolution, false);
    for (MovedLoop& one : moved.loops)
        for (Curve& curve : one.loop.curves) curve = transformed(curve, back);
    return moved;
}

Moved loops_by(int way, const Source& source, const LoopStyle& style, double resolution) {
    if (way == 0) return moved_loops(source, style, resolution);
    LoopStyle careful = style;
    careful.cuts_corners = careful.shortens_bands = false;
    if (way == 1) return moved_loops(source, careful, resolution, false);
    return loops_turned(source, careful, resolution);
}

}  // namespace

std::vector<MovedLoop> proven_loops(const Source& source, const LoopStyle& style,
                                    double resolution) {
    constexpr int ways = 3;
    const double slack = slack_of(source, style, resolution);
    std::optional<Breach> first;
    std::exception_ptr error;
    for (int way = 0; way < ways; ++way) {
        try {
            Moved moved = loops_by(way, source, style, resolution);
            const std::optional<Breach> breach = breach_of(source, style, moved, slack);
            if (!breach) return std::move(moved.loops);
            if (!first) first = breach;
        } catch (const GeometryError&) {
            if (!error) error = std::current_exception();
        }
    }
    if (!first) std::rethrow_exception(error);
    throw GeometryError(ErrorKind::law_broken,
                        "the moved outline breaks a law at " + at_place(first->place) + ": " +
                            first->law +
                            "; mend the outline there, or move it by a little more "
                            "or less");
}

}  // namespace planform::offset_detail
