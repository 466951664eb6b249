#include "drawing/strays.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "drawing/chaining.hpp"
#include "drawing/nesting.hpp"

namespace planform::drawing {
namespace {

/// Chord by length of arc of a third of a circle and of half of one (sin(a / 2) / (a / 2) for the
/// angle a). That a third is enough is our own choice: a circle in three parts is common.
const double third_of_circle = 1.5 * std::sqrt(3.0) / pi;
const double half_of_circle = 2.0 / pi;
constexpr double rounding = 1e-9;

bool bounds_something(const OpenChain& chain) {
    double area = 0.0;
    for (const Curve& piece : chain.pieces) area += swept_area(piece, chain.start);
    return std::abs(area) >= least_area_share * chain.length * chain.length;
}

bool comes_back(const OpenChain& chain, bool hangs) {
    const double share = hangs ? half_of_circle : third_of_circle;
    return (chain.end - chain.start).norm() <= (share + rounding) * chain.length;
}

/// The middle of the longest piece.
Point2 probe_of(const OpenChain& chain) {
    const auto longest =
        std::max_element(chain.pieces.begin(), chain.pieces.end(),
                         [](const Curve& a, const Curve& b) { return length(a) < length(b); });
    const Interval range = domain(*longest);
    return point_at(*longest, 0.5 * (range.first + range.last));
}

}  // namespace

void tell_contours_from_strays(ClosedContours& closed, const std::vector<bool>& hangs) {
    const bool has_outline =
        !closed.chains.empty() || std::any_of(closed.open.begin(), closed.open.end(),
                                              [](const OpenChain& open) { return !open.stray; });
    std::vector<std::size_t> contours;
    std::vector<std::size_t> bent;
    std::vector<Point2> probes;
    for (std::size_t i = 0; i < closed.open.size(); ++i) {
        const OpenChain& chain = closed.open[i];
        const bool single = chain.curves.size() == 1;
        if (!chain.stray) continue;
        if (!has_outline) {
            contours.push_back(i);
        } else if ((hangs[i] || single) && bounds_something(chain)) {
            if (comes_back(chain, hangs[i])) {
                contours.push_back(i);
            } else if (!hangs[i]) {
                bent.push_back(i);
                probes.push_back(probe_of(chain));
            }
        }
    }
    std::vector<Contour> outlines;
    if (!bent.empty())
        for (const ClosedChain& chain : closed.chains) outlines.push_back(chain.contour);
    const std::vector<int> depths = depths_at(probes, outlines);
    for (std::size_t i = 0; i < bent.size(); ++i)
        if (depths[i] > 0) contours.push_back(bent[i]);
    std::sort(contours.begin(), contours.end());
    for (const std::size_t i : contours) {
        OpenChain& chain = closed.open[i];
        chain.stray = false;
        closed.gaps.push_back({chain.curves.front(), chain.curves.back(), chain.start, chain.end,
                               (chain.end - chain.start).norm(), Gap::Closing::open});
    }
}

}  // namespace planform::drawing
