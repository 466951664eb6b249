/// benchmark_flatten: our silhouette against the kernel's hidden-line removal and against a mesh
/// with the union of its projected triangles. Same solids, same tolerance, one run. Prints
/// Markdown.
///
///   benchmark_flatten [FILE...]      the table; without files, the models of the Debian packages
///                                    occt-misc, gmsh-doc and kicad-packages3d
///   benchmark_flatten --sections [FILE...]  sections against the kernel's own
///   benchmark_flatten --proof [FILE...]  what the proof of a silhouette costs
///   benchmark_flatten --growth [HOLES...]  time and memory for perforated plates, without numbers
///                                          for 10^2 to 10^5 holes
///   benchmark_flatten --files        names of the models of the table
///   benchmark_flatten --ours FILE... our own stages alone, for a profiler (repeats for 0.5 s a
///   file)

#include "planform/flatten.hpp"

#include <sys/resource.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <exception>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "flatten/collect/flatten_solids.hpp"
#include "flatten/collect/outline.hpp"
#include "flatten/silhouette/silhouette.hpp"
#include "model/body/solid_data.hpp"
#include "models.hpp"
#include "peers.hpp"
#include "perforated_plate.hpp"
#include "planform/occt.hpp"
#include "proof.hpp"
#include "ratios.hpp"
#include "sections.hpp"
#include "solid/shape_graph.hpp"
#include "stopwatch.hpp"

using namespace planform;
using benchmark::Ratios;
using benchmark::standard_models;
using benchmark::Stopwatch;
using benchmark::together;

namespace {

constexpr double tolerance = 0.01;  // mm, ours and of the mesh
/// Above this many triangles the union takes minutes; then the mesh alone is counted for the peer.
constexpr int most_triangles = 150000;

struct Stages {
    double graph = 1e300, faces = 1e300, arrange = 1e300;  // ms
};

/// The same steps as silhouette() takes, timed apart.
void run_stages(const std::vector<Solid>& solids, Stages& best) {
    Stages sum{0.0, 0.0, 0.0};
    flatten::Outline outline;
    std::vector<std::string> names;
    for (const Solid& solid : solids) names.push_back(solid.name());
    for (std::size_t i = 0; i < solids.size(); ++i) {
        const Stopwatch graph_time;
        solid::ShapeGraph graph =
            solid::build_shape_graph(solids[i], Datum::xy(), solid::EdgeReading::on_demand);
        flatten::check_closed(graph);
        sum.graph += graph_time.milliseconds();
        const Stopwatch face_time;
        flatten::add_silhouette(
            graph, solids[i].data().mass->area_vectors(shape_of(solids[i]).Located({})),
            {static_cast<int>(i), tolerance, {}, Verify::quick, {}, nullptr}, outline);
        graph.give_back(solids[i]);
        sum.faces += face_time.milliseconds();
    }
    const Stopwatch arrange_time;
    flatten::unite(outline, tolerance, names);
    sum.arrange = arrange_time.milliseconds();
    best.graph = std::min(best.graph, sum.graph);
    best.faces = std::min(best.faces, sum.faces);
    best.arrange = std::min(best.arrange, sum.arrange);
}

int compare(const std::vector<std::string>& files) {
    std::printf(
        "| model | faces | ours, ms | graph | faces | arrange | hidden lines, ms | ratio | "
        "triangles | mesh + union, ms | ratio | facing only, ms | ratio | area, mm² | mesh area "
        "|\n"
        "| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: "
        "| ---: | ---: |\n");
    Ratios hidden_ratios, mesh_ratios, facing_ratios;
    int failures = 0;
    for (const std::string& file : files) {
        const std::string name = std::filesystem::path(file).stem().string().substr(0, 44);
        try {
            const std::vector<Solid> solids = load(file).solids();
            int faces = 0;
            for (const Solid& solid : solids) faces += solid.face_count();
            double area = 0.0;
            const double ours = benchmark::fastest([&] {
                area = silhouette(solids, Datum::xy(), {tolerance, Merge::unite}).area();
            });
            Stages stages;
            benchmark::fastest([&] { run_stages(solids, stages); });
            const TopoDS_Compound shape = together(solids);
            const double hidden = benchmark::hidden_line_removal(shape, Datum::xy());
            const benchmark::MeshUnion mesh =
                benchmark::mesh_and_union(shape, Datum::xy(), tolerance, most_triangles);
            hidden_ratios.add(ours / hidden);
            mesh_ratios.add(ours / mesh.total());
            facing_ratios.add(ours / mesh.facing_total());
            const auto shown = [](const std::optional<double>& milliseconds) {
                char text[32] = "not run";
                if (milliseconds) std::snprintf(text, sizeof text, "%.0f", *milliseconds);
                return std::string(text);
            };
            std::printf(
                "| %s | %d | %.2f | %.2f | %.2f | %.2f | %.0f | %.4f | %d | %.0f + %s | %.4f | %s "
                "| %.4f | %.3f | %.3f |\n",
                name.c_str(), faces, ours, stages.graph, stages.faces, stages.arrange, hidden,
                ours / hidden, mesh.triangles, mesh.mesh_milliseconds,
                shown(mesh.union_milliseconds).c_str(), ours / mesh.total(),
                shown(mesh.facing_milliseconds).c_str(), ours / mesh.facing_total(), area,
                mesh.area);
        } catch (const std::exception& error) {
            ++failures;
            std::printf("| %s | failed: %s |\n", name.c_str(), error.what());
        }
        std::fflush(stdout);
    }
    std::printf("\n");
    hidden_ratios.print("hidden-line removal");
    mesh_ratios.print("mesh + union");
    facing_ratios.print("mesh + union of the triangles that face the viewer");
    return failures;
}

double peak_memory() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_maxrss) / 1024.0;  // MiB
}

void growth(const std::vector<int>& sizes) {
    std::printf(
        "| holes | ours, ms | µs a hole | graph | faces | arrange | peak before, MiB | peak, MiB "
        "|\n"
        "| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n");
    for (const int holes : sizes) {
        const std::vector<Solid> solids = from_shape(benchmark::perforated_plate(holes)).solids();
        const double before = peak_memory();
        std::size_t found = 0;
        const double ours = benchmark::fastest([&] {
            found = silhouette(solids, Datum::xy(), {tolerance, Merge::unite})
                        .profiles()
                        .at(0)
                        .holes()
                        .size();
        });
        Stages stages;
        benchmark::fastest([&] { run_stages(solids, stages); });
        std::printf("| %d | %.2f | %.2f | %.2f | %.2f | %.2f | %.0f | %.0f |\n", holes, ours,
                    1000.0 * ours / holes, stages.graph, stages.faces, stages.arrange, before,
                    peak_memory());
        if (found != static_cast<std::size_t>(holes))
            std::printf("wrong: %zu holes found\n", found);
        std::fflush(stdout);
    }
}

void profile(const std::vector<std::string>& files) {
    Stages all{0.0, 0.0, 0.0};
    for (const std::string& file : files) {
        std::vector<Solid> solids;
        try {
            solids = load(file).solids();
        } catch (const std::exception& error) {
            std::printf("%s: %s\n", file.c_str(), error.what());
            continue;
        }
        Stages stages;
        const double ours = benchmark::fastest([&] { run_stages(solids, stages); }, 500.0, 100000);
        std::printf("%8.3f ms: graph %.3f, faces %.3f, arrange %.3f  %s\n", ours, stages.graph,
                    stages.faces, stages.arrange,
                    std::filesystem::path(file).stem().string().c_str());
        all.graph += stages.graph;
        all.faces += stages.faces;
        all.arrange += stages.arrange;
    }
    std::printf("all: graph %.2f, faces %.2f, arrange %.2f ms\n", all.graph, all.faces,
                all.arrange);
}

}  // namespace

int main(int count, char** arguments) {
    std::vector<std::string> files(arguments + 1, arguments + count);
    if (!files.empty() && files[0] == "--growth") {
        std::vector<int> sizes;
        for (std::size_t i = 1; i < files.size(); ++i) sizes.push_back(std::stoi(files[i]));
        growth(sizes.empty() ? std::vector<int>{100, 1000, 10000, 100000} : sizes);
        return 0;
    }
    if (!files.empty() && files[0] == "--sections") {
        files.erase(files.begin());
        return benchmark::compare_sections(files.empty() ? standard_models() : files) == 0 ? 0 : 1;
    }
    if (!files.empty() && files[0] == "--proof") {
        files.erase(files.begin());
        return benchmark::compare_proofs(files.empty() ? standard_models() : files) == 0 ? 0 : 1;
    }
    if (!files.empty() && files[0] == "--files") {
        for (const std::string& file : standard_models()) std::printf("%s\n", file.c_str());
        return 0;
    }
    if (!files.empty() && files[0] == "--ours") {
        files.erase(files.begin());
        profile(files.empty() ? standard_models() : files);
        return 0;
    }
    return compare(files.empty() ? standard_models() : files) == 0 ? 0 : 1;
}
