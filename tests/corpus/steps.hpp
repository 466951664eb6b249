#pragma once

/// What is done with the solids of one source, step by step.

#include <functional>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "planform/flatten.hpp"

namespace corpus {

/// Something that is not as it should be, or that a person should look at.
struct Problem {
    /// "disagreement", "refused", "crash", "hang", "not read", "followed on a mesh", "no judge",
    /// "mesh fault", "undecided", "slow", "solid changed".
    std::string kind;
    std::string step;
    std::string text;
};

struct Outcome {
    double seconds = 0.0;               ///< processor time of the flattening, without the judge
    double peer_seconds = 0.0;          ///< processor time of hidden-line removal
    long long places = 0;               ///< that the judge asked
    double deviation = 0.0;             ///< largest of the proof, mm
    double area = 0.0;                  ///< mm^2
    std::map<std::string, int> counts;  ///< of whatever is counted, by name
    std::vector<Problem> problems;
};

struct Step {
    std::string name;
    std::function<Outcome()> run;
    std::function<void(Outcome&)> judge =
        {};                ///< looks at what `run` left it, and adds to the outcome
    bool is_peer = false;  ///< another way, timed only: it may take its time
};

/// The silhouettes of all solids together, and of each by itself, on xy, xz, yz and on the plane of
/// its largest flat face.
std::vector<Step> silhouette_steps(const std::vector<planform::Solid>& solids,
                                   planform::Verify verify);

/// The silhouettes of all solids together on the given planes; hidden-line removal from the same
/// side, too, if `with_peer`.
std::vector<Step> silhouette_steps_on(
    const std::vector<planform::Solid>& solids,
    const std::vector<std::pair<std::string, planform::Datum>>& datums, planform::Verify verify,
    bool with_peer);

/// Errors made on purpose in the silhouettes of each solid on xy and xz: what became of them is
/// counted as "PROOF, KIND of error: FATE". At most `most` of a kind for the quick proof, a third
/// of that for the full one.
std::vector<Step> mutant_steps(const std::vector<planform::Solid>& solids, int most);

/// Five sections of each solid; special_planes() tells which.
std::vector<Step> section_steps(const std::vector<planform::Solid>& solids);

}  // namespace corpus
