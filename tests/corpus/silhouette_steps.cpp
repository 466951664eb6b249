#include <memory>
#include <optional>
#include <utility>

#include "judge.hpp"
#include "peer.hpp"
#include "planform/error.hpp"
#include "planform/side_up.hpp"
#include "processor_time.hpp"
#include "referee.hpp"
#include "solid_meshes.hpp"
#include "steps.hpp"

namespace corpus {
namespace {

using planform::Datum;
using planform::ProfileSet;
using planform::Solid;
using planform::Verify;

struct Task {
    std::string name;
    std::vector<Solid> solids;
    std::vector<std::size_t> numbers;  ///< of the solids, for their meshes
    Datum datum;
    Verify verify;
};

/// The outline of a task between its two halves.
using Kept = std::shared_ptr<std::optional<ProfileSet>>;

Outcome flatten(const Task& task, const Kept& kept) {
    Outcome outcome;
    planform::FlattenOptions options;
    options.verify = task.verify;
    const ProcessorTime time;
    try {
        *kept = planform::silhouette(task.solids, task.datum, options);
        outcome.seconds = time.seconds();
        outcome.deviation = (*kept)->proof().largest_deviation();
        outcome.area = (*kept)->area();
        for (const std::string& note : (*kept)->notes())
            if (note.find("mesh") != std::string::npos)
                outcome.problems.push_back({"followed on a mesh", task.name, note});
    } catch (const planform::Error& error) {
        outcome.seconds = time.seconds();
        outcome.problems.push_back({"refused", task.name, error.what()});
    }
    return outcome;
}

void judge(const Task& task, const Kept& kept, SolidMeshes& meshes, Outcome& outcome) {
    if (!*kept) return;
    const Limits limits = limits_for(task.solids, (*kept)->tolerance());
    const Mesh mesh = meshes.of(task.numbers, limits.deflection());
    const Verdict verdict = judge_silhouette(**kept, projected(mesh, task.datum), limits);
    kept->reset();
    outcome.places = verdict.places;
    const Ruling ruling = ruled(verdict, [&](const planform::Point2& at) {
        return ray_meets(task.solids, task.datum, at, limits.apart);
    });
    add_ruling(ruling, verdict, task.name, outcome);
}

Step step_of(const Task& task, const std::shared_ptr<SolidMeshes>& meshes) {
    auto kept = std::make_shared<std::optional<ProfileSet>>();
    return {task.name, [task, kept] { return flatten(task, kept); },
            [task, kept, meshes](Outcome& outcome) { judge(task, kept, *meshes, outcome); }};
}

}  // namespace

std::vector<Step> silhouette_steps(const std::vector<Solid>& solids, Verify verify) {
    auto meshes = std::make_shared<SolidMeshes>(solids);
    std::vector<Step> steps;
    const auto add = [&](const std::string& what, std::vector<std::size_t> numbers) {
        std::vector<Solid> some;
        for (const std::size_t k : numbers) some.push_back(solids[k]);
        std::vector<std::pair<std::string, Datum>> datums{
            {"xy", Datum::xy()}, {"xz", Datum::xz()}, {"yz", Datum::yz()}};
        try {
            datums.emplace_back("own plane", planform::auto_datum(some));
        } catch (const planform::GeometryError&) {
            // No flat face.
        }
        for (const auto& [on, datum] : datums) {
            const Task task{what + " on " + on, some, numbers, datum, verify};
            steps.push_back(step_of(task, meshes));
        }
    };
    std::vector<std::size_t> all;
    for (std::size_t k = 0; k < solids.size(); ++k) {
        add("solid " + std::to_string(k + 1) + " \"" + solids[k].name() + '"', {k});
        all.push_back(k);
    }
    if (solids.size() > 1) add("all solids", all);
    return steps;
}

std::vector<Step> silhouette_steps_on(const std::vector<Solid>& solids,
                                      const std::vector<std::pair<std::string, Datum>>& datums,
                                      Verify verify, bool with_peer) {
    auto meshes = std::make_shared<SolidMeshes>(solids);
    std::vector<std::size_t> all;
    for (std::size_t k = 0; k < solids.size(); ++k) all.push_back(k);
    std::vector<Step> steps;
    for (const auto& [name, datum] : datums) {
        const Task task{name, solids, all, datum, verify};
        steps.push_back(step_of(task, meshes));
        if (!with_peer) continue;
        const auto peer = [task] {
            Outcome outcome;
            outcome.peer_seconds = hidden_line_seconds(task.solids, task.datum);
            return outcome;
        };
        steps.push_back({task.name + ", hidden lines", peer, {}, true});
    }
    return steps;
}

}  // namespace corpus
