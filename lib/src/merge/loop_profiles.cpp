#include "merge/loop_profiles.hpp"

#include <algorithm>
#include <cstddef>
#include <tuple>
#include <utility>

namespace planform::merge {
namespace {

Contour to_contour(arrange::Loop& loop, const std::function<Provenance(int)>& provenance_of) {
    std::vector<Provenance> provenance;
    provenance.reserve(loop.tags.size());
    for (const int tag : loop.tags) provenance.push_back(provenance_of(tag));
    return Contour(std::move(loop.curves), std::move(provenance), Validate::no);
}

/// What the order of profiles goes by.
std::tuple<double, double, double> place_of(const Contour& outer) {
    const Point2 corner = outer.bounds().min();
    return {corner.x(), corner.y(), -outer.area()};
}

}  // namespace

std::vector<Profile> profiles_of(std::vector<arrange::Loop> loops,
                                 const std::function<std::string(const arrange::Loop&)>& name_of,
                                 const std::function<Provenance(int)>& provenance_of) {
    struct Found {
        Contour outer;
        std::tuple<double, double, double> place;
        std::size_t loop;
    };
    std::vector<Found> found;
    std::vector<std::vector<Contour>> holes(loops.size());
    for (std::size_t i = 0; i < loops.size(); ++i) {
        if (loops[i].hole && loops[i].parent < 0) continue;
        Contour contour = to_contour(loops[i], provenance_of);
        if (loops[i].hole) {
            holes[static_cast<std::size_t>(loops[i].parent)].push_back(std::move(contour));
        } else {
            const auto place = place_of(contour);
            found.push_back({std::move(contour), place, i});
        }
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const Found& a, const Found& b) { return a.place < b.place; });
    std::vector<int> index(loops.size(), -1);
    for (std::size_t i = 0; i < found.size(); ++i) index[found[i].loop] = static_cast<int>(i);
    std::vector<Profile> profiles;
    profiles.reserve(found.size());
    for (Found& f : found) {
        const arrange::Loop& loop = loops[f.loop];
        const int parent = loop.parent < 0 ? -1 : index[static_cast<std::size_t>(loop.parent)];
        profiles.emplace_back(std::move(f.outer), std::move(holes[f.loop]), name_of(loop), parent,
                              Validate::no);
    }
    return profiles;
}

}  // namespace planform::merge
