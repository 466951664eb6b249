#pragma once

/// A source worked through in processes of its own, so that a crash or a hang costs one step.

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "planform/model.hpp"
#include "steps.hpp"

namespace corpus {

using MakeSteps = std::function<std::vector<Step>(const std::vector<planform::Solid>&)>;

/// A file, or a body that is made from a number.
struct Source {
    std::string name;
    std::function<std::vector<planform::Solid>()> solids;
    /// Comes before, where the kernel makes a body: what goes wrong there is not ours. Returns
    /// false if there is nothing to go on with.
    std::function<bool()> prepare = {};
    /// Instead of the steps that the job has for all.
    MakeSteps steps = {};
};

/// What came out of a source.
struct SourceResult {
    std::string name;
    int solids = 0;
    int outlines = 0;      ///< steps that ended, refusals counted in
    double seconds = 0.0;  ///< processor time, everything
    double flattening = 0.0;
    double slowest = 0.0;  ///< one outline, s
    std::string slowest_step;
    double deviation = 0.0;  ///< largest of the proofs, mm
    long long places = 0;    ///< asked by the judge
    /// Slowest of peer steps against the flattening before them: largest ratio of the two.
    double largest_ratio = 0.0;
    std::map<std::string, int> counts;
    std::vector<Problem> problems;
};

/// Forks, reads, runs the steps; where a process dies, another one goes on after the step at fault.
SourceResult work_through(const Source& source, const MakeSteps& make_steps);

}  // namespace corpus
