#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <unordered_set>

#include "drawing/chaining.hpp"
#include "drawing/crossings.hpp"
#include "drawing/mending.hpp"
#include "drawing/strays.hpp"
#include "planform/drawing.hpp"
#include "planform/error.hpp"

namespace planform {

namespace {

using drawing::Part;
using drawing::Step;
using drawing::Trail;

/// Joints wider than this, relative to the contour's size, are mended; a contour closes narrower
/// ones itself.
constexpr double mended_joint = 1e-7;

void require_limit(double value, const char* name) {
    if (!std::isfinite(value) || value < 0.0)
        throw GeometryError(ErrorKind::invalid_argument,
                            std::string(name) + " is a finite number of millimetres, 0 or more");
}

void require_valid(std::span<const Curve> curves, std::span<const int> groups,
                   const ClosingOptions& options) {
    require_limit(options.gap, "the gap");
    require_limit(options.rounding, "the rounding");
    if (!std::isfinite(options.joint) || !(options.joint > 0.0) || !std::isfinite(options.same) ||
        !(options.same > 0.0))
        throw GeometryError(ErrorKind::invalid_argument,
                            "joint and same are positive finite numbers of millimetres");
    if (!groups.empty() && groups.size() != curves.size())
        throw GeometryError(ErrorKind::invalid_argument,
                            "groups has one number a curve, or none at all");
    for (std::size_t i = 0; i < curves.size(); ++i) {
        // A line whose ends are one is no error of the caller's: it is among what is looked for.
        if (const auto* line = std::get_if<Line>(&curves[i]);
            line && line->start == line->end && line->start.allFinite())
            continue;
        try {
            check_curve(curves[i]);
        } catch (const GeometryError& error) {
            throw GeometryError(error.kind(), "curve " + std::to_string(i) + ": " + error.what());
        }
    }
}

/// Ends of neighbours in one entity agree this well, relative to the contour's size: they are the
/// same numbers in the file, but arcs are given by other numbers than their ends.
constexpr double same_in_entity = 1e-9;

/// One curve of a loop on its way to a contour.
struct Link {
    Curve curve;
    int source;
    bool changed;
    bool forward = true;  ///< runs as its source does
};

/// What was given to close_contours, and which curves have a length there.
struct Given {
    std::span<const Curve> curves;
    std::span<const int> groups;
    const std::vector<bool>& usable;
};

/// Turns trails of parts into contours.
class ContourMaker {
  public:
    ContourMaker(const Given& given, const std::vector<Part>& parts, std::vector<Gap>& gaps)
        : given_(given), sources_(given.curves), parts_(parts), gaps_(gaps) {}

    /// Nothing if the loop has no size.
    std::optional<ClosedChain> make(const Trail& loop) {
        std::vector<Link> links = links_of(loop);
        Box2 box;
        for (const Link& link : links) box.extend(bounds(link.curve));
        const double size = box.diagonal().norm();
        put_crumbs_back(links, same_in_entity * size);
        mend(links, mended_joint * size);
        std::vector<Curve> curves;
        std::vector<int> origins;
        std::vector<bool> changed;
        for (Link& link : links) {
            curves.push_back(std::move(link.curve));
            origins.push_back(link.source);
            changed.push_back(link.changed);
        }
        return ClosedChain{Contour(std::move(curves), {}, Validate::no), std::move(origins),
                           std::move(changed)};
    }

  private:
    const Part& part(const Step& step) const { return parts_[static_cast<std::size_t>(step.part)]; }

    /// True if the second step goes on where the first one stops on the same source.
    bool goes_on(const Step& first, const Step& second) const {
        const Part &a = part(first), &b = part(second);
        return a.source == b.source && first.forward == second.forward &&
               (first.forward ? a.to == b.from : a.from == b.to);
    }

    /// Parts of one source that follow each other are one curve again.
    std::vector<Link> links_of(const Trail& loop) const {
        Trail turned = loop;
        for (std::size_t i = 0;
             i < loop.size() && goes_on(turned.back(), turned.front()) && loop.size() > 1; ++i)
            std::rotate(turned.begin(), turned.begin() + 1, turned.end());
        std::vector<Link> links;
        for (std::size_t i = 0; i < turned.size();) {
            Part whole = part(turned[i]);
            std::size_t next = i + 1;
            for (; next < turned.size() && goes_on(turned[next - 1], turned[next]); ++next) {
                whole.from = std::min(whole.from, part(turned[next]).from);
                whole.to = std::max(whole.to, part(turned[next]).to);
            }
            const Curve& source = sources_[static_cast<std::size_t>(whole.source)];
            const Curve curve = drawing::curve_of(source, whole);
            links.push_back({turned[i].forward ? curve : reversed(curve), whole.source,
                             !drawing::is_whole(source, whole), turned[i].forward});
            i = next;
        }
        return links;
    }

    /// Curves without length stand in no way of chaining, but where an entity (a polyline, a path)
    /// has some between two of its other curves they are part of the outline.
    void put_crumbs_back(std::vector<Link>& links, double near) const {
        if (given_.groups.empty()) return;
        std::vector<Link> filled;
        for (std::size_t i = 0; i < links.size(); ++i) {
            filled.push_back(links[i]);
            const std::vector<Link> crumbs =
                crumbs_between(links[i], links[(i + 1) % links.size()], near);
            filled.insert(filled.end(), crumbs.begin(), crumbs.end());
        }
        links = std::move(filled);
    }

    /// What the entity has between two of its curves, if it leads from one to the other.
    std::vector<Link> crumbs_between(const Link& before, const Link& after, double near) const {
        std::vector<Link> crumbs;
        if (before.forward != after.forward) return crumbs;
        Point2 reached = end_point(before.curve);
        int index = next_in_group(before.source, before.forward);
        for (; !is_usable(index); index = next_in_group(index, before.forward)) {
            const Curve& source = sources_[static_cast<std::size_t>(index)];
            const Curve crumb = before.forward ? source : reversed(source);
            if ((start_point(crumb) - reached).norm() > near) return {};
            reached = end_point(crumb);
            if (start_point(crumb) != reached)
                crumbs.push_back({crumb, index, false, before.forward});
        }
        if (index != after.source || (start_point(after.curve) - reached).norm() > near) return {};
        return crumbs;
    }

    bool is_usable(int index) const { return given_.usable[static_cast<std::size_t>(index)]; }

    /// The curve that follows in the same entity, the first one after the last.
    int next_in_group(int index, bool forward) const {
        const int step = forward ? 1 : -1;
        const auto is_mate = [&](int other) {
            return other >= 0 && other < static_cast<int>(given_.groups.size()) &&
                   given_.groups[static_cast<std::size_t>(other)] ==
                       given_.groups[static_cast<std::size_t>(index)];
        };
        if (is_mate(index + step)) return index + step;
        int first = index;
        while (is_mate(first - step)) first -= step;
        return first;
    }

    void mend(std::vector<Link>& links, double least) {
        if (links.size() == 1) {
            mend_single(links, least);
            return;
        }
        for (std::size_t i = 0; i < links.size(); ++i) {
            const std::size_t next = (i + 1) % links.size();
            Link &before = links[i], &after = links[next];
            const Point2 end = end_point(before.curve), start = start_point(after.curve);
            if ((start - end).norm() <= least) continue;
            const drawing::MendedJoint joint = drawing::mend_joint(before.curve, after.curve);
            if (joint.between) {
                note_piece(end, start, *joint.between);
                links.insert(links.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                             {*joint.between, -1, true});
                ++i;
            } else {
                before = {joint.before, before.source, true};
                after = {joint.after, after.source, true};
            }
        }
    }

    void mend_single(std::vector<Link>& links, double least) {
        Link& only = links.front();
        const Point2 start = start_point(only.curve), end = end_point(only.curve);
        if ((start - end).norm() <= least) return;
        if (const auto closed = drawing::closed_on_itself(only.curve)) {
            only = {*closed, only.source, true};
            return;
        }
        const Curve piece = drawing::piece_between(only.curve, only.curve);
        note_piece(end, start, piece);
        links.push_back({piece, -1, true});
    }

    /// The gap between two places was not closed by the curves themselves.
    void note_piece(const Point2& a, const Point2& b, const Curve& piece) {
        const auto closing =
            std::holds_alternative<Line>(piece) ? Gap::Closing::bridged : Gap::Closing::blended;
        for (Gap& gap : gaps_)
            if ((gap.place == a && gap.partner == b) || (gap.place == b && gap.partner == a))
                gap.closing = closing;
    }

    const Given& given_;
    std::span<const Curve> sources_;
    const std::vector<Part>& parts_;
    std::vector<Gap>& gaps_;
};

/// Curves without length are not usable; they are noted if nothing else of their group has any
/// length: a polyline that repeats a vertex is no harm.
std::vector<bool> usable_curves(std::span<const Curve> curves, std::span<const int> groups,
                                const ClosingOptions& options, std::vector<TinyCurve>& tiny) {
    // Ends are one point if they agree this well in each coordinate.
    const double least = std::sqrt(2.0) * options.joint;
    std::vector<bool> usable(curves.size());
    std::unordered_set<int> groups_with_length;
    for (std::size_t i = 0; i < curves.size(); ++i) {
        usable[i] = bounds(curves[i]).diagonal().norm() > least;
        if (usable[i] && !groups.empty()) groups_with_length.insert(groups[i]);
    }
    for (std::size_t i = 0; i < curves.size(); ++i) {
        if (usable[i] || (!groups.empty() && groups_with_length.contains(groups[i]))) continue;
        tiny.push_back({static_cast<int>(i), start_point(curves[i]), length(curves[i])});
    }
    return usable;
}

}  // namespace

ClosedContours close_contours(std::span<const Curve> curves, const ClosingOptions& options,
                              std::span<const int> groups) {
    require_valid(curves, groups, options);
    ClosedContours result;
    const std::vector<bool> usable = usable_curves(curves, groups, options, result.tiny);
    drawing::DistinctParts distinct = drawing::distinct_parts(curves, usable, options);
    result.doubles = std::move(distinct.doubles);
    std::vector<Curve> parts;
    parts.reserve(distinct.parts.size());
    for (const Part& part : distinct.parts)
        parts.push_back(drawing::curve_of(curves[static_cast<std::size_t>(part.source)], part));
    drawing::Chaining chaining = drawing::chain(distinct.parts, parts, groups, options);
    result.open = std::move(chaining.open);
    result.gaps = std::move(chaining.gaps);
    const Given given{curves, groups, usable};
    ContourMaker maker(given, distinct.parts, result.gaps);
    for (const Trail& loop : chaining.loops)
        if (auto closed = maker.make(loop)) result.chains.push_back(std::move(*closed));
    drawing::tell_contours_from_strays(result, chaining.hangs);
    result.crossings = drawing::find_crossings(result.chains, options.same);
    return result;
}

}  // namespace planform
