/// benchmark_unfold: unfolding against the silhouette of the same body, in one run. Prints
/// Markdown. Trays with flanges all round, perforated by more and more holes; a comb of many bends;
/// a hole through a bend; a tube. With names of models: each distinct body, unfolded or refused.

#define DOCTEST_CONFIG_IMPLEMENT
#include "planform/unfold.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "planform/flatten.hpp"
#include "ratios.hpp"
#include "stopwatch.hpp"
#include "unfold/sheets.hpp"

using namespace planform;

namespace {

constexpr double right_angle = 0.5 * pi;

sheets::BentSheet tray(int holes) {
    sheets::BentSheet sheet(1.5, 0.4, 200.0, 120.0);
    for (int edge = 0; edge < 4; ++edge)
        sheet.attach(0, edge, 4.0, (edge % 2 == 0 ? 120.0 : 200.0) - 4.0,
                     {right_angle, true, 2.0, 25.0});
    const int across = 16;
    for (int i = 0; i < holes; ++i)
        sheet.drill(0, {12.0 + 11.0 * (i % across), 12.0 + 11.0 * (i / across)}, 6.0);
    return sheet;
}

std::vector<sheets::Flange> comb(int bends) {
    std::vector<sheets::Flange> rest;
    for (int i = 0; i < bends; ++i)
        rest.push_back({right_angle, (i / 2) % 2 == 0, 1.5, i % 2 == 0 ? 20.0 : 12.0});
    return rest;
}

void measure(const std::string& name, const TopoDS_Shape& body, benchmark::Ratios& ratios) {
    const Solid solid = sheets::solid_of(body);
    const Blank blank = unfold(solid);
    const double flat =
        benchmark::fastest([&] { silhouette(std::span(&solid, 1), blank.outline.datum()); });
    const double unfolding = benchmark::fastest([&] { unfold(solid); });
    std::printf("| %s | %d | %zu | %.2f | %.2f | %.2f |\n", name.c_str(), solid.face_count(),
                blank.bends.size(), flat, unfolding, unfolding / flat);
    ratios.add(unfolding / flat);
}

/// Bodies of the same faces, size and volume count as one.
void list_bodies(const std::vector<std::string>& files) {
    std::set<std::tuple<int, long, long, long, long>> seen;
    std::map<std::string, int> counts;
    const auto rounded = [](double value) { return std::lround(1e3 * value); };
    std::printf(
        "| file | body | faces | ms | bends, or why not |\n| --- | ---: | ---: | ---: | --- |\n");
    for (const std::string& file : files) {
        const std::string name = std::filesystem::path(file).filename().string();
        try {
            const Model model = load(file);
            for (const Solid& solid : model.solids()) {
                const Vector3 size = solid.bounds().sizes();
                if (!seen.insert({solid.face_count(), rounded(size.x()), rounded(size.y()),
                                  rounded(size.z()), rounded(solid.volume())})
                         .second)
                    continue;
                const benchmark::Stopwatch watch;
                const Unfolding found = try_unfold(solid);
                const std::string word(found.blank ? "unfolded" : word_for(found.refusal.reason));
                ++counts[word];
                std::printf("| %s | %d | %d | %.0f | %s: %s |\n", name.c_str(),
                            solid.shape_index() + 1, solid.face_count(), watch.milliseconds(),
                            word.c_str(),
                            found.blank ? std::to_string(found.blank->bends.size()).c_str()
                                        : found.refusal.text.c_str());
            }
        } catch (const Error& error) {
            ++counts["not read"];
            std::printf("| %s | | | | not read: %s |\n", name.c_str(), error.what());
        }
    }
    for (const auto& [word, count] : counts) std::printf("%s: %d\n", word.c_str(), count);
}

}  // namespace

int main(int count, char** arguments) {
    if (count > 1) {
        list_bodies({arguments + 1, arguments + count});
        return 0;
    }
    doctest::Context context;
    context.setAsDefaultForAssertsOutOfTestCases();
    benchmark::Ratios ratios;
    std::printf("| body | faces | bends | silhouette, ms | unfold, ms | ratio |\n");
    std::printf("| --- | ---: | ---: | ---: | ---: | ---: |\n");
    measure("angle", sheets::strip(2.0, 50.0, 40.0, {{right_angle, true, 3.0, 30.0}}), ratios);
    for (const int bends : {4, 12, 40})
        measure("strip of " + std::to_string(bends) + " bends",
                sheets::strip(1.0, 60.0, 20.0, comb(bends)), ratios);
    for (const int holes : {0, 16, 128})
        measure("tray, " + std::to_string(holes) + " holes", tray(holes).body(), ratios);
    sheets::BentSheet drilled = tray(0);
    for (int wall = 1; wall <= 4; ++wall) drilled.drill_bend(wall, 50.0, 3.0);
    measure("tray, holes through bends", drilled.body(), ratios);
    sheets::BentSheet perforated = tray(0);
    for (int i = 0; i < 24; ++i) perforated.drill_bend(2, 6.0 + 7.8 * i, 3.0);
    measure("tray, 24 holes through one bend", perforated.body(), ratios);
    sheets::BentSheet slotted = tray(0), elliptic = tray(0);
    for (int wall = 1; wall <= 4; ++wall) {
        slotted.cut_bend(wall, 55.0, sheets::slot(60.0, 3.0));
        elliptic.cut_bend(wall, 55.0, sheets::ellipse(12.0, 3.2));
    }
    measure("tray, slots along bends", slotted.body(), ratios);
    measure("tray, ellipses through bends", elliptic.body(), ratios);
    sheets::BentSheet open_bends = tray(0);
    for (int wall = 1; wall <= 4; ++wall)
        for (const double along : {20.0, 50.0, 80.0}) open_bends.drill_bend(wall, along, 9.0);
    measure("tray, holes wider than its bends", open_bends.body(), ratios);
    measure("tube with a slot", sheets::strip(1.0, 80.0, 0.0, {{2.0 * pi - 0.1, true, 20.0, 0.0}}),
            ratios);
    ratios.print("the silhouette");
}
