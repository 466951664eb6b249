#include <memory>
#include <optional>

#include "judge.hpp"
#include "planform/error.hpp"
#include "processor_time.hpp"
#include "referee.hpp"
#include "solid_meshes.hpp"
#include "special_planes.hpp"
#include "steps.hpp"

namespace corpus {
namespace {

using planform::Datum;
using planform::ProfileSet;
using planform::Solid;

struct SectionTask {
    std::string name;
    Solid solid;
    std::size_t number;  ///< of the solid, for its mesh
    Datum plane;
};

/// The section of a task between its two halves.
using Kept = std::shared_ptr<std::optional<ProfileSet>>;

Outcome cut_solid(const SectionTask& task, const Kept& kept) {
    Outcome outcome;
    const ProcessorTime time;
    try {
        *kept = planform::section({&task.solid, 1}, task.plane);
        outcome.seconds = time.seconds();
        outcome.deviation = (*kept)->proof().largest_deviation();
        outcome.area = (*kept)->area();
        for (const std::string& note : (*kept)->notes())
            if (note.find("mesh") != std::string::npos || note.find("moved") != std::string::npos)
                outcome.problems.push_back({"note", task.name, note});
    } catch (const planform::Error& error) {
        outcome.seconds = time.seconds();
        outcome.problems.push_back({"refused", task.name, error.what()});
    }
    return outcome;
}

void judge_cut(const SectionTask& task, const Kept& kept, SolidMeshes& meshes, Outcome& outcome) {
    if (!*kept) return;
    const Limits limits = limits_for({task.solid}, (*kept)->tolerance());
    const Mesh mesh = meshes.of({task.number}, limits.deflection());
    const Verdict verdict = judge_section(**kept, cut(mesh, task.plane), limits);
    kept->reset();
    outcome.places = verdict.places;
    const Ruling ruling = ruled(verdict, [&](const planform::Point2& at) {
        return lies_in(task.solid, task.plane, at, limits.apart);
    });
    add_ruling(ruling, verdict, task.name, outcome);
}

}  // namespace

std::vector<Step> section_steps(const std::vector<Solid>& solids) {
    auto meshes = std::make_shared<SolidMeshes>(solids);
    std::vector<Step> steps;
    for (std::size_t k = 0; k < solids.size(); ++k)
        for (const auto& [where, plane] : special_planes(solids[k])) {
            const SectionTask task{
                "solid " + std::to_string(k + 1) + " \"" + solids[k].name() + "\" " + where,
                solids[k], k, plane};
            auto kept = std::make_shared<std::optional<ProfileSet>>();
            steps.push_back({task.name, [task, kept] { return cut_solid(task, kept); },
                             [task, kept, meshes](Outcome& outcome) {
                                 judge_cut(task, kept, *meshes, outcome);
                             }});
        }
    return steps;
}

}  // namespace corpus
