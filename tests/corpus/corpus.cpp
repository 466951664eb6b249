/// Whole collections of models, and thousands of bodies made on purpose, flattened and judged by
/// meshes. Not a test: it takes hours, carries on where it stopped, and reports.
///
///     corpus silhouettes --list FILE --out FOLDER [--seconds S] [--part K/N] [--verify quick|full]
///     corpus sections    --list FILE --out FOLDER [--seconds S] [--part K/N]
///     corpus summary     --list FILE --out FOLDER
///
/// --list: model files, one a line. Results go to FOLDER/silhouettes.K-of-N.jsonl (sections...),
/// one line a file; files that have a line are not looked at again. After S seconds by the clock no
/// further file is begun; the exit status is then 75 (try again), else 0, or 1 if there was a
/// crash, a hang, a disagreement or a solid that was changed. FOLDER/silhouettes.md sums all parts
/// up.

#include <algorithm>
#include <chrono>
#include <cinttypes>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "child.hpp"
#include "planform/model.hpp"
#include "results.hpp"
#include "sources.hpp"
#include "steps.hpp"

namespace {

using namespace corpus;

struct Arguments {
    std::string job;
    std::filesystem::path list, out;
    double seconds = 7200.0;
    std::size_t part = 1, parts = 1;
    planform::Verify verify = planform::Verify::quick;
    std::uint64_t first = 1, last = 10000;
    int most = 12;  ///< mutants of a kind
};

[[noreturn]] void refuse(const std::string& why) {
    std::cerr << "corpus: " << why << "\nsee the top of tests/corpus/corpus.cpp\n";
    std::exit(2);
}

Arguments arguments_of(int count, char** words) {
    if (count < 2) refuse("which job?");
    Arguments arguments;
    arguments.job = words[1];
    for (int k = 2; k < count; k += 2) {
        const std::string option = words[k];
        if (k + 1 == count) refuse(option + " wants a value");
        const std::string value = words[k + 1];
        if (option == "--list")
            arguments.list = value;
        else if (option == "--out")
            arguments.out = value;
        else if (option == "--seconds")
            arguments.seconds = std::atof(value.c_str());
        else if (option == "--most")
            arguments.most = std::atoi(value.c_str());
        else if (option == "--seeds") {
            char rest = 0;
            if (std::sscanf(value.c_str(), "%" SCNu64 ":%" SCNu64 "%c", &arguments.first,
                            &arguments.last, &rest) != 2)
                refuse("--seeds wants A:B");
        } else if (option == "--part") {
            if (std::sscanf(value.c_str(), "%zu/%zu", &arguments.part, &arguments.parts) != 2 ||
                arguments.part < 1 || arguments.part > arguments.parts)
                refuse("--part wants K/N");
        } else if (option == "--verify" && (value == "quick" || value == "full"))
            arguments.verify = value == "full" ? planform::Verify::full : planform::Verify::quick;
        else
            refuse("what is " + option + " " + value + "?");
    }
    if (arguments.out.empty()) refuse("--out is missing");
    return arguments;
}

/// All parts' results of a job.
std::vector<SourceResult> all_results(const std::filesystem::path& out, const std::string& job) {
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(out)) {
        const std::string name = entry.path().filename().string();
        if (name.rfind(job + '.', 0) == 0 && entry.path().extension() == ".jsonl")
            files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    std::vector<SourceResult> all;
    for (const auto& file : files)
        for (SourceResult& result : read_results(file)) all.push_back(std::move(result));
    return all;
}

void write_summary(const std::filesystem::path& out, const std::string& job, std::size_t sources) {
    std::ofstream(out / (job + ".md")) << summary(all_results(out, job), sources, job);
}

bool has_failed(const SourceResult& result) {
    for (const Problem& problem : result.problems)
        if (problem.kind == "crash" || problem.kind == "hang" || problem.kind == "disagreement" ||
            problem.kind == "solid changed")
            return true;
    return false;
}

int work(const Arguments& arguments, const std::vector<Source>& sources,
         const MakeSteps& make_steps) {
    std::filesystem::create_directories(arguments.out);
    const auto file = arguments.out / (arguments.job + '.' + std::to_string(arguments.part) +
                                       "-of-" + std::to_string(arguments.parts) + ".jsonl");
    bool failed = false;
    std::set<std::string> known;
    for (const SourceResult& result : read_results(file)) {
        known.insert(result.name);
        failed = failed || has_failed(result);
    }
    const auto start = std::chrono::steady_clock::now();
    for (std::size_t k = arguments.part - 1; k < sources.size(); k += arguments.parts) {
        if (known.count(sources[k].name) > 0) continue;
        const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - start;
        if (spent.count() > arguments.seconds) {
            write_summary(arguments.out, arguments.job, sources.size());
            return 75;
        }
        const SourceResult result = work_through(sources[k], make_steps);
        failed = failed || has_failed(result);
        append(file, result);
    }
    write_summary(arguments.out, arguments.job, sources.size());
    return failed ? 1 : 0;
}

}  // namespace

int main(int count, char** words) try {
    const Arguments arguments = arguments_of(count, words);
    const auto silhouettes = [&](const auto& solids) {
        return silhouette_steps(solids, arguments.verify);
    };
    const auto mutants = [&](const auto& solids) { return mutant_steps(solids, arguments.most); };
    if (arguments.job == "silhouettes")
        return work(arguments, files_of(arguments.list), silhouettes);
    if (arguments.job == "sections")
        return work(arguments, files_of(arguments.list), section_steps);
    if (arguments.job == "mutants") return work(arguments, files_of(arguments.list), mutants);
    if (arguments.job == "bodies")
        return work(arguments, bodies_of(arguments.first, arguments.last, arguments.verify), {});
    if (arguments.job == "springs") return work(arguments, springs(arguments.verify), {});
    refuse("there is no job " + arguments.job);
} catch (const std::exception& error) {
    std::cerr << "corpus: " << error.what() << '\n';
    return 2;
}
