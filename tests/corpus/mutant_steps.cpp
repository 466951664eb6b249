#include "flatten/proof/mutants.hpp"
#include "planform/error.hpp"
#include "processor_time.hpp"
#include "steps.hpp"

namespace corpus {
namespace {

using planform::Datum;
using planform::Solid;
using planform::Verify;

constexpr double tolerance = 0.01;    // mm
constexpr double mutant_limit = 300;  // s: hundreds of silhouettes

Outcome counted(const Solid& solid, const Datum& datum, Verify verify, int most) {
    arm_timer(mutant_limit);
    const ProcessorTime time;
    mutants::Table table;
    mutants::try_mutants(solid, datum, tolerance, verify, most, table);
    Outcome outcome;
    outcome.seconds = time.seconds();
    for (const auto& [kind, tally] : table) {
        const std::string which = std::string(verify == Verify::full ? "full, " : "quick, ") +
                                  mutants::name_of(kind) + ": ";
        outcome.counts[which + "made"] += tally.made;
        outcome.counts[which + "harmless"] += tally.harmless;
        outcome.counts[which + "missed"] += tally.missed;
        for (const auto& [law, count] : tally.caught) outcome.counts[which + law] += count;
        for (const std::string& one : tally.which_missed)
            outcome.problems.push_back({"missed", solid.name(), which + one});
    }
    return outcome;
}

}  // namespace

std::vector<Step> mutant_steps(const std::vector<Solid>& solids, int most) {
    std::vector<Step> steps;
    for (std::size_t k = 0; k < solids.size(); ++k)
        for (const auto& [on, datum] : {std::pair("xy", Datum::xy()), std::pair("xz", Datum::xz())})
            for (const Verify verify : {Verify::quick, Verify::full}) {
                const std::string name = "solid " + std::to_string(k + 1) + " on " + on +
                                         (verify == Verify::full ? ", full" : ", quick");
                const int count = verify == Verify::full ? std::max(1, most / 3) : most;
                steps.push_back({name, [solid = solids[k], datum = datum, verify, count] {
                                     return counted(solid, datum, verify, count);
                                 }});
            }
    return steps;
}

}  // namespace corpus
