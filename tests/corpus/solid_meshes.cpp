#include "solid_meshes.hpp"

#include <algorithm>
#include <cstdio>

namespace corpus {

using planform::Solid;

Mesh SolidMeshes::of(const std::vector<std::size_t>& numbers, double deflection) {
    auto [entry, is_new] = meshes_.try_emplace(deflection);
    if (is_new) entry->second = meshes_of(solids_, deflection);
    Mesh together;
    for (const std::size_t k : numbers) together.add(entry->second[k]);
    return together;
}

Limits limits_for(const std::vector<Solid>& solids, double tolerance) {
    planform::Box3 box;
    for (const Solid& solid : solids) box.extend(solid.bounds());
    constexpr double coarsest = 5e-5;  // of the extent: a sphere has some 40,000 triangles then
    return {std::max(3.0 * tolerance, coarsest * box.diagonal().norm())};
}

void add_ruling(const Ruling& ruling, const Verdict& verdict, const std::string& step,
                Outcome& outcome) {
    if (!ruling.outline_wrong.empty()) {
        const Disagreement& first = ruling.outline_wrong.front();
        char text[200];
        std::snprintf(
            text, sizeof text,
            "%zu places (%zu looked at, %zu wrong); at (%.4f, %.4f), %s, the outline has %s",
            verdict.disagreements.size(), std::min<std::size_t>(verdict.disagreements.size(), 12),
            ruling.outline_wrong.size(), first.at.x(), first.at.y(), first.found.c_str(),
            first.outline_has_material ? "material" : "none");
        outcome.problems.push_back({"disagreement", step, text});
    }
    const auto count = [&](const char* kind, int places) {
        if (places > 0)
            outcome.problems.push_back({kind, step, std::to_string(places) + " places"});
    };
    count("mesh fault", ruling.mesh_wrong);
    count("undecided", ruling.undecided);
}

}  // namespace corpus
