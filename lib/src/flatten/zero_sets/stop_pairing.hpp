#pragma once

/// Which of the places where a zero set enters a face goes with which where it leaves.

#include <cstddef>
#include <functional>
#include <optional>
#include <utility>
#include <vector>

namespace planform::flatten {

/// One way of joining: start i goes with the end `ends[i].first`, moved by `ends[i].second`
/// periods.
struct StopPairing {
    std::vector<std::pair<std::size_t, int>> ends;
    double misplaced;  ///< how far the order has to be bent for it, in the unit of `gap`
};

/// Along a branch starts and ends alternate. Places come ascending, as many of one kind as of the
/// other. The boundary of a face is only as exact as its model: where its edges miss each other, a
/// start and an end may lie the wrong way round by as much, so that they are joined by rank, not by
/// order. A branch that closes has several ways to be joined (the i-th start with the i-th end, the
/// next, ...): those that bend the order by `slack` at most come back, the straightest first. `gap`
/// measures between two places of the branch.
std::vector<StopPairing> pair_stops(const std::vector<double>& starts,
                                    const std::vector<double>& ends, std::optional<double> period,
                                    double slack, const std::function<double(double, double)>& gap);

}  // namespace planform::flatten
