#include "results.hpp"

#include <algorithm>
#include <cctype>
#include <fstream>
#include <iomanip>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>

namespace corpus {
namespace {

using nlohmann::json;

SourceResult parsed(const json& line) {
    SourceResult result;
    result.name = line.at("name");
    result.solids = line.at("solids");
    result.outlines = line.at("outlines");
    result.seconds = line.at("seconds");
    result.flattening = line.at("flattening");
    result.slowest = line.at("slowest");
    result.slowest_step = line.at("slowest_step");
    result.deviation = line.at("deviation");
    result.places = line.at("places");
    result.largest_ratio = line.at("largest_ratio");
    result.counts = line.at("counts").get<std::map<std::string, int>>();
    for (const json& p : line.at("problems")) result.problems.push_back({p[0], p[1], p[2]});
    return result;
}

/// The text without names and numbers, so that equal causes are equal.
std::string cause(const std::string& text) {
    std::string plain;
    bool quoted = false, in_number = false;
    for (const char c : text) {
        if (c == '"') {
            quoted = !quoted;
            if (quoted) plain += "\"...\"";
            continue;
        }
        if (quoted) continue;
        const bool digit = std::isdigit(static_cast<unsigned char>(c)) != 0;
        const bool of_number = digit || (in_number && (c == '.' || c == '-' || c == 'e'));
        if (of_number && !in_number) plain += 'N';
        if (!of_number) plain += c;
        in_number = of_number;
    }
    return plain.substr(0, 160);
}

void list(std::ostringstream& text, const std::vector<SourceResult>& results,
          const std::string& kind, std::size_t most) {
    std::size_t count = 0;
    for (const SourceResult& result : results)
        for (const Problem& problem : result.problems) {
            if (problem.kind != kind) continue;
            if (++count == 1) text << "\n## " << kind << "\n\n";
            if (count <= most)
                text << "- " << result.name << ", " << problem.step << ": "
                     << problem.text.substr(0, 300) << '\n';
        }
    if (count > most) text << "- and " << count - most << " more\n";
}

}  // namespace

void append(const std::filesystem::path& file, const SourceResult& result) {
    json problems = json::array();
    for (const Problem& p : result.problems) problems.push_back({p.kind, p.step, p.text});
    const json line{{"name", result.name},
                    {"solids", result.solids},
                    {"outlines", result.outlines},
                    {"seconds", result.seconds},
                    {"flattening", result.flattening},
                    {"slowest", result.slowest},
                    {"slowest_step", result.slowest_step},
                    {"deviation", result.deviation},
                    {"places", result.places},
                    {"largest_ratio", result.largest_ratio},
                    {"counts", result.counts},
                    {"problems", problems}};
    std::ofstream stream(file, std::ios::app | std::ios::binary);
    stream << line.dump(-1, ' ', false, json::error_handler_t::replace) << '\n' << std::flush;
    if (!stream) throw std::runtime_error("can't write " + file.string());
}

std::vector<SourceResult> read_results(const std::filesystem::path& file) {
    std::vector<SourceResult> results;
    std::ifstream stream(file, std::ios::binary);
    std::uintmax_t whole = 0;
    bool cut_off = false;
    for (std::string line; std::getline(stream, line);) {
        cut_off = stream.eof();  // no line feed at its end
        if (cut_off) break;
        results.push_back(parsed(json::parse(line)));
        whole += line.size() + 1;
    }
    stream.close();
    if (cut_off) std::filesystem::resize_file(file, whole);
    return results;
}

std::string summary(const std::vector<SourceResult>& results, std::size_t sources,
                    const std::string& title) {
    std::map<std::string, int> kinds, causes, counts;
    int solids = 0, outlines = 0;
    long long places = 0;
    double seconds = 0.0, flattening = 0.0, deviation = 0.0, ratio = 0.0;
    for (const SourceResult& result : results) {
        solids += result.solids;
        outlines += result.outlines;
        places += result.places;
        seconds += result.seconds;
        flattening += result.flattening;
        deviation = std::max(deviation, result.deviation);
        ratio = std::max(ratio, result.largest_ratio);
        for (const auto& [what, count] : result.counts) counts[what] += count;
        for (const Problem& problem : result.problems) {
            ++kinds[problem.kind];
            if (problem.kind == "refused" || problem.kind == "not read")
                ++causes[problem.kind + ": " + cause(problem.text)];
        }
    }
    std::ostringstream text;
    text << "# " << title << "\n\n| what | count |\n| --- | ---: |\n| sources looked at, of "
         << sources << " | " << results.size() << " |\n| solids | " << solids << " |\n| outlines | "
         << outlines << " |\n| places asked of the judge | " << places << " |\n";
    for (const char* kind :
         {"crash", "hang", "disagreement", "solid changed", "refused", "not read",
          "followed on a mesh", "note", "undecided", "mesh fault", "no judge"})
        text << "| " << kind << " | " << kinds[kind] << " |\n";
    text << std::setprecision(3) << "| largest deviation of a proof, mm | " << deviation
         << " |\n| processor time, all, s | " << std::fixed << std::setprecision(1) << seconds
         << " |\n| of it flattening, s | " << flattening << " |\n";
    if (ratio > 0.0)
        text << std::setprecision(4) << "| largest ratio to hidden-line removal | " << ratio
             << " |\n";
    for (const auto& [what, count] : counts) text << "| " << what << " | " << count << " |\n";
    if (!causes.empty()) text << "\n## Causes of refusals\n\n";
    for (const auto& [what, count] : causes) text << "- " << count << " x " << what << '\n';
    for (const char* kind : {"crash", "hang", "disagreement", "solid changed"})
        list(text, results, kind, 1000);
    list(text, results, "refused", 100);
    for (const char* kind : {"not read", "undecided", "no judge", "missed"})
        list(text, results, kind, 30);
    std::vector<SourceResult> slow = results;
    const std::size_t most = std::min<std::size_t>(slow.size(), 15);
    std::partial_sort(slow.begin(), slow.begin() + static_cast<std::ptrdiff_t>(most), slow.end(),
                      [](const auto& a, const auto& b) { return a.slowest > b.slowest; });
    text << "\n## Slowest outlines (processor time)\n\n" << std::setprecision(2);
    for (std::size_t k = 0; k < most; ++k)
        text << "- " << slow[k].slowest << " s: " << slow[k].name << ", " << slow[k].slowest_step
             << '\n';
    return text.str();
}

}  // namespace corpus
