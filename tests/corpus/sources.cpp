#include "sources.hpp"

#include <unistd.h>

#include <fstream>
#include <memory>
#include <stdexcept>

#include "coils.hpp"
#include "flatten/turned_bodies.hpp"
#include "odd_bodies.hpp"
#include "planform/demo.hpp"
#include "planform/occt.hpp"

namespace corpus {

using planform::Datum;
using planform::Solid;
using planform::Verify;

namespace {

/// Of the demo's model, through STEP.
std::vector<Solid> demo_solids() {
    const std::filesystem::path path = std::filesystem::temp_directory_path() /
                                       ("planform_corpus_" + std::to_string(getpid()) + ".step");
    planform::write_demo_assembly(path);
    std::vector<Solid> solids = planform::load(path).solids();
    std::filesystem::remove(path);
    return solids;
}

}  // namespace

std::vector<Source> files_of(const std::filesystem::path& list) {
    std::ifstream stream(list);
    if (!stream) throw std::runtime_error("can't read " + list.string());
    std::vector<Source> sources;
    for (std::string line; std::getline(stream, line);) {
        if (line.empty()) continue;
        Source source;
        source.name = line;
        source.solids = [line] {
            return line == "demo" ? demo_solids() : planform::load(line).solids();
        };
        sources.push_back(source);
    }
    return sources;
}

std::vector<Source> bodies_of(std::uint64_t first, std::uint64_t last, Verify verify) {
    std::vector<Source> sources;
    for (std::uint64_t seed = first; seed <= last; ++seed) {
        auto body = std::make_shared<odd_bodies::Body>();
        Source source;
        source.name = "body " + std::to_string(seed);
        source.prepare = [body, seed] {
            *body = odd_bodies::make(seed);
            return !body->shape.IsNull();
        };
        source.solids = [body] {
            const TopoDS_Shape& made = body->shape;
            return planform::from_shape(body->way == 0   ? made
                                        : body->way == 1 ? turned_bodies::through_brep(made)
                                                         : turned_bodies::through_step(made))
                .solids();
        };
        source.steps = [body, verify](const std::vector<Solid>& solids) {
            static const char* const ways[] = {"memory", "BREP", "STEP"};
            const std::string name = body->kind + " from " + ways[body->way];
            std::vector<Step> steps =
                silhouette_steps_on(solids, {{name, body->datum}}, verify, false);
            for (Step& step : steps)
                step.run = [run = step.run, kind = body->kind] {
                    Outcome outcome = run();
                    ++outcome.counts[kind];
                    return outcome;
                };
            return steps;
        };
        sources.push_back(source);
    }
    return sources;
}

std::vector<Source> springs(Verify verify) {
    std::vector<Source> sources;
    for (const Coil& coil : coils()) {
        auto shape = std::make_shared<TopoDS_Shape>();
        Source source;
        source.name = coil.describe();
        source.prepare = [shape, coil] {
            *shape = coil_body(coil);
            return !shape->IsNull();
        };
        source.solids = [shape] { return planform::from_shape(*shape).solids(); };
        source.steps = [verify](const std::vector<Solid>& solids) {
            const planform::Point3 origin(0.0, 0.0, 0.0);
            return silhouette_steps_on(solids,
                                       {{"along the axis", Datum::xy()},
                                        {"across the axis", Datum(origin, {0.6, -0.8, 0.0})},
                                        {"tilted", Datum(origin, {0.25, 0.31, 0.9})}},
                                       verify, true);
        };
        sources.push_back(source);
    }
    return sources;
}

}  // namespace corpus
