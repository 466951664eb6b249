/// One set of objects for many threads: every answer must be that of one thread alone.
///
///     shared_objects [CALLS] [THREADS]
///
/// No test of the default run: it is for the thread sanitizer (preset `thread`), which finds what
/// the answers don't show.

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepOffsetAPI_ThruSections.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <TopoDS_Compound.hxx>
#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <gp_Circ.hxx>
#include <iostream>
#include <random>
#include <sstream>
#include <string>
#include <thread>
#include <vector>

#include "planform/planform.hpp"

namespace {

using namespace planform;

/// From a square to a circle: ruled and free-form faces.
TopoDS_Shape loft() {
    BRepOffsetAPI_ThruSections maker(true);
    BRepBuilderAPI_MakePolygon square;
    for (const auto& [x, y] : {std::pair(-20.0, -20.0), {20.0, -20.0}, {20.0, 20.0}, {-20.0, 20.0}})
        square.Add(gp_Pnt(x, y, 0));
    square.Close();
    maker.AddWire(square.Wire());
    for (const double height : {15.0, 30.0})
        maker.AddWire(BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(
            gp_Circ(gp_Ax2(gp_Pnt(2, 1, height), gp::DZ()), 25 - height / 2))));
    return maker.Shape();
}

Model bodies() {
    BRep_Builder builder;
    TopoDS_Compound all;
    builder.MakeCompound(all);
    builder.Add(all, loft());
    builder.Add(
        all, BRepPrimAPI_MakeTorus(gp_Ax2(gp_Pnt(80, 0, 10), gp_Dir(0.2, 0.1, 1)), 20, 6).Shape());
    std::ostringstream bytes;
    BRepTools::Write(all, bytes);
    return from_brep(bytes.str());
}

std::string text(const std::vector<Finding>& findings) {
    std::ostringstream words;
    for (const Finding& finding : findings) words << finding.text << finding.place.transpose();
    return words.str();
}

using Job = std::function<std::string()>;

}  // namespace

int main(int argc, char** argv) {
    const int calls = argc > 1 ? std::atoi(argv[1]) : 2000;
    const int threads = argc > 2 ? std::atoi(argv[2]) : 8;
    const std::filesystem::path folder = std::filesystem::temp_directory_path() / "shared_objects";
    std::filesystem::create_directories(folder);
    write_demo_assembly(folder / "station.step");

    // Looked at by all threads from the first call on: nothing is warmed up.
    const Model station = load(folder / "station.step");
    const Model curved = bodies();
    const std::vector<Solid> solids = curved.solids();
    const std::vector<Solid> plate(1, station.solids().front());
    const SectionStack stack(solids, Datum::xy());
    const ProfileSet first = silhouette(solids, Datum::xy());
    const ProfileSet second = section(solids, Datum::xy(), 12.0);

    std::vector<Job> jobs;
    for (int i = 0; i < 24; ++i)
        jobs.emplace_back([&, i] { return stack.at(0.5 + 1.2 * i).digest(); });
    const Datum slanted({0, 0, 0}, {0.3, 0.2, 0.9});
    jobs.emplace_back([&] { return silhouette(solids, slanted).digest(); });
    jobs.emplace_back([&] { return section(solids, slanted, 5.0).digest(); });
    jobs.emplace_back([&] { return silhouette(plate, auto_datum(plate)).digest(); });
    jobs.emplace_back([&] { return united(first, second).digest(); });
    jobs.emplace_back([&] { return difference(first, second).digest(); });
    jobs.emplace_back([&] { return symmetric_difference(first, second).normalized().digest(); });
    jobs.emplace_back([&] { return std::string(first == second ? "same" : "not the same"); });
    jobs.emplace_back([&] { return text(inspect(first)); });
    jobs.emplace_back([&] { return dxf_text(first) + svg_text(second) + json_text(first); });
    jobs.emplace_back([&] { return std::to_string(coplanar_groups(solids).size()); });
    jobs.emplace_back([&] {
        double sum = 0.0;
        for (const Solid& solid : station.solids()) sum += solid.volume() + solid.surface_area();
        return std::to_string(sum);
    });
    jobs.emplace_back([&] {
        std::string names;
        for (const Plate& found : plates(plate).plates)
            names += found.name + found.outline.digest();
        return names;
    });

    // What one thread says, from objects of its own.
    std::vector<std::string> expected(jobs.size());
    std::atomic<int> wrong{0}, thrown{0}, done{0};
    const auto work = [&](unsigned seed, int count,
                          std::vector<std::vector<std::string>>* answers) {
        std::mt19937 random(seed);
        for (int i = 0; i < count; ++i) {
            const std::size_t job = random() % jobs.size();
            try {
                (*answers)[job].push_back(jobs[job]());
            } catch (const std::exception& error) {
                if (++thrown < 5) std::fprintf(stderr, "job %zu: %s\n", job, error.what());
            }
            ++done;
        }
    };
    std::vector<std::vector<std::vector<std::string>>> answers(
        static_cast<std::size_t>(threads), std::vector<std::vector<std::string>>(jobs.size()));
    std::vector<std::thread> running;
    for (int i = 0; i < threads; ++i)
        running.emplace_back(work, static_cast<unsigned>(i), calls / threads,
                             &answers[static_cast<std::size_t>(i)]);
    for (std::thread& thread : running) thread.join();
    // Afterwards alone, on the same objects: a spoilt cache would show here, too.
    for (std::size_t job = 0; job < jobs.size(); ++job) {
        expected[job] = jobs[job]();
        for (const auto& of_thread : answers)
            for (const std::string& answer : of_thread[job])
                if (answer != expected[job] && ++wrong < 5)
                    std::fprintf(stderr, "job %zu: %.80s instead of %.80s\n", job, answer.c_str(),
                                 expected[job].c_str());
    }
    // And from objects that no other thread has seen.
    const Model anew = bodies();
    const std::vector<Solid> own = anew.solids();
    const SectionStack own_stack(own, Datum::xy());
    for (int i = 0; i < 24; ++i)
        if (own_stack.at(0.5 + 1.2 * i).digest() != expected[static_cast<std::size_t>(i)]) ++wrong;
    std::filesystem::remove_all(folder);
    std::cout << done << " calls of " << jobs.size() << " kinds from " << threads
              << " threads: " << wrong << " wrong, " << thrown << " errors\n";
    return wrong == 0 && thrown == 0 && done > 0 ? 0 : 1;
}
