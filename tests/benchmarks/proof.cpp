#include "proof.hpp"

#include <cstdio>
#include <exception>
#include <filesystem>

#include "flatten/collect/flatten_solids.hpp"
#include "flatten/silhouette/silhouette.hpp"
#include "model/body/solid_data.hpp"
#include "planform/flatten.hpp"
#include "planform/occt.hpp"
#include "ratios.hpp"
#include "stopwatch.hpp"

namespace benchmark {
namespace {

using namespace planform;

/// The engine alone.
class Unwatched final : public flatten::Tampering {
    bool is_watched() const override { return false; }
};

void take(const std::vector<Solid>& solids, flatten::Tampering* tampering) {
    flatten::flatten_all(
        solids, Datum::xy(), {}, [&](const Solid& solid, int index, flatten::Outline& outline) {
            solid::ShapeGraph graph =
                solid::build_shape_graph(solid, Datum::xy(), solid::EdgeReading::on_demand);
            flatten::check_closed(graph);
            flatten::add_silhouette(graph,
                                    solid.data().mass->area_vectors(shape_of(solid).Located({})),
                                    {index, 0.01, {}, Verify::quick, {}, tampering}, outline);
            graph.give_back(solid);
        });
}

}  // namespace

int compare_proofs(const std::vector<std::string>& files) {
    std::printf(
        "| model | unproven, ms | quick, ms | ratio | full, ms | ratio | areas, ms | first, ratio "
        "|\n| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n");
    Ratios quick_ratios, full_ratios, first_ratios;
    int failures = 0;
    for (const std::string& file : files) {
        const std::string name = std::filesystem::path(file).stem().string().substr(0, 44);
        try {
            const Model model = load(file);
            const std::vector<Solid>& solids = model.solids();
            Unwatched unwatched;
            // In turn, so that the machine's own pace counts for none of them.
            double alone = 1e300, quick = 1e300, full = 1e300, areas = 1e300;
            for (int round = 0; round < 3; ++round) {
                alone = std::min(alone, fastest([&] { take(solids, &unwatched); }, 100.0));
                quick = std::min(quick, fastest([&] { take(solids, nullptr); }, 100.0));
                FlattenOptions options;
                options.verify = Verify::full;
                full = std::min(full,
                                fastest([&] { silhouette(solids, Datum::xy(), options); }, 100.0));
                areas =
                    std::min(areas, fastest(
                                        [&] {
                                            for (const Solid& solid : solids)
                                                model::area_vectors(shape_of(solid).Located({}));
                                        },
                                        50.0));
            }
            std::printf("| %s | %.3f | %.3f | %.3f | %.3f | %.3f | %.3f | %.3f |\n", name.c_str(),
                        alone, quick, quick / alone, full, full / alone, areas,
                        (quick + areas) / alone);
            quick_ratios.add(quick / alone);
            full_ratios.add(full / alone);
            first_ratios.add((quick + areas) / alone);
        } catch (const std::exception& error) {
            ++failures;
            std::printf("| %s | failed: %s |\n", name.c_str(), error.what());
        }
        std::fflush(stdout);
    }
    std::printf("\n");
    quick_ratios.print("the silhouette alone, quick proof");
    full_ratios.print("the silhouette alone, full proof");
    first_ratios.print("the silhouette alone, quick proof of the first one");
    return failures;
}

}  // namespace benchmark
