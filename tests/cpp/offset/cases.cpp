#include "offset/cases.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <random>
#include <set>

#include "offset/random_outlines.hpp"
#include "planform/demo.hpp"
#include "planform/flatten.hpp"
#include "planform/model.hpp"
#include "planform/side_up.hpp"
#include "planform/write.hpp"
#include "random_count.hpp"

namespace cases {

using namespace planform;

namespace {

Case case_of(std::string name, ProfileSet set, std::uint32_t seed) {
    std::mt19937 random(seed);
    const double size = set.bounds().sizes().maxCoeff();
    const double share = std::uniform_real_distribution<double>(0.0, 1.0)(random);
    const double grown = 0.001 * std::exp(share * std::log(0.5 * size / 0.001));
    // What takes more than a tenth leaves nothing of most sets.
    return {std::move(name), std::move(set), grown, std::min(grown, 0.1 * size)};
}

std::vector<Case> plates_of_the_demo() {
    const std::filesystem::path path =
        std::filesystem::temp_directory_path() /
        ("planform-offset-" + std::to_string(std::random_device()()) + ".step");
    write_demo_assembly(path);
    const Model model = load(path);
    std::filesystem::remove(path);
    std::vector<Case> all;
    std::set<int> seen;
    for (const Solid& solid : model.solids()) {
        if (!seen.insert(solid.shape_index()).second) continue;
        all.push_back(case_of(solid.name(), silhouette({&solid, 1}, auto_datum(solid)),
                              static_cast<std::uint32_t>(seen.size())));
    }
    return all;
}

}  // namespace

Seeds seeds(int usual) {
    const char* asked = std::getenv("PLANFORM_SEEDS");
    Seeds range{1, random_count(usual, 500)};
    if (asked == nullptr) return range;
    const int read = std::sscanf(asked, "%d-%d", &range.first, &range.last);
    if (read == 1) range.last = range.first;
    return range;
}

Case random_case(int seed) {
    const int curves = seed % 50 == 0 ? 10000 : 4 + seed * seed * 7 % 190;
    char name[32];
    std::snprintf(name, sizeof name, "random-%04d", seed);
    Case made = case_of(name, random_outlines::set(static_cast<std::uint32_t>(seed), curves),
                        static_cast<std::uint32_t>(seed));
    if (const char* folder = std::getenv("PLANFORM_SETS_TO"))
        write_json(made.set, std::filesystem::path(folder) / (made.name + ".json"));
    return made;
}

std::vector<Case> outlines() {
    const char* folder = std::getenv("PLANFORM_OUTLINES");
    if (folder == nullptr) return plates_of_the_demo();
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(folder))
        if (entry.path().extension() == ".json") files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    std::vector<Case> all;
    for (const std::filesystem::path& file : files) {
        ProfileSet set = read_json(file);
        const auto seed =
            static_cast<std::uint32_t>(std::stoul(set.digest().substr(0, 8), nullptr, 16));
        all.push_back(case_of(file.stem().string(), std::move(set), seed));
    }
    return all;
}

}  // namespace cases
